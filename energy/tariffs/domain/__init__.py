"""Bands, blocks, bills and the price of one more kilowatt-hour."""
