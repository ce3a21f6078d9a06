"""Runs: measured cooks, from the first press to figures with their uncertainty."""
