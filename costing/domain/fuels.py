"""Fuels as things that are bought: what the gas or the charcoal would cost that brings the same food to the boil."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.electricity import Off
from costing.domain.facts import FuelPrice
from energy.estimates.domain.means import Spent


@dataclass(frozen=True)
class Burnt:
    """One way that burns something: how much of it, from low to high [g], and what the lower costs, and the higher more."""

    label: str
    low_g: float
    high_g: float
    price: FuelPrice
    cost: Fraction
    off: Off


def burnt(ways: Iterable[Spent], fuels: Sequence[FuelPrice]) -> tuple[Burnt, ...]:
    """Return the ways whose fuel has a price, with what they cost.

    Examples
    --------
    >>> burnt([], [])
    ()
    """
    prices = {one.key: one for one in fuels}
    return tuple(
        _burnt(way, way.low_g, way.high_g, prices[way.means.fuel.key])
        for way in ways
        if way.means.fuel is not None and way.low_g is not None and way.high_g is not None and way.means.fuel.key in prices
    )


def _burnt(way: Spent, low_g: float, high_g: float, price: FuelPrice) -> Burnt:
    least, most = (Fraction(str(grams)) * price.per_g for grams in (low_g, high_g))
    return Burnt(way.means.label, low_g, high_g, price, least, (Fraction(0), most - least))
