"""By what each input of an estimate may be off, and what it changes: on the measured day, on the other one, or on both alike."""

from __future__ import annotations

import math
from dataclasses import dataclass

from energy.estimates.domain.foretelling import GROWS, OtherCook
from energy.estimates.domain.heat_range import Doubt
from energy.estimates.domain.three_ends import MeanCook

VESSEL_SHARE = 0.30 / math.sqrt(3)
"""A vessel's heat: its mass and material are seldom weighed, and its lid and base are not all as hot: 30 % either way."""

FOOD_SHARE = 0.02
"""A food's specific heat by its composition."""

FROZEN_WATER_SHARE = 0.05

NOTED_C = 1.5
"""A temperature that somebody noted, or says of another day. [K]"""

GAUGE_KPA = 3.0
"""A pressure that was typed in from a manual or a gauge. [kPa]"""


@dataclass(frozen=True)
class Unsure:
    """What an estimate's inputs may be off: standard uncertainties.

    Attributes
    ----------
    n : int, >= 1
        Runs in the mean.
    class_pct, step_wh : float
        The meter's class and its display's step. [%, Wh]
    start_c, air_c : float
        Of the mean start and air. [K]
    start_there_c, air_there_c : float or None
        Of the other day's, where they are said anew; None: it is the same unknown. [K]
    gauge_c : float
        What the pressure's own doubt makes of the end. [K]
    height_c, height_end_c : float
        What the height's doubt makes of the boiling point and of the end. [K]
    height_there : bool
        Whether the other cook's height is said anew: it is exact then.
    food_share : float
        Of the food's heat capacity. [-]
    """

    n: int
    class_pct: float
    step_wh: float
    start_c: float
    air_c: float
    start_there_c: float | None = None
    air_there_c: float | None = None
    gauge_c: float = 0.0
    height_c: float = 0.0
    height_end_c: float = 0.0
    height_there: bool = False
    food_share: float = FOOD_SHARE


def doubts(cook: MeanCook, other: OtherCook, unsure: Unsure) -> list[Doubt]:
    """Return the doubts of an estimate.

    Parameters
    ----------
    cook : MeanCook
    other : OtherCook
    unsure : Unsure

    Examples
    --------
    The rules' two worked examples, three runs that differ by 4 %, on a meter of class 2 % with steps of 1 Wh: an open pot at half
    of its power, and a pressure cooker in air of 0 degrees, where 3 kPa are 0.53 K.

    >>> from dataclasses import replace
    >>> from energy.estimates.domain.heat_range import heat_range, repeats_share
    >>> noted = Unsure(3, 2, 1, NOTED_C / math.sqrt(3), NOTED_C / math.sqrt(3))
    >>> pot = MeanCook(11700, 900, 15, 20, 100, 100, 372, 900, 110, 1800, 0.74, 0.92, held=True)
    >>> half = OtherCook(11700, 900, 15, 20, 100, 100, 276.3, power_share=0.5)
    >>> made = heat_range([pot], half, doubts(pot, half, noted), repeats_share(3, 0.04))
    >>> made.answer, [round(figure, 2) for figure in (made.energy.low, made.energy.middle, made.energy.high)]
    ('yes', [430.69, 500.4, 576.82])
    >>> pressed = MeanCook(9500, 1800, 12, 22, 115.6, 100, 410, 1476, 45, 1800, 0.80, 0.97, held=True, sealed=True)
    >>> frost, there = OtherCook(9500, 1800, 12, 0, 115.6, 100, 273.4), replace(noted, air_there_c=NOTED_C, gauge_c=0.53)
    >>> made = heat_range([pressed], frost, doubts(pressed, frost, there), repeats_share(3, 0.04))
    >>> made.answer, [round(figure, 2) for figure in (made.energy.low, made.energy.middle, made.energy.high)]
    ('yes', [392.32, 466.87, 534.68])
    """
    vessel, food = VESSEL_SHARE * cook.vessel_j_per_k, unsure.food_share * cook.food_j_per_k
    by_class, step_wh = unsure.class_pct / 100 / math.sqrt(3), unsure.step_wh / math.sqrt(6 * unsure.n)
    made = [
        Doubt("vessel_heat", (("vessel_j_per_k", vessel),), (("vessel_j_per_k", vessel),)),
        Doubt("food_heat", (("food_j_per_k", food),), (("food_j_per_k", unsure.food_share * other.food_j_per_k),)),
        Doubt("meter_class", (("heat_wh", by_class * cook.heat_wh), ("hold_wh", by_class * cook.hold_wh))),
        Doubt("meter_step", (("heat_wh", step_wh),)),
        *([Doubt("meter_step", (("hold_wh", step_wh),))] if cook.hold_wh > 0 else []),
        *_of_a_day("food_start", "start_c", unsure.start_c, unsure.start_there_c),
        *_of_a_day("air", "ambient_c", unsure.air_c, unsure.air_there_c),
    ]
    if unsure.gauge_c > 0:
        made.append(Doubt("gauge_pressure", (("end_c", unsure.gauge_c),), (("end_c", unsure.gauge_c),)))
    if unsure.height_c != 0:
        by_height = (("boil_c", unsure.height_c), ("end_c", unsure.height_end_c))
        made.append(Doubt("height", by_height, () if unsure.height_there else by_height))
    if other.food_j_per_k != cook.food_j_per_k:
        made.append(Doubt("loss_of_amount", (), (("loss_power", GROWS),)))
    if other.frozen_g > 0:
        made.append(Doubt("frozen_water", (), (("frozen_water", FROZEN_WATER_SHARE),)))
    return made


def _of_a_day(code: str, name: str, measured_c: float, there_c: float | None) -> list[Doubt]:
    """Return the doubt of a temperature: of both days alike, or of each its own where the other day's is said anew."""
    if there_c is None:
        return [Doubt(code, ((name, measured_c),), ((name, measured_c),))]
    return [Doubt(code, ((name, measured_c),)), Doubt(f"{code}_there", (), ((name, there_c),))]
