"""Electricity as one more line of the sheet: watt-hours from the wall at a price for the kilowatt-hour."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from energy.domain.tariffs import electricity_cost


@dataclass(frozen=True)
class KwhPrice:
    """A price for one kilowatt-hour and the words for where it comes from ("your own price", "tariff Club meadow")."""

    per_kwh: Decimal
    words: str


@dataclass(frozen=True)
class Electricity:
    """What the cooking takes from the wall, or the ``reason`` why it is not known or has no price.

    ``needed`` is False for a dish that is not cooked at all; ``no_price`` says why there is no price.
    """

    wall_wh: float | None = None
    price: KwhPrice | None = None
    estimated: bool = False
    reason: str = ""
    needed: bool = True
    no_price: str = ""

    @property
    def cost(self) -> Fraction | None:
        """The exact cost, or None where the energy or its price is missing."""
        if self.wall_wh is None or self.price is None:
            return None
        return electricity_cost(self.wall_wh, self.price.per_kwh)
