"""The price book as a table, and what of such a table is not here yet."""

from __future__ import annotations

from costing.models import Quote
from costing.queries.prices import item_words
from kitchen.domain.money import round_half_up

HEAD = ("food", "brand", "pack", "price", "currency", "shop", "day", "last day", "note")


def book_rows() -> list[list[str]]:
    """Return every price that counts, the oldest first, as a person would type it."""
    found = Quote.objects.filter(taken_back_at=None).select_related("item__food", "shop").order_by("day", "pk")
    return [_row(quote) for quote in found]


def _row(quote: Quote) -> list[str]:
    last_day = "" if quote.last_day is None else quote.last_day.isoformat()
    return [
        quote.item.food.name,
        quote.item.brand,
        item_words(quote.item),
        f"{round_half_up(quote.price, 4):f}",
        quote.currency,
        quote.shop.name,
        quote.day.isoformat(),
        last_day,
        quote.note,
    ]
