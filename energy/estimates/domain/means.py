"""The same dish by other means: what would reach the pot, and what would be spent for it, as a range with its source."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from energy.heat.balance_facts import HeatModel

HOME_WH_A_DAY = 2_700_000 / 365
"""What a typical British home uses in a day: the regulator's typical value of 2,700 kWh a year (2023; from memory). [Wh]"""

FUEL_CAUTION_SOURCE = "carbon-monoxide safety campaigns"


@dataclass(frozen=True)
class Fuel:
    """A fuel and the heat of a kilogram of it, with the basis of that figure. [MJ/kg]"""

    key: str
    label: str
    mj_per_kg: float
    basis: str


@dataclass(frozen=True)
class Means:
    """A way to heat: the share that reaches food and pot, from ``low`` to ``high``, and where that is from."""

    key: str
    label: str
    low: float
    high: float
    source: str
    water_only: bool = False
    fuel: Fuel | None = None


@dataclass(frozen=True)
class Spent:
    """What one way would spend for a heat: watt-hours, and grams where it burns something. [Wh, g]"""

    means: Means
    low_wh: float
    high_wh: float
    low_g: float | None = None
    high_g: float | None = None


def fuel_g(heat_wh: float, mj_per_kg: float, efficiency: float) -> float:
    """Return the fuel that brings a heat into a pot. [g]

    Parameters
    ----------
    heat_wh : float, >= 0
        What food and pot take. [Wh]
    mj_per_kg : float, > 0
        Heat of a kilogram of fuel, on the basis that the efficiency is meant for. [MJ/kg]
    efficiency : float, 0 < x <= 1
        The share that reaches the pot. [-]

    Examples
    --------
    One litre from 20 degrees to the boil takes 93 Wh: on propane at 40 %

    >>> round(fuel_g(93, 46.35, 0.40), 1)
    18.1
    """
    if heat_wh < 0 or mj_per_kg <= 0 or not 0 < efficiency <= 1:
        raise ValueError("a heat of zero or more, a heating value above zero and an efficiency up to 1 are needed")
    return heat_wh * 3.6 / (mj_per_kg * efficiency)


def by_other_means(model: HeatModel | None, ways: Sequence[Means], *, k: float, measured: str) -> tuple[Spent, ...]:
    """Return what other means would spend to bring k times the food, in its pot, to its end; empty without a heat balance.

    Parameters
    ----------
    model : HeatModel or None
        The calibrated balance of the measured cook.
    ways : sequence of Means
        The other means.
    k : float, > 0
        Times the measured food. [-]
    measured : str
        The key of the way that was measured, empty where it is none of these.

    Notes
    -----
    Heat / efficiency, at the low and at the high end of the published band. The way that was measured is left out,
    and one that holds water only.
    """
    if model is None or not model.usable:
        return ()
    heat_wh = k * model.food_wh + model.vessel_wh
    others = (means for means in ways if not means.water_only and means.key != measured)
    return tuple(_spent(means, heat_wh) for means in others)


def _spent(means: Means, heat_wh: float) -> Spent:
    low_wh, high_wh = heat_wh / means.high, heat_wh / means.low
    if means.fuel is None:
        return Spent(means, low_wh, high_wh)
    grams = (fuel_g(heat_wh, means.fuel.mj_per_kg, share) for share in (means.high, means.low))
    return Spent(means, low_wh, high_wh, *grams)


def share_of_a_day(energy_wh: float) -> float:
    """Return an energy as a share of what a typical home uses in a day. [%]

    Examples
    --------
    >>> round(share_of_a_day(236), 1)
    3.2
    """
    return 100 * energy_wh / HOME_WH_A_DAY
