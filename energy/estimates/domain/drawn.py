"""What a meal draws from what feeds it: out of the battery, of a charge, from the wall; each with what is not known of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from energy.estimates.domain.proportion import Estimate
from energy.gear.domain.sources import draw_from_battery_wh, meals_per_charge, share_of_charge
from energy.gear.domain.supply import Supply


@dataclass(frozen=True)
class Between:
    """A figure, and between which two it lies in 95 of 100 cases."""

    value: float
    low: float
    high: float

    @property
    def half_width(self) -> float:
        """Half of what lies between the two."""
        return (self.high - self.low) / 2

    @property
    def least(self) -> Between:
        """The figure where no more is known of it than the least that it is."""
        return Between(self.low, self.low, self.high)

    def times(self, factor: float, relative: float = 0.0, *, plus: float = 0.0, less: float = 0.0) -> Between:
        """Return the figure times a factor, and something that is known added.

        ``relative`` is how unsure the factor is; ``less`` what the figure's own uncertainty has of it already, and loses again.
        """

        def wide(own: float) -> float:
            return factor * math.hypot(math.sqrt(max(own**2 - less**2, 0.0)), relative * self.value)

        value = self.value * factor + plus
        return Between(value, max(value - wide(self.value - self.low), plus), value + wide(self.high - self.value))


@dataclass(frozen=True)
class Meals:
    """The whole meals of one charge above its reserve: the fewest and the most that the uncertainty leaves open."""

    fewest: int
    most: int


@dataclass(frozen=True)
class Draw:
    """What a meal draws from a supply, and what that takes at the wall.

    Attributes
    ----------
    supply : Supply
        The source or the reader's kit, with the verdict whether it runs the cooker.
    battery_wh : Between or None
        Out of the battery; None without one. [Wh]
    share_pct : Between or None
        Of a full charge; None without a battery or an energy. [%]
    meals : Meals or None
        Whole meals of one charge; None where the share is.
    wall_wh : Between
        What charging takes at the wall, or the load itself on a hook-up or house mains. [Wh]
    """

    supply: Supply
    battery_wh: Between | None
    share_pct: Between | None
    meals: Meals | None
    wall_wh: Between


def at_the_socket(made: Estimate) -> Between:
    """Return the energy at the socket: measured with its uncertainty, estimated with the range of the next cook. [Wh]"""
    if made.standing == "measured":
        return Between(made.energy_wh, made.energy_wh - made.uncertainty_wh, made.energy_wh + made.uncertainty_wh)
    return Between(made.low_wh if made.at_least else made.energy_wh, made.low_wh, made.high_wh)


def draw_from(supply: Supply, made: Estimate) -> Draw:
    """Return what a meal draws from a supply.

    Notes
    -----
    Battery: load / inverter efficiency + idle draw over the whole time; wall: that over the charging efficiency. Share: battery
    / capacity; where cooks of this battery showed what one per cent of its charge gives at the socket, the load (and the idle
    draw as the socket would see it) over that, so that neither the inverter nor the label's capacity counts. What was measured
    behind the inverter, or on the charge display, brought their uncertainty to the socket: on the way back it is taken off.
    """
    measured = made.standing == "measured"
    load = at_the_socket(made)
    if supply.capacity_wh is None:
        return Draw(supply, None, None, None, wall_wh=load)
    battery = _out_of_battery(supply, load, made.total_s, measured=measured)
    share = _of_charge(supply, load, battery, made.total_s, measured=measured) if battery.value else None
    if made.at_least:
        battery, share = battery.least, share and share.least
    meals = None if share is None else _meals(share, supply.reserve_pct, at_least=made.at_least)
    return Draw(supply, battery, share, meals, wall_wh=battery.times(1 / supply.charge_efficiency))


def _out_of_battery(supply: Supply, load: Between, span_s: float, *, measured: bool) -> Between:
    unsure = supply.inverter_unsure
    idle_wh = draw_from_battery_wh(0, span_s, inverter_efficiency=supply.inverter_efficiency, idle_w=supply.idle_w)
    if not supply.came_through_inverter:
        return load.times(1 / supply.inverter_efficiency, unsure, plus=idle_wh)
    return load.times(1 / supply.inverter_efficiency, plus=idle_wh, less=load.value * unsure if measured else 0.0)


def _of_charge(supply: Supply, load: Between, battery: Between, span_s: float, *, measured: bool) -> Between:
    """Return the share of a full charge. [%]"""
    unsure = supply.charge_unsure
    seen = supply.metered == "charge"
    less = unsure if seen and measured else 0.0
    if supply.wh_per_pct:
        idle_pct = supply.inverter_efficiency * supply.idle_w * span_s / 3600 / supply.wh_per_pct
        return load.times(1 / supply.wh_per_pct, 0.0 if seen else unsure, plus=idle_pct, less=load.value * less)
    one_wh_pct = share_of_charge(1, supply.capacity_wh or 0.0)
    return battery.times(one_wh_pct, 0.0 if seen else unsure, less=battery.value * less)


def _meals(share_pct: Between, reserve_pct: float, *, at_least: bool) -> Meals:
    """Return the fewest and the most whole meals of one charge; of a meal that takes at least so much nobody knows the fewest."""

    def meals(of_charge_pct: float) -> int:
        return meals_per_charge(of_charge_pct, 100, reserve_pct)

    if at_least:
        return Meals(0, meals(share_pct.value))
    return Meals(meals(share_pct.high), meals(max(share_pct.low, share_pct.value / 2)))
