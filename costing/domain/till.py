"""The till: what whole packs cost when everything is bought for one cook with an empty larder."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.facts import QuoteFacts


@dataclass(frozen=True)
class Need:
    """A bought amount of one food and the pack it comes in, both in one base unit."""

    food: str
    bought: Fraction
    pack: Fraction
    quote: QuoteFacts


@dataclass(frozen=True)
class TillItem:
    """``packs`` whole packs of one food, and what they cost, exact."""

    food: str
    packs: int
    cost: Fraction
    quote: QuoteFacts


def till_items(needs: Sequence[Need]) -> list[TillItem]:
    """Return the whole packs to buy; lines of one food and one quote share their packs.

    Parameters
    ----------
    needs : sequence of Need
        One for each priced line.

    Returns
    -------
    list of TillItem
        In the order in which the foods are first needed. A pack costs the quote's price over its number of packs.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> pack = QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("1.20"), Fraction(500), "g", 1, stale=False)
    >>> items = till_items([Need("lentils", Fraction(bought), Fraction(500), pack) for bought in (300, 250)])
    >>> items[0].packs, float(items[0].cost)
    (2, 2.4)
    """
    together: dict[tuple[str, QuoteFacts, Fraction], Fraction] = {}
    for need in needs:
        key = (need.food, need.quote, need.pack)
        together[key] = together.get(key, Fraction(0)) + need.bought
    return [_item(food, quote, bought / pack) for (food, quote, pack), bought in together.items()]


def _item(food: str, quote: QuoteFacts, share: Fraction) -> TillItem:
    packs = math.ceil(share)
    return TillItem(food, packs, packs * Fraction(quote.price) / quote.packs, quote)
