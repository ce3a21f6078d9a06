"""Tariffs: what a kilowatt-hour costs, and when."""
