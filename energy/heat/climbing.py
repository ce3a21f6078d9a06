"""How long a pot takes to its temperature: with a loss to the air all the way, and steam near the boil. Without end: inf."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

LATENT_J_PER_KG = 2.257e6
"""Heat that a kilogram of steam carries off, taken as one figure (at 100 C and one atmosphere). [J/kg]"""

STEAMS_BELOW_BOIL_C = 14.0
"""So far below the boiling point a pot begins to steam to speak of (common practice). [K]"""

ICE_J_PER_G_K, MELTING_J_PER_G = 2.0, 334.0
"""Specific heat of ice and its heat of melting; handbook values from memory. [J/(g K), J/g]"""

_WATER_J_PER_G_K = 4.19


@dataclass(frozen=True, slots=True)
class Way:
    """What is heated, from where to where: heat capacity, temperatures, and the water that starts as ice. [J/K, C, C, C, C, g]

    ``boil_c`` is where water boils in the open at this height: steam is driven off from 14 K below it up to it, and in a sealed
    pot no more above it.
    """

    heat_j_per_k: float
    start_c: float
    ambient_c: float
    end_c: float
    boil_c: float
    ice_g: float = 0.0

    @property
    def lossless_j(self) -> float:
        """The heat that it takes without any loss. [J]"""
        return self.heat_j_per_k * max(self.end_c - self.start_c, 0.0) + self.ice_extra_j

    @property
    def ice_extra_j(self) -> float:
        """What ice takes besides: its melting, less what it takes less than water on its way to freezing point. [J]"""
        if self.start_c >= 0:
            return 0.0
        return self.ice_g * (MELTING_J_PER_G + (_WATER_J_PER_G_K - ICE_J_PER_G_K) * self.start_c)

    @property
    def steams(self) -> bool:
        """Whether it gets hot enough to steam."""
        return self.end_c >= self.boil_c - STEAMS_BELOW_BOIL_C


def climb_s(way: Way, net_w: float, loss_w_per_k: float, steam_kg_per_s: float = 0.0) -> float:
    """Return how long a pot climbs to its end.

    Parameters
    ----------
    way : Way
    net_w : float
        What the heater brings into the pot. [W]
    loss_w_per_k : float, >= 0
        What the pot loses for each degree above the air. [W/K]
    steam_kg_per_s : float, >= 0
        Steam that it drives off near the boil. [kg/s]

    Returns
    -------
    float
        Time; 0 where it is there already, infinite where it never gets there. [s]

    Notes
    -----
    t = C/UA ln((q - UA (T0 - Ta)) / (q - UA (T1 - Ta))), leg by leg: q is less by s L from 14 K below the boiling point up to
    it. Ice is warmed to 0 C, melts there against the loss of that moment, and goes on as water.

    Examples
    --------
    >>> litre = Way(4200, 20, 20, 100, 100)
    >>> round(climb_s(litre, 500, 0)), round(climb_s(litre, 500, 2)), climb_s(litre, 150, 2)
    (672, 810, inf)
    >>> round(climb_s(litre, 500, 0, 0.06e-3))
    716
    """
    if way.end_c <= way.start_c:
        return 0.0
    if way.start_c < 0 < way.ice_g:
        return _frozen_s(way, net_w, loss_w_per_k) + climb_s(replace(way, start_c=0.0), net_w, loss_w_per_k, steam_kg_per_s)
    start_c, steams_c, boils_c = way.start_c, way.boil_c - STEAMS_BELOW_BOIL_C, min(way.end_c, way.boil_c)
    heat, air_c = way.heat_j_per_k, way.ambient_c
    if steam_kg_per_s <= 0 or boils_c <= steams_c or start_c >= boils_c:
        return leg_s(heat, net_w, loss_w_per_k, start_c - air_c, way.end_c - air_c)
    steams_c = max(steams_c, start_c)
    left_w = net_w - steam_kg_per_s * LATENT_J_PER_KG
    return (
        leg_s(heat, net_w, loss_w_per_k, start_c - air_c, steams_c - air_c)
        + leg_s(heat, left_w, loss_w_per_k, steams_c - air_c, boils_c - air_c)
        + leg_s(heat, net_w, loss_w_per_k, boils_c - air_c, way.end_c - air_c)
    )


def leg_s(heat_j_per_k: float, net_w: float, loss_w_per_k: float, from_c: float, to_c: float) -> float:
    """Return how long one leg of a climb takes, between two temperatures above the air. [s]"""
    rise_c = to_c - from_c
    if rise_c <= 0:
        return 0.0
    first_w = net_w - loss_w_per_k * from_c
    if first_w <= 0:
        return math.inf
    eaten = loss_w_per_k * rise_c / first_w
    if eaten >= 1:
        return math.inf
    # The logarithm as a factor on the lossless time, which stays exact where the losses are next to nothing.
    slower = -math.log1p(-eaten) / eaten if abs(eaten) > 1e-12 else 1.0
    return heat_j_per_k * rise_c / first_w * slower


def _frozen_s(way: Way, net_w: float, loss_w_per_k: float) -> float:
    """Return how long it takes until all the ice has melted. [s]"""
    solid_j_per_k = way.heat_j_per_k - way.ice_g * (_WATER_J_PER_G_K - ICE_J_PER_G_K)
    melting_w = net_w + loss_w_per_k * way.ambient_c
    melting_s = way.ice_g * MELTING_J_PER_G / melting_w if melting_w > 0 else math.inf
    return leg_s(solid_j_per_k, net_w, loss_w_per_k, way.start_c - way.ambient_c, -way.ambient_c) + melting_s


def root(of: Callable[[float], float], low: float, high: float, *, nearly: float) -> float:
    """Return where a function crosses zero between two ends of opposite signs; the end nearer to zero where they do not differ.

    Notes
    -----
    The Illinois rule: the secant through both ends, with the value of an end that stays twice in a row halved.

    References
    ----------
    Dowell and Jarratt 1971, A modified regula falsi method for computing the root of an equation (from memory).

    Examples
    --------
    >>> round(root(lambda x: x * x - 2, 0, 2, nearly=1e-12), 9)
    1.414213562
    """
    f_low = of(low)
    if abs(f_low) <= nearly:
        return low
    f_high = of(high)
    if f_low * f_high >= 0:
        return low if abs(f_low) <= abs(f_high) else high
    kept = 0
    for _ in range(100):
        middle = (low * f_high - high * f_low) / (f_high - f_low)
        f_middle = of(middle)
        if abs(f_middle) <= nearly:
            return middle
        if f_middle * f_high > 0:
            high, f_high = middle, f_middle
            f_low, kept = (f_low / 2, -1) if kept == -1 else (f_low, -1)
        else:
            low, f_low = middle, f_middle
            f_high, kept = (f_high / 2, 1) if kept == 1 else (f_high, 1)
    return (low + high) / 2
