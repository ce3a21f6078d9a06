"""Making facts for the tests in a line each."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import CostFacts, CostLine, QuoteFacts
from costing.domain.lines import PriceBook
from costing.domain.quotes import Offer

DAY = date(2026, 10, 14)


def offer(price="2.00", pack=1000, unit="g", *, day=DAY, shop="Mill Lane", currency="EUR", packs=1, **kwargs):
    return Offer(shop, day, Decimal(price), Fraction(pack), unit, packs, currency, **kwargs)


def book(offers, *, yields=None, refuse=None, currency="EUR", **kwargs):
    return PriceBook(DAY, currency, offers, yields or {}, refuse or {}, **kwargs)


def quote(price="2.00", pack=1000, unit="g", packs=1, stale=False, **kwargs):
    return QuoteFacts("Mill Lane", DAY, Decimal(price), Fraction(pack), unit, packs, stale, **kwargs)


def line(words="lentils", cost="1", *, low=1, high=None, rule="proportional", bought=None, pack=1000, **kwargs):
    kwargs.setdefault("quote", quote(pack=pack))
    exact = None if cost is None else Fraction(cost)
    return CostLine(
        words,
        cost=exact,
        food=words,
        bought=None if bought is None else Fraction(bought),
        base="g",
        pack=Fraction(pack),
        rule=rule,
        low=Fraction(low),
        high=Fraction(low if high is None else high),
        **kwargs,
    )


def facts(*lines, servings=4, **kwargs):
    kwargs.setdefault("cooks", False)
    return CostFacts(servings, "EUR", DAY, "newest", tuple(lines), **kwargs)
