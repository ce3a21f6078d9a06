"""Writes: files taken in and taken out again, devices and what they send."""
