"""Reads of loaded files and devices."""
