"""Gear: appliances, power sources and meters, as a cook enters them."""
