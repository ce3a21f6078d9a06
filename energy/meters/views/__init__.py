"""Pages about meters' files and devices."""
