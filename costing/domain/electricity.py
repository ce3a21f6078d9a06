"""Electricity as one more line of the sheet: watt-hours from the wall at a price for the kilowatt-hour."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import MadeCost
from energy.tariffs.domain.prices import electricity_cost
from kitchen.domain.remark import Remark, Said, remark

NO_KWH_PRICE = remark("no_kwh_price")

Off = tuple[Fraction, Fraction]
"""By what an exact sum may be less, and more. [currency]"""

NOTHING_OFF: Off = (Fraction(0), Fraction(0))


@dataclass(frozen=True)
class KwhPrice:
    """A price for one kilowatt-hour and where it comes from: the reader, or a tariff."""

    per_kwh: Decimal
    source: Remark


@dataclass(frozen=True)
class Electricity:
    """What the cooking takes from the wall, None where no cook was measured, and its price, or ``no_price``: why there is none.

    ``needed`` is False for a dish that is not cooked at all; ``at_least``: it may take more, nobody knows how much. ``off_wh``
    says by what it may be less, and more; ``made_wh`` how much of it went into what was made before.
    """

    wall_wh: float | None = None
    price: KwhPrice | None = None
    estimated: bool = False
    needed: bool = True
    no_price: Said = NO_KWH_PRICE
    at_least: bool = False
    off_wh: tuple[float, float] = (0.0, 0.0)
    made_wh: float = 0.0

    def with_made(self, made: Iterable[tuple[MadeCost, Fraction]]) -> Electricity:
        """Return what it takes with what was made before for it, each so many times what its line takes.

        Of what was never measured nothing is added, and it may be more.

        Examples
        --------
        >>> stock = MadeCost("stock", "Stock", 1, 4, Fraction(1, 4), wall_wh=80.0, cooks=True)
        >>> told = Electricity(300.0).with_made([(stock, Fraction(2))])
        >>> told.wall_wh, told.made_wh
        (460.0, 160.0)
        """
        before = [(one, float(times)) for one, times in made if one.cooks and not one.now]
        if not before or (self.wall_wh is None and self.needed):
            return self
        known = [(one, times) for one, times in before if one.wall_wh is not None]
        made_wh = sum((one.wall_wh or 0.0) * times for one, times in known)
        less, more = (self.off_wh[end] + sum(one.wall_off_wh[end] * times for one, times in known) for end in (0, 1))
        return replace(
            self,
            wall_wh=(self.wall_wh or 0.0) + made_wh,
            made_wh=made_wh,
            needed=True,
            at_least=self.at_least or len(known) < len(before) or any(one.wall_at_least for one, _ in known),
            off_wh=(less, more),
        )

    @property
    def off(self) -> Off:
        """By what the exact cost may be less, and more; nothing where there is none. [currency]"""
        return self.off_of(self.off_wh)

    def off_of(self, off_wh: tuple[float, float]) -> Off:
        """Return what the two ways that an energy may be off come to at this price. [currency]"""
        less, more = (self.cost_of(wh) or Fraction(0) for wh in off_wh)
        return less, more

    @property
    def cost(self) -> Fraction | None:
        """The exact cost, or None where the energy or its price is missing."""
        return self.cost_of(self.wall_wh)

    def cost_of(self, wall_wh: float | None) -> Fraction | None:
        """Return what some energy costs at this price, or None where either is missing. [currency]"""
        return None if wall_wh is None or self.price is None else electricity_cost(wall_wh, self.price.per_kwh)

    def why_no_cost_of(self, wall_wh: float | None) -> Said:
        """Return why some energy has no cost."""
        return remark("not_measured") if wall_wh is None else self.no_price


UNCOOKED = Electricity(needed=False)
"""That of a dish without a cook, and of its ingredients alone."""
