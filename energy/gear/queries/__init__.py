"""Reads of gear."""
