"""The till: what whole packs cost when everything is bought for one cook with an empty larder."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.bought import Bought
from costing.domain.facts import QuoteFacts, charged


@dataclass(frozen=True)
class TillItem:
    """``packs`` packs of one food, what they cost, exact, and what is ``left`` of them, in ``base``.

    Of what is sold loose the packs are no whole number: as much is bought as is needed.
    """

    food: str
    packs: Fraction
    cost: Fraction
    quote: QuoteFacts
    left: Fraction = Fraction(0)
    base: str = ""


def till_items(bought: Sequence[Bought]) -> tuple[TillItem, ...]:
    """Return the whole packs to buy; what is bought of one food by one price shares its packs, whatever the yields.

    Parameters
    ----------
    bought : sequence of Bought
        What the sheet buys of each food.

    Returns
    -------
    tuple of TillItem
        In the order in which the foods are first needed. Packs that are sold only together are bought together: two of a six-pack
        cost six. What is sold loose is weighed out.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> pack = QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("1.20"), Fraction(500), "g", 1, stale=False)
    >>> items = till_items([Bought("lentils", pack, Fraction(amount), Fraction(500)) for amount in (300, 250)])
    >>> str(items[0].packs), float(items[0].cost), str(items[0].left)
    ('2', 2.4, '450')
    """
    together: dict[tuple[str, QuoteFacts, Fraction, str], Fraction] = {}
    for one in bought:
        if one.pack:
            key = (one.food, one.quote, one.pack, one.base)
            together[key] = together.get(key, Fraction(0)) + one.amount
    return tuple(_item(food, quote, pack, base, amount) for (food, quote, pack, base), amount in together.items())


def _item(food: str, quote: QuoteFacts, pack: Fraction, base: str, amount: Fraction) -> TillItem:
    needed = amount / pack
    sets = {"loose": needed / quote.packs, "pack": Fraction(math.ceil(needed / quote.packs))}
    packs = sets[quote.sold] * quote.packs if quote.sold in sets else Fraction(math.ceil(needed))
    return TillItem(food, packs, packs * charged(quote.price, quote.tax_pct) / quote.packs, quote, packs * pack - amount, base)
