"""How a log tells the time."""
