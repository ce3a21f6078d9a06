"""What another cook takes at one end of what is known, and the power below which it never gets there."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from energy.estimates.domain.three_ends import End, MeanCook
from energy.heat.climbing import LATENT_J_PER_KG, Way, climb_s

VENTING_KG_PER_S = 0.08e-3
"""What a venting pot may let out, asked where the question is whether it gets there at all. [kg/s]"""

GROWS = 0.1
"""The power of the amount with which a pot's loss may grow: little, since it is the same pot. [-]"""


@dataclass(frozen=True)
class OtherCook:
    """What is asked: another amount, day, height or power, of a cook that was measured.

    Attributes
    ----------
    food_j_per_k, vessel_j_per_k : float
        Heat capacities, the food's as if it were thawed. [J/K]
    start_c, ambient_c, end_c, boil_c : float
        As in ``MeanCook``; below 0 with ``frozen_g`` the food starts as ice. [C]
    least_wh : float
        The heat that the food itself must take. [Wh]
    power_share : float
        Its power as a share of the measured one's. [-]
    hold_longer : float
        By what the time that it is held is multiplied. [-]
    frozen_g, frozen_water : float
        The mass of the food that is frozen, and the share of water in it. [g, -]
    loss_power : float
        The power of the amount with which losses and holding grow. [-]
    """

    food_j_per_k: float
    vessel_j_per_k: float
    start_c: float
    ambient_c: float
    end_c: float
    boil_c: float
    least_wh: float
    power_share: float = 1.0
    hold_longer: float = 1.0
    frozen_g: float = 0.0
    frozen_water: float = 0.0
    loss_power: float = 0.0

    @cached_property
    def way(self) -> Way:
        """What is heated."""
        ice_g = self.frozen_g * min(max(self.frozen_water, 0.0), 1.0)
        heat_j_per_k = self.food_j_per_k + self.vessel_j_per_k
        return Way(heat_j_per_k, self.start_c, self.ambient_c, self.end_c, self.boil_c, ice_g)


@dataclass(frozen=True, slots=True)
class Foretold:
    """What another cook takes at one end: the climb and the holding. [Wh, s, Wh]"""

    heat_wh: float
    heat_s: float
    hold_wh: float

    @property
    def energy_wh(self) -> float:
        """Both together; infinite where it never gets there. [Wh]"""
        return self.heat_wh + self.hold_wh


def foretold(cooks: Sequence[MeanCook], other: OtherCook) -> tuple[Foretold, ...]:
    """Return what another cook takes, at each end of what the measured ones leave open; nothing where that is not known.

    Parameters
    ----------
    cooks : sequence of MeanCook
        The measured cook; or two, measured at different powers. ``other.power_share`` is a share of the first one's power.
    other : OtherCook

    Notes
    -----
    The climb is the closed form at each end. Holding stays as measured at the end with the least loss, else it follows the
    height above the air; it is never more than the power gives. Between two measured powers the two answers of each end are
    joined as E1^w E2^(1-w), w = ln(P/P2) / ln(P1/P2); beyond them the nearer one answers.

    Examples
    --------
    At half of the power that was measured:

    >>> open_pot = MeanCook(11700, 900, 15, 20, 100, 100, 372, 900, 110, 1800, 0.74, 0.92, held=True)
    >>> half = OtherCook(11700, 900, 15, 20, 100, 100, 276.3, power_share=0.5)
    >>> [round(one.energy_wh, 2) for one in foretold([open_pot], half)]
    [482.0, 518.8, 518.8]
    """
    if len(cooks) == 1:
        return _from(cooks[0], other, other.power_share)
    power_w, (high, low) = other.power_share * cooks[0].power_w, sorted(cooks, key=lambda cook: -cook.power_w)
    if not low.power_w < power_w < high.power_w:
        nearer = high if power_w >= high.power_w else low
        return _from(nearer, other, power_w / nearer.power_w) if nearer.power_w > 0 else ()
    weight = math.log(power_w / low.power_w) / math.log(high.power_w / low.power_w)
    pairs = zip(_from(high, other, power_w / high.power_w), _from(low, other, power_w / low.power_w), strict=False)
    return tuple(_joined(one, two, weight) for one, two in pairs)


