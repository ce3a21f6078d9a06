"""Quotes: prices seen in shops, which of them a sheet uses, and what one gram, millilitre or piece costs by it."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from costing.domain.conversion import based
from costing.domain.facts import PackPrice, charged

STALE_AFTER = timedelta(days=180)
ODD_TIMES = 10


def shop_key(name: str) -> str:
    """Return what two names of one shop have in common, whatever their spaces and capitals.

    Examples
    --------
    >>> shop_key(" Mill  Lane") == shop_key("mill lane") == shop_key("MillLane")
    True
    """
    return "".join(name.split()).casefold()


@dataclass(frozen=True)
class Offer(PackPrice):
    """A price seen or paid, its currency, until when it holds, and what is known of the thing on the shelf.

    ``sold`` is ``pack``, ``singly`` or ``loose``; ``state`` whole, trimmed, drained, dry, cooked or nothing; ``container`` the
    word for one pack; ``drained_g`` and ``pieces`` what one pack holds of that.
    """

    currency: str
    last_day: date | None = None
    brand: str = ""
    sold: str = "pack"
    state: str = ""
    container: str = ""
    drained_g: Fraction | None = None
    pieces: Fraction | None = None
    tax_pct: Decimal = Decimal(0)

    def __post_init__(self) -> None:
        if self.price < 0:
            raise ValueError("A price cannot be below zero.")
        if self.pack_amount <= 0 or self.packs < 1:
            raise ValueError("A pack must hold something.")

    def holds_on(self, day: date) -> bool:
        """Whether the price holds on a day: from the day it was seen until its last, if it has one."""
        return self.day <= day and (self.last_day is None or day <= self.last_day)


@dataclass(frozen=True)
class Given:
    """What one pack of a thing gives beside other things: ``amount`` ``unit`` of one food, ``share`` of the cost. [%]"""

    offer: Offer
    item_food: str
    amount: Fraction
    unit: str
    share: Decimal | None = None


@dataclass(frozen=True)
class QuoteRule:
    """How the quote is chosen: the ``newest``, the ``median`` of the ``last`` ones, one ``shop``'s newest, the ``cheapest``."""

    kind: str = "newest"
    last: int = 3
    shop: str = ""

    @property
    def detail(self) -> str:
        """The rule's own word for the facts: the number of quotes or the shop."""
        return {"median": str(self.last), "shop": self.shop}.get(self.kind, "")


def unit_price(offer: Offer) -> tuple[Fraction, str]:
    """Return what one base unit costs by an offer, and the base unit.

    Parameters
    ----------
    offer : Offer
        The price and what it buys.

    Returns
    -------
    (Fraction, str)
        The exact price of one base unit [offer's currency per g, mL, each or household word], and that unit.

    Raises
    ------
    ValueError
        If the pack's unit is not known.

    Notes
    -----
    price / (packs x amount in base units).

    Examples
    --------
    >>> unit_price(Offer("Mill Lane", date(2026, 10, 1), Decimal("3.49"), Fraction(500), "g", 2, "EUR"))
    (Fraction(349, 100000), 'g')
    """
    amount, base = based(offer.pack_amount, offer.pack_unit)
    return Fraction(offer.price) / (offer.packs * amount), base


def pack_price(offer: Offer) -> Fraction:
    """Return what one pack costs at the till: the price over the number of packs, with the tax that is added there.

    Examples
    --------
    >>> pack_price(Offer("Mill Lane", date(2026, 10, 1), Decimal("3.49"), Fraction(500), "g", 2, "EUR"))
    Fraction(349, 200)
    """
    return charged(offer.price, offer.tax_pct) / offer.packs


def is_stale(seen: date, day: date) -> bool:
    """Return whether a price seen on one day is too old to trust on another: more than 180 days.

    Examples
    --------
    >>> is_stale(date(2026, 4, 17), date(2026, 10, 14)), is_stale(date(2026, 4, 16), date(2026, 10, 14))
    (False, True)
    """
    return day - seen > STALE_AFTER


def is_odd(offer: Offer, before: Offer) -> bool:
    """Return whether a price is ten times the one before or more, or a tenth of it or less; what was free is not compared.

    Examples
    --------
    >>> seen = [Offer("A", date(2026, 9, 1), Decimal("3"), Fraction(amount), "g", 1, "EUR") for amount in (1000, 100, 101)]
    >>> is_odd(seen[0], seen[1]), is_odd(seen[1], seen[0]), is_odd(seen[2], seen[0])
    (True, True, False)
    """
    (now, base), (then, other) = unit_price(offer), unit_price(before)
    return base == other and bool(now and then) and not Fraction(1, ODD_TIMES) < now / then < ODD_TIMES


def choose(costs: Sequence[tuple[Offer, Fraction]], rule: QuoteRule) -> Offer | None:
    """Return the offer that a line uses, or None where none can be used.

    Parameters
    ----------
    costs : sequence of (Offer, Fraction)
        The offers that hold on the day and can be used for the line, each with what the line costs by it; the newest first, of
        two of one day the later entry first.
    rule : QuoteRule
        The newest; the median of the last ones (of an even number the lower middle one, so that it is a price somebody saw); the
        newest of one shop, else the newest anywhere; or the cheapest among each shop's newest.

    Examples
    --------
    >>> seen = [Offer("A", date(2026, 9, d), Decimal(p), Fraction(1), "kg", 1, "EUR") for d, p in ((15, "3"), (8, "9"), (1, "2"))]
    >>> costs = [(offer, Fraction(offer.price)) for offer in seen]
    >>> [str(choose(costs, rule).price) for rule in (QuoteRule(), QuoteRule("median"), QuoteRule("cheapest"))]
    ['3', '3', '3']
    """
    if not costs:
        return None
    if rule.kind == "shop":
        return next((offer for offer, _ in costs if offer.shop == rule.shop), costs[0][0])
    if rule.kind == "median":
        last = costs[: rule.last]
        middle = statistics.median_low(cost for _, cost in last)
        return next(offer for offer, cost in last if cost == middle)
    if rule.kind == "cheapest":
        newest = {(offer.shop, offer.brand): (offer, cost) for offer, cost in reversed(costs)}
        return min(newest.values(), key=lambda one: one[1])[0]
    return costs[0][0]


def in_currency(offers: Sequence[Offer], currency: str) -> list[Offer]:
    """Return the offers of one currency; two currencies never add."""
    return [offer for offer in offers if offer.currency == currency]
