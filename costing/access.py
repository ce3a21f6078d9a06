"""Fetch and check in one call. Prices, shops and yields belong to the kitchen: every signed-in cook may change them."""

from __future__ import annotations

from django.shortcuts import get_object_or_404

from costing.models import Item, Quote, Receipt, ReceiptPhoto, Shop, Yield
from kitchen.access import food_for_bench, recipe_for_bench

__all__ = ["food_for_bench", "item", "quote", "receipt", "receipt_photo", "recipe_for_bench", "shop", "yield_test"]


def quote(number: int) -> Quote:
    """Return a quote with its food and shop, or 404."""
    return get_object_or_404(Quote.objects.select_related("item__food", "shop"), pk=number)


def item(number: int) -> Item:
    """Return a thing on the shelf with its food, or 404."""
    return get_object_or_404(Item.objects.select_related("food"), pk=number)


def receipt(number: int) -> Receipt:
    """Return a receipt with its shop, or 404."""
    return get_object_or_404(Receipt.objects.select_related("shop"), pk=number)


def receipt_photo(number: int) -> ReceiptPhoto:
    """Return the picture of a receipt, or 404."""
    return get_object_or_404(ReceiptPhoto, receipt=receipt(number))


def shop(number: int) -> Shop:
    """Return a shop, or 404."""
    return get_object_or_404(Shop, pk=number)


def yield_test(number: int) -> Yield:
    """Return a yield with its food, or 404."""
    return get_object_or_404(Yield.objects.select_related("food"), pk=number)
