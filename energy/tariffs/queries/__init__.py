"""Reads of tariffs."""
