"""The till: what whole packs cost when everything is bought for one cook with an empty larder."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.bought import Bought
from costing.domain.facts import QuoteFacts


@dataclass(frozen=True)
class TillItem:
    """``packs`` whole packs of one food, and what they cost, exact."""

    food: str
    packs: int
    cost: Fraction
    quote: QuoteFacts


def till_items(bought: Sequence[Bought]) -> tuple[TillItem, ...]:
    """Return the whole packs to buy; what is bought of one food by one price shares its packs, whatever the yields.

    Parameters
    ----------
    bought : sequence of Bought
        What the sheet buys of each food.

    Returns
    -------
    tuple of TillItem
        In the order in which the foods are first needed. A pack costs the quote's price over its number of packs.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> pack = QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("1.20"), Fraction(500), "g", 1, stale=False)
    >>> items = till_items([Bought("lentils", pack, Fraction(amount), Fraction(500)) for amount in (300, 250)])
    >>> items[0].packs, float(items[0].cost)
    (2, 2.4)
    """
    together: dict[tuple[str, QuoteFacts, Fraction], Fraction] = {}
    for one in bought:
        if one.pack:
            key = (one.food, one.quote, one.pack)
            together[key] = together.get(key, Fraction(0)) + one.amount
    return tuple(_item(food, quote, amount / pack) for (food, quote, pack), amount in together.items())


def _item(food: str, quote: QuoteFacts, share: Fraction) -> TillItem:
    packs = math.ceil(share)
    return TillItem(food, packs, packs * Fraction(quote.price) / quote.packs, quote)
