"""Electricity as one more line of the sheet: watt-hours from the wall at a price for the kilowatt-hour."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction


@dataclass(frozen=True)
class KwhPrice:
    """A price for one kilowatt-hour and the words for where it comes from ("your own price", "tariff Club meadow")."""

    per_kwh: Decimal
    words: str


@dataclass(frozen=True)
class Electricity:
    """What the cooking takes from the wall, or the ``reason`` why it is not known or has no price.

    ``needed`` is False for a dish that is not cooked at all.
    """

    wall_wh: float | None = None
    price: KwhPrice | None = None
    estimated: bool = False
    reason: str = ""
    needed: bool = True

    @property
    def cost(self) -> Fraction | None:
        """The exact cost, or None where the energy or its price is missing."""
        if self.wall_wh is None or self.price is None:
            return None
        return energy_cost(self.wall_wh, self.price.per_kwh)


def energy_cost(wall_wh: float, price_per_kwh: Decimal) -> Fraction:
    """Return what an energy from the wall costs.

    Parameters
    ----------
    wall_wh : float, >= 0
        Energy taken from the wall, charging losses included. [Wh]
    price_per_kwh : Decimal, >= 0
        The price of one kilowatt-hour. [currency/kWh]

    Returns
    -------
    Fraction
        The exact product; the energy is taken at its printed decimal value. [currency]

    Raises
    ------
    ValueError
        If either is negative.

    Examples
    --------
    >>> float(energy_cost(213.0, Decimal("0.20")))
    0.0426
    """
    if wall_wh < 0 or price_per_kwh < 0:
        raise ValueError("Neither the energy nor its price can be below zero.")
    return Fraction(str(wall_wh)) / 1000 * Fraction(price_per_kwh)
