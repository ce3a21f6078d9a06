"""Metering: a run's figures from its readings, and what follows from presses."""
