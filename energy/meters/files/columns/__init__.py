"""What a column of a log holds: its names, parts, units and cells."""
