"""How a battery gets its energy back: from a panel in the sun, from the wall, from a vehicle."""

from __future__ import annotations

from decimal import Decimal

from energy.gear.domain.ranges import not_negative, share
from kitchen.domain.money import UNIT_PRICE_PLACES, round_half_up

PANEL_DERATE = 0.75
"""What a solar panel gives of its rated power, all losses together, where nothing better is known."""


def panel_wh_per_hour(panel_w: float, derate: float = PANEL_DERATE) -> float:
    """Return the watt-hours that a solar panel puts back in an hour of full sun. [Wh/h]

    Examples
    --------
    >>> panel_wh_per_hour(200)
    150.0
    """
    not_negative(panel_w=panel_w)
    share("derate", derate)
    return panel_w * derate


def panel_wh_per_day(panel_w: float, sun_hours: float, derate: float = PANEL_DERATE) -> float:
    """Return the watt-hours that a solar panel puts back in a day of so many peak sun hours. [Wh/day]

    Examples
    --------
    >>> panel_wh_per_day(200, 4.5)
    675.0
    """
    not_negative(sun_hours=sun_hours)
    return panel_wh_per_hour(panel_w, derate) * sun_hours


def charging_wh_per_hour(charger_w: float, charge_efficiency: float) -> float:
    """Return the watt-hours that a charger at the wall or in a vehicle puts into the battery in an hour. [Wh/h]

    Examples
    --------
    >>> charging_wh_per_hour(100, 0.9)
    90.0
    """
    not_negative(charger_w=charger_w)
    share("charge_efficiency", charge_efficiency)
    return charger_w * charge_efficiency


def wear_per_kwh(price: Decimal, cycles: int, capacity_wh: float, reserve_pct: float = 0.0) -> Decimal:
    """Return what a kilowatt-hour out of a battery wears off its price: price / (cycles x usable energy).

    Parameters
    ----------
    price : Decimal, >= 0
        What the battery cost.
    cycles : int, >= 1
        How many full cycles its maker promises.
    capacity_wh : float, > 0
        What it holds. [Wh]
    reserve_pct : float
        What is never used. [%]

    Returns
    -------
    Decimal
        Price per kilowatt-hour, to five places.

    Examples
    --------
    >>> wear_per_kwh(Decimal(900), 3000, 1000, 10)
    Decimal('0.33333')
    """
    if price < 0 or cycles < 1 or capacity_wh <= 0 or not 0 <= reserve_pct < 100:
        raise ValueError("wear needs a price of zero or more, a cycle or more, and a capacity above its reserve")
    usable_kwh = Decimal(str(capacity_wh)) * (100 - Decimal(str(reserve_pct))) / 100_000
    return round_half_up(price / (cycles * usable_kwh), UNIT_PRICE_PLACES)
