"""What one more kilowatt-hour costs: of a run by the clock, of charging overnight, and when it would be cheapest today."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from energy.tariffs.domain.bill import Block
from energy.tariffs.domain.hours import Hours

STEP = timedelta(minutes=15)
"""Starts that are compared lie this far apart."""


@dataclass(frozen=True)
class PriceList:
    """A tariff at the margin: one flat price, or bands by the clock, or blocks by a month's use; with what is added to each kWh.

    ``usual_kwh`` is what the house uses in a month anyway: the next kilowatt-hour falls into the block above it.
    """

    flat: Decimal | None = None
    hours: Hours | None = None
    blocks: tuple[Block, ...] = ()
    usual_kwh: Decimal = Decimal(0)
    adder_per_kwh: Decimal = Decimal(0)
    tax_pct: Decimal = Decimal(0)

    def at(self, instant: datetime) -> Fraction:
        """Return the price of the next kilowatt-hour, adder and tax in it. [currency/kWh]"""
        if self.hours is not None:
            price = self.hours.at(instant).price_per_kwh
        else:
            price = self.flat if self.flat is not None else marginal_block(self.blocks, self.usual_kwh)
        return Fraction(price + self.adder_per_kwh) * (1 + Fraction(self.tax_pct) / 100)


@dataclass(frozen=True)
class Drawn:
    """Energy drawn evenly over a stretch. [s, Wh]"""

    span_s: float
    energy_wh: float


@dataclass(frozen=True)
class BandCost:
    """What a band takes of a run: its name, its energy and its cost. [Wh]"""

    name: str
    energy_wh: Fraction
    cost: Fraction


def marginal_block(blocks: Sequence[Block], usual_kwh: Decimal) -> Decimal:
    """Return the price of the next kilowatt-hour: that of the block it falls into; across a limit, of each its part.

    Raises
    ------
    LookupError
        If no block reaches so far.

    Examples
    --------
    >>> tiers = [Block(Decimal("0.09"), Decimal(800)), Block(Decimal("0.10"))]
    >>> marginal_block(tiers, Decimal(799)), marginal_block(tiers, Decimal("799.75")), marginal_block(tiers, Decimal(800))
    (Decimal('0.09'), Decimal('0.0975'), Decimal('0.10'))
    """
    price, priced_kwh, end_kwh = Decimal(0), usual_kwh, usual_kwh + 1
    for block in blocks:
        until_kwh = end_kwh if block.up_to_kwh is None else min(block.up_to_kwh, end_kwh)
        if until_kwh > priced_kwh:
            price += (until_kwh - priced_kwh) * block.price_per_kwh
            priced_kwh = until_kwh
        if priced_kwh == end_kwh:
            return price
    raise LookupError(f"no block has a price for what is above {priced_kwh:f} kWh a month")


def cost_by_band(prices: PriceList, start: datetime, drawn: Sequence[Drawn]) -> list[BandCost]:
    """Return what a run costs, split over the bands that it crosses by the clock; one entry where the price never changes.

    Parameters
    ----------
    prices : PriceList
        The tariff at the margin.
    start : datetime, with a zone
        When the first stretch begins.
    drawn : sequence of Drawn
        The run's stretches, one after the other; the energy of each is spread evenly over it.

    Returns
    -------
    list of BandCost
        In the order in which the bands begin. Sums are exact: energies add up to what was drawn.
    """
    found: dict[str, tuple[Fraction, Fraction]] = {}
    here = start
    for stretch in drawn:
        energy = Fraction(repr(float(stretch.energy_wh)))
        there = here + timedelta(seconds=stretch.span_s)
        for name, price, share in _shares(prices, here, there):
            held_wh, cost = found.get(name, (Fraction(0), Fraction(0)))
            found[name] = (held_wh + share * energy, cost + share * energy * price / 1000)
        here = there
    return [BandCost(name, energy_wh, cost) for name, (energy_wh, cost) in found.items()]


def _shares(prices: PriceList, start: datetime, end: datetime) -> list[tuple[str, Fraction, Fraction]]:
    """Return name, price and share of the time of each band in a stretch; an instant is all in its own band."""
    whole = (end - start) // timedelta(microseconds=1)
    if prices.hours is None or whole == 0:
        name = prices.hours.at(start).name if prices.hours is not None else ""
        return [(name, prices.at(start), Fraction(1))]
    return [
        (band.name, prices.at(since), Fraction((until - since) // timedelta(microseconds=1), whole))
        for since, until, band in prices.hours.pieces(start, end)
    ]


def cost_of(prices: PriceList, start: datetime, drawn: Sequence[Drawn]) -> Fraction:
    """Return what a run costs at the margin, exactly. [currency]"""
    return sum((part.cost for part in cost_by_band(prices, start, drawn)), Fraction(0))


@dataclass(frozen=True)
class Cheapest:
    """The cheapest start of a day, what it costs then, and what it costs when started now."""

    start: datetime
    cost: Fraction
    cost_now: Fraction


def cheapest_start(prices: PriceList, now: datetime, until: datetime, drawn: Sequence[Drawn]) -> Cheapest:
    """Return the earliest start, from now on in steps of a quarter of an hour, at which a run costs least.

    Parameters
    ----------
    prices : PriceList
    now, until : datetime, with a zone
        The first and the last start that are looked at.
    drawn : sequence of Drawn
        The run's stretches.

    Returns
    -------
    Cheapest
        ``start`` is ``now`` where nothing later is cheaper.
    """
    best = now
    least = cost_now = cost_of(prices, now, drawn)
    start = _next_quarter(now)
    while start <= until:
        cost = cost_of(prices, start, drawn)
        if cost < least:
            best, least = start, cost
        start += STEP
    return Cheapest(best, least, cost_now)


def _next_quarter(now: datetime) -> datetime:
    whole = now.replace(second=0, microsecond=0)
    return whole + timedelta(minutes=15 - whole.minute % 15)