def _from(cook: MeanCook, other: OtherCook, power_share: float) -> tuple[Foretold, ...]:
    return tuple(_at(end, cook, other, power_share * cook.power_w) for end in cook.ends)


def _at(end: End, cook: MeanCook, other: OtherCook, power_w: float) -> Foretold:
    grown = math.pow(other.food_j_per_k / cook.food_j_per_k, other.loss_power)
    taken_s = climb_s(other.way, end.reaches * power_w, end.loss_w_per_k * grown, end.steam_kg_per_s)
    warmer = 1.0 if end.holds_as_measured else warmer_by(cook, other)
    hold_wh = min(end.hold_wh * grown * max(warmer, 0.0), power_w * end.hold_s / 3600) * other.hold_longer
    return Foretold(power_w * taken_s / 3600, taken_s, hold_wh)


def _joined(one: Foretold, two: Foretold, weight: float) -> Foretold:
    def between(high: float, low: float) -> float:
        return math.pow(high, weight) * math.pow(low, 1 - weight) if high > 0 and low > 0 else weight * high + (1 - weight) * low

    return Foretold(between(one.heat_wh, two.heat_wh), between(one.heat_s, two.heat_s), between(one.hold_wh, two.hold_wh))


def warmer_by(cook: MeanCook, other: OtherCook) -> float:
    """Return how far above the air the other cook ends, over how far the measured one did. [-]"""
    return (other.end_c - other.ambient_c) / (cook.end_c - cook.ambient_c)


@dataclass(frozen=True, slots=True)
class Need:
    """The power that holds the other cook at its end: the least and the most that is left open. [W]"""

    least_w: float
    most_w: float


def need(cooks: Sequence[MeanCook], other: OtherCook) -> Need:
    """Return the power below which the other cook does not get there, from the measured cook of the lowest power.

    Notes
    -----
    max(UA (T_end - T_air), UA (T_boil - T_air) + s L) / eta at each end, at the one that steams also with what a venting pot
    lets out; where the temperature was truly held, never more than what holding took, for the other day and amount.

    Examples
    --------
    >>> pressed = MeanCook(9500, 1800, 12, 22, 115.6, 100, 410, 1476, 45, 1800, 0.80, 0.97, held=True, sealed=True)
    >>> asked = need([pressed], OtherCook(9500, 1800, 12, 0, 115.6, 100, 273.4))
    >>> round(asked.least_w, 1), round(asked.most_w, 1)
    (23.6, 322.4)
    """
    cook = min(cooks, key=lambda one: one.power_w)
    ends = cook.ends
    if cook.heating_w is not None:
        needs = [_need_w(end, cook, other, 0.0) for end in ends[1:]]
        return Need(min(needs, default=0.0), max(needs, default=0.0))
    needs = [_need_w(end, cook, other, end.steam_kg_per_s) for end in ends]
    venting = _need_w(ends[2], cook, other, VENTING_KG_PER_S)
    return Need(min(needs), max(*needs, venting))


def _need_w(end: End, cook: MeanCook, other: OtherCook, steam_kg_per_s: float) -> float:
    top_c = min(other.end_c, other.boil_c) - other.ambient_c
    steam_w = steam_kg_per_s * LATENT_J_PER_KG if other.way.steams else 0.0
    loss = end.loss_w_per_k
    asked_w = max(loss * (other.end_c - other.ambient_c), loss * top_c + steam_w) / end.reaches
    return min(asked_w, _most_need_w(end, cook, other)) if cook.bounded else asked_w


def _most_need_w(end: End, cook: MeanCook, other: OtherCook) -> float:
    """Return the power that holding took at most, for the other day and amount. [W]"""
    held_w = (cook.hold_wh * 3600 + cook.drift_j) / cook.hold_s
    larger = math.pow(other.food_j_per_k / cook.food_j_per_k, GROWS)
    venting_w = VENTING_KG_PER_S * LATENT_J_PER_KG / end.reaches if cook.sealed else 0.0
    return held_w * warmer_by(cook, other) * larger + venting_w
