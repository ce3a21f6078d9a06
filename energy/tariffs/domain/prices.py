"""What electricity costs: exact, and rounded by nobody here."""

from __future__ import annotations

import math
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.money import format_money, places_of

_MOST_PLACES = 5


def electricity_cost(energy_wh: float, price_per_kwh: Decimal | Fraction) -> Fraction:
    """Return what an energy costs at one price for a kilowatt-hour.

    Parameters
    ----------
    energy_wh : float, >= 0
        Energy at the wall. [Wh]
    price_per_kwh : Decimal or Fraction, >= 0
        The price of the next kilowatt-hour. [currency/kWh]

    Returns
    -------
    Fraction
        Exact; in the price's currency.

    Raises
    ------
    ValueError
        If an argument is negative or no number.

    Notes
    -----
    The energy is taken as the decimal number that it is written as, so that 213 Wh at 0.20 is 0.0426 and not a neighbour of it.
    A standing charge is not loaded on a meal.

    Examples
    --------
    >>> electricity_cost(213.0, Decimal("0.20")) == Fraction("0.0426")
    True
    """
    if not (math.isfinite(energy_wh) and energy_wh >= 0):
        raise ValueError("energy_wh should be a number, not below zero")
    if price_per_kwh < 0:
        raise ValueError("a price should not be below zero")
    return Fraction(repr(float(energy_wh))) * Fraction(price_per_kwh) / 1000


def format_price(price_per_kwh: Decimal | Fraction, currency: str) -> str:
    """Return the price of a kilowatt-hour with as many decimals as it has, at least the currency's own, at most five.

    Examples
    --------
    >>> format_price(Decimal("0.31000"), "EUR"), format_price(Decimal("0.2999"), "EUR"), format_price(Fraction(1, 3), "CHF")
    ('€0.31', '€0.2999', '0.33333 CHF')
    """
    exact = Fraction(price_per_kwh)
    fewest = places_of(currency)
    places = next((n for n in range(fewest, _MOST_PLACES) if exact * 10**n == int(exact * 10**n)), _MOST_PLACES)
    return format_money(exact, currency, places=places)
