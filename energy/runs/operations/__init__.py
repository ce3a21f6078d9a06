"""Writes: what a cook does with runs, each named as a cook would say it."""
