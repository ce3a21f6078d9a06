"""Writes: what a cook does in the kitchen, each named as a cook would say it."""

from kitchen.operations.publishing import CannotPublish, NothingChanged, publish_recipe, withdraw_recipe

__all__ = ["CannotPublish", "NothingChanged", "publish_recipe", "withdraw_recipe"]
