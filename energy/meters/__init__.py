"""Meters: the files they write and the devices that send."""
