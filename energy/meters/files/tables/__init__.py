"""How a log is laid out: decoding, rows, headings, guessing which column is what."""
