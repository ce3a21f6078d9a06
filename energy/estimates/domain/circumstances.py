"""The circumstances of another cook: how cold, how high, how much, in how many potfuls."""

from __future__ import annotations

from dataclasses import dataclass

from energy.heat.balance_facts import HeatModel
from energy.heat.climbing import ICE_J_PER_G_K, MELTING_J_PER_G
from energy.heat.water import boiling_point_c

PRESSURE_TIME_FROM_M = 610.0
PRESSURE_TIME_STEP_M = 305.0
PRESSURE_TIME_STEP = 0.05
"""Minutes under pressure: 5 % more for each 305 m (1000 ft) above 610 m (2000 ft); manuals' tables as one straight line."""


HIGH_M = 914.0
"""From here on food in an open pot takes longer (3,000 ft; advice of FSIS and foodsafety.gov)."""

_NEAR_M = 305.0


@dataclass(frozen=True)
class Circumstances:
    """What differs from the measured cook; None where nothing is said: then it is as it was measured. [C, C, m]"""

    food_start_c: float | None = None
    ambient_c: float | None = None
    altitude_m: float | None = None

    @property
    def said(self) -> bool:
        """Whether anything differs."""
        return not (self.food_start_c is None and self.ambient_c is None and self.altitude_m is None)


@dataclass(frozen=True)
class Conditions:
    """The temperatures of one cook, all known. [C]"""

    food_start_c: float
    vessel_start_c: float
    ambient_c: float
    end_c: float
    altitude_m: float


def conditions(model: HeatModel, other: Circumstances) -> Conditions:
    """Return the temperatures of another cook of what the model knows.

    Notes
    -----
    Colder air also means a colder vessel. Food whose start was taken from the air follows the air; food whose start was noted
    does not. The end moves with the boiling point at the altitude, under the same gauge pressure, unless the method names a
    temperature that lies below it.

    Examples
    --------
    >>> model = HeatModel(food_start_c=20, vessel_start_c=20, ambient_c=20, end_c=99.97)
    >>> high = conditions(model, Circumstances(ambient_c=0, altitude_m=2000))
    >>> high.food_start_c, high.vessel_start_c, round(high.end_c, 1)
    (0, 0, 93.3)
    """
    ambient_c = model.ambient_c if other.ambient_c is None else other.ambient_c
    food_c = ambient_c if not model.start_noted and other.ambient_c is not None else model.food_start_c
    altitude_m = model.altitude_m if other.altitude_m is None else other.altitude_m
    boils_c = boiling_point_c(altitude_m, model.pressure_kpa)
    return Conditions(
        food_start_c=food_c if other.food_start_c is None else other.food_start_c,
        vessel_start_c=model.vessel_start_c if other.ambient_c is None else other.ambient_c,
        ambient_c=ambient_c,
        end_c=(model.end_c if other.altitude_m is None else boils_c) if model.boils else min(model.end_c, boils_c),
        altitude_m=altitude_m,
    )


def pressure_minutes(altitude_m: float) -> float:
    """Return by what the minutes under pressure are multiplied at an altitude. [-]

    Examples
    --------
    >>> [round(pressure_minutes(feet * 0.3048), 2) for feet in (0, 2000, 3000, 5000, 8000)]
    [1.0, 1.0, 1.05, 1.15, 1.3]
    """
    return 1 + PRESSURE_TIME_STEP * max(altitude_m - PRESSURE_TIME_FROM_M, 0.0) / PRESSURE_TIME_STEP_M


def holds_longer(model: HeatModel, altitude_m: float) -> bool:
    """Return whether an open pot must be held longer than it was measured, by how much nobody published for most food.

    Examples
    --------
    >>> [holds_longer(HeatModel(altitude_m=400, pressure_kpa=kpa), 2000) for kpa in (0, 70)]
    [True, False]
    """
    return model.boils and model.pressure_kpa <= 0 and altitude_m > max(HIGH_M, model.altitude_m + _NEAR_M)


def food_heat_wh(model: HeatModel, k: float, now: Conditions) -> float:
    """Return the heat that k times the food takes from its start to its end, ice melted where it starts below freezing. [Wh]"""
    return model.heats_j_per_k(k) * (now.end_c - max(now.food_start_c, 0.0)) / 3600 + ice_heat_wh(model, k, now)


def ice_heat_wh(model: HeatModel, k: float, now: Conditions) -> float:
    """Return the heat that warms and melts the ice in food from below freezing; 0 from there on. [Wh]"""
    if now.food_start_c >= 0:
        return 0.0
    return k * model.water_g * (MELTING_J_PER_G - ICE_J_PER_G_K * now.food_start_c) / 3600


def vessel_heat_wh(model: HeatModel, now: Conditions) -> float:
    """Return the heat that the cold vessel takes. [Wh]"""
    return model.vessel_j_per_k * (now.end_c - now.vessel_start_c) / 3600
