"""Quotes: prices seen in shops, which of them a sheet uses, and what one gram, millilitre or piece costs by it."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

from costing.domain.conversion import based
from costing.domain.facts import PackPrice

STALE_AFTER = timedelta(days=180)


@dataclass(frozen=True)
class Offer(PackPrice):
    """A price seen or paid, and its currency."""

    currency: str

    def __post_init__(self) -> None:
        if self.price < 0:
            raise ValueError("A price cannot be below zero.")
        if self.pack_amount <= 0 or self.packs < 1:
            raise ValueError("A pack must hold something.")


@dataclass(frozen=True)
class QuoteRule:
    """How the quote is chosen: the ``newest``, the ``median`` of the ``last`` ones, or the newest of one ``shop``."""

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
    >>> from decimal import Decimal
    >>> unit_price(Offer("Mill Lane", date(2026, 10, 1), Decimal("3.49"), Fraction(500), "g", 2, "EUR"))
    (Fraction(349, 100000), 'g')
    """
    amount, base = based(offer.pack_amount, offer.pack_unit)
    return Fraction(offer.price) / (offer.packs * amount), base


def pack_price(offer: Offer) -> Fraction:
    """Return what one pack costs: the price over the number of packs.

    Examples
    --------
    >>> from decimal import Decimal
    >>> pack_price(Offer("Mill Lane", date(2026, 10, 1), Decimal("3.49"), Fraction(500), "g", 2, "EUR"))
    Fraction(349, 200)
    """
    return Fraction(offer.price) / offer.packs


def is_stale(seen: date, day: date) -> bool:
    """Return whether a price seen on one day is too old to trust on another: more than 180 days.

    Examples
    --------
    >>> is_stale(date(2026, 4, 17), date(2026, 10, 14)), is_stale(date(2026, 4, 16), date(2026, 10, 14))
    (False, True)
    """
    return day - seen > STALE_AFTER


def choose(offers: Sequence[Offer], rule: QuoteRule, day: date) -> Offer | None:
    """Return the offer that a sheet of a day uses, or None when nothing was seen by then.

    Parameters
    ----------
    offers : sequence of Offer
        What was seen; of two on one day, the earlier in the sequence counts as the newer.
    rule : QuoteRule
        The newest; the median of the last ones (of the newest one's unit and currency; of an even number the lower middle
        one, so that it is a price somebody saw); or the newest of one shop, else the newest anywhere.
    day : date
        Later offers are left out.

    Examples
    --------
    >>> from decimal import Decimal
    >>> seen = [Offer("A", date(2026, 9, d), Decimal(p), Fraction(1), "kg", 1, "EUR") for d, p in ((1, "2"), (8, "9"), (15, "3"))]
    >>> [str(choose(seen, rule, date(2026, 10, 1)).price) for rule in (QuoteRule(), QuoteRule("median"))]
    ['3', '3']
    >>> choose(seen, QuoteRule(), date(2026, 8, 1)) is None
    True
    """
    seen = sorted((offer for offer in offers if offer.day <= day), key=lambda offer: offer.day, reverse=True)
    if not seen:
        return None
    if rule.kind == "shop":
        return next((offer for offer in seen if offer.shop == rule.shop), seen[0])
    return _median(seen, rule.last) if rule.kind == "median" else seen[0]


def in_currency(offers: Sequence[Offer], currency: str) -> list[Offer]:
    """Return the offers of one currency; two currencies never add."""
    return [offer for offer in offers if offer.currency == currency]


def _median(seen: Sequence[Offer], last: int) -> Offer:
    base = unit_price(seen[0])[1]
    alike = [offer for offer in seen if offer.currency == seen[0].currency and unit_price(offer)[1] == base][:last]
    middle = statistics.median_low(unit_price(offer)[0] for offer in alike)
    return next(offer for offer in alike if unit_price(offer)[0] == middle)
