"""What the estimates say of the simulated kitchens: cooks are measured there, noted with errors, and another one is foretold."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from energy.estimates.domain.doubts import GAUGE_KPA, NOTED_C, Unsure, doubts
from energy.estimates.domain.foretelling import OtherCook
from energy.estimates.domain.heat_range import HeatRange, Scatter, heat_range, repeats_share
from energy.estimates.domain.three_ends import MeanCook
from energy.heat.empty_fields import AIR, GAUGE, HEIGHT_M, TAP
from energy.heat.heaters import heater
from energy.heat.water import boiling_point_c
from tests.measure.estimates.kitchens import KINDS, Cooked, Day, Pots, cook, draw_pots

Array = Any
Draw = Callable[[np.random.Generator, Pots, Day], Day]

CLASS_PCT, STEP_WH = 2.0, 1.0


@dataclass(frozen=True)
class Row:
    """One kind of question: what the other day is like, and what is known of the measured one.

    ``said``: start, air and height are said anew. ``empty``: none was noted, and the defaults stand for them. ``marked``: the
    come-up was marked.
    """

    name: str
    other: Draw
    said: bool = False
    empty: bool = False
    marked: bool = True
    power: float = 1.0


@dataclass
class Case:
    """One question with its true answer, what a model that knows the split says, and what the estimate says. [Wh]"""

    truth_wh: float
    power: float
    made: HeatRange
    known_low: float
    known_high: float
    inputs: tuple[MeanCook, OtherCook, Unsure, Scatter] = field(repr=False)


def cases(row: Row, n: int, seed: int) -> list[Case]:
    """Return so many questions of a kind, drawn from a seed; kitchens whose measured cook never boils are drawn anew."""
    rng = np.random.default_rng(seed)
    made: list[Case] = []
    while len(made) < n:
        made += _cases(row, max(n - len(made) + n // 10, 20), rng)
    return made[:n]


def _cases(row: Row, n: int, rng: np.random.Generator) -> list[Case]:
    pots = draw_pots(rng, n)
    if row.empty:
        pots = replace(pots, height_m=np.abs(rng.normal(0, 300, n)), gauge_kpa=np.where(pots.sealed, rng.normal(70, 9, n), 0.0))
    start_c, air_c = rng.uniform(5, 22, n), rng.uniform(12, 28, n)
    if row.empty:
        start_c, air_c = rng.normal(12, 4.5, n), rng.normal(18, 6, n)
    ones = np.ones(n)
    usual = Day(ones, start_c, air_c, pots.height_m, ones, ones < 0)
    runs = rng.integers(1, 6, n)
    who = np.repeat(np.arange(n), runs)
    each = Day(*(value[who] for value in vars(usual).values()))
    each = replace(each, start_c=each.start_c + rng.normal(0, 1, len(who)), air_c=each.air_c + rng.normal(0, 1, len(who)))
    measured = cook(rng, pots.of(who), each)
    there = np.array([np.isfinite(measured.heat_s[who == one]).all() for one in range(n)])
    other = row.other(rng, pots, usual)
    truth = cook(rng, pots, other)
    quiet = _without_noise(pots, usual), _without_noise(pots, other)
    answers = (truth.energy_wh, *(one.energy_wh for one in quiet))
    return [
        _case(row, rng, (pots, usual, other), one, _means(measured, who == one), *(float(wh[one]) for wh in answers))
        for one in np.flatnonzero(there)
    ]


def _without_noise(pots: Pots, day: Day) -> Cooked:
    return cook(_Quiet(), replace(pots, spread=0 * pots.spread), day)


class _Quiet:
    """A generator that draws every mean."""

    def normal(self, mean: Array, spread: Array, n: int = 1) -> Array:
        return mean + 0 * np.asarray(spread) + np.zeros(n)

    def uniform(self, low: Array, high: Array, n: int = 1) -> Array:
        return (np.asarray(low) + np.asarray(high)) / 2 + np.zeros(n)


def _means(measured: Cooked, mine: Array) -> tuple[Cooked, int, float]:
    runs = {name: value[mine] for name, value in vars(measured).items()}
    energy = runs["heat_wh"] + runs["hold_wh"]
    spread = float(np.std(energy, ddof=1) / np.mean(energy)) if len(energy) > 1 else 0.0
    return Cooked(*(float(np.mean(value)) for value in runs.values())), len(energy), spread


def _case(
    row: Row,
    rng: np.random.Generator,
    kitchen: tuple[Pots, Day, Day],
    one: int,
    measured: tuple[Cooked, int, float],
    truth_wh: float,
    quiet_then_wh: float,
    quiet_wh: float,
) -> Case:
    mean, n, spread = measured
    pots, usual, other = kitchen
    mean_cook, asked, unsure = _noted(row, rng, pots, usual, other, one, mean, n)
    repeats = repeats_share(n, spread if n > 1 else None)
    made = heat_range([mean_cook], asked, doubts(mean_cook, asked, unsure), repeats)
    # knowing the split: the mean, times what the same kitchen takes more, with the same repeats and doubts
    known_wh = quiet_wh / quiet_then_wh if math.isfinite(quiet_then_wh) else math.inf
    middle = (mean_cook.heat_wh + mean_cook.hold_wh) * known_wh
    inputs = np.sqrt(sum((part.low_wh**2 for part in made.parts if part.code != "repeats"), 0.0))
    half = float(np.hypot(repeats.of_next * middle, inputs))
    known = (middle - half, middle + half) if math.isfinite(middle) else (0.0, math.inf)
    return Case(truth_wh, float(other.power_share[one]), made, *known, (mean_cook, asked, unsure, repeats))


def _noted(
    row: Row, rng: np.random.Generator, pots: Pots, usual: Day, other: Day, one: int, mean: Cooked, n: int
) -> tuple[MeanCook, OtherCook, Unsure]:
    """Return what is noted of a cook and asked of another one, with the errors that notes have."""
    root = np.sqrt(n)
    vessel = float(pots.vessel[one] * rng.uniform(0.7, 1.3))
    heat = float(pots.food_heat[one] * rng.normal(1, 0.02))
    food = heat * pots.food_g[one]
    off_c = rng.normal(0, NOTED_C / root, 2)
    start_c, air_c = (float(value) for value in (usual.start_c[one] + off_c[0], usual.air_c[one] + off_c[1]))
    height_m, gauge = float(pots.height_m[one]), float(pots.gauge_kpa[one] + rng.normal(0, 3) * pots.sealed[one])
    if row.empty:
        start_c, air_c, height_m, gauge = TAP.value, AIR.value, HEIGHT_M.value, GAUGE.value * pots.sealed[one]
    there_c = (start_c, air_c)
    if row.said:
        there_c = (float(other.start_c[one] + rng.normal(0, NOTED_C)), float(other.air_c[one] + rng.normal(0, NOTED_C)))
    gain = 1 + rng.uniform(-CLASS_PCT, CLASS_PCT) / 100
    heat_wh, hold_wh = (float(wh * gain + rng.normal(0, STEP_WH / np.sqrt(6 * n))) for wh in (mean.heat_wh, mean.hold_wh))
    band = heater(KINDS[pots.kind[one]])
    end_c, boil_c = boiling_point_c(height_m, max(gauge, 0.0)), boiling_point_c(height_m)

    def blended(food_start_c: float, vessel_start_c: float, food_j_per_k: float) -> float:
        return (food_j_per_k * food_start_c + vessel * vessel_start_c) / (food_j_per_k + vessel)

    cook = MeanCook(
        food_j_per_k=food,
        vessel_j_per_k=vessel,
        start_c=blended(start_c, air_c, food),
        ambient_c=air_c,
        end_c=end_c,
        boil_c=boil_c,
        heat_wh=heat_wh,
        heat_s=mean.heat_s,
        hold_wh=max(hold_wh, 0.0),
        hold_s=mean.hold_s,
        reaches_low=band.low,
        reaches_high=band.high,
        held=True,
        sealed=bool(pots.sealed[one]),
    )
    if not row.marked:
        cook = replace(
            cook,
            heat_wh=heat_wh + cook.hold_wh,
            heat_s=mean.heat_s + mean.hold_s,
            hold_wh=0.0,
            hold_s=0.0,
            heating_w=float(pots.power_w[one] * rng.normal(1, 0.02)),
        )
    asked = _asked(row, pots, other, one, cook, there_c, heat, height_m, gauge, rng)
    return cook, asked, _unsure(row, cook, n, height_m, gauge)


def _unsure(row: Row, cook: MeanCook, n: int, height_m: float, gauge: float) -> Unsure:
    """Return what the notes may be off, as the page would take it."""
    noted_c, higher_m = NOTED_C / math.sqrt(n), height_m + HEIGHT_M.u
    rise_c = boiling_point_c(height_m, max(gauge, 0.0) + (GAUGE.u if row.empty else GAUGE_KPA)) - cook.end_c
    return Unsure(
        n,
        CLASS_PCT,
        STEP_WH,
        start_c=TAP.u if row.empty else noted_c,
        air_c=AIR.u if row.empty else noted_c,
        start_there_c=NOTED_C if row.said else None,
        air_there_c=NOTED_C if row.said else None,
        gauge_c=rise_c if cook.sealed else 0.0,
        height_c=boiling_point_c(higher_m) - cook.boil_c if row.empty else 0.0,
        height_end_c=boiling_point_c(higher_m, max(gauge, 0.0)) - cook.end_c if row.empty else 0.0,
        height_there=row.said,
    )


def _asked(
    row: Row,
    pots: Pots,
    other: Day,
    one: int,
    cook: MeanCook,
    there_c: tuple[float, float],
    heat: float,
    height_m: float,
    gauge: float,
    rng: np.random.Generator,
) -> OtherCook:
    times, frozen = float(other.times[one]), bool(other.frozen[one])
    food = cook.food_j_per_k * times
    there_m = float(other.height_m[one]) if row.said else height_m
    water = float(np.clip(pots.water[one] + rng.normal(0, 0.05), 0.3, 1.0))
    start_c, air_c = there_c
    end_c = boiling_point_c(there_m, max(gauge, 0.0))
    grams = float(pots.food_g[one]) * times
    least_j = food * (end_c - max(start_c, 0.0)) + (grams * water * (334 - 2.0 * start_c) if frozen else 0.0)
    vessel = cook.vessel_j_per_k
    return OtherCook(
        food_j_per_k=food,
        vessel_j_per_k=vessel,
        start_c=start_c if frozen else (food * start_c + vessel * air_c) / (food + vessel),
        ambient_c=air_c,
        end_c=end_c,
        boil_c=boiling_point_c(there_m),
        least_wh=least_j / 3600,
        power_share=float(other.power_share[one]),
        frozen_g=grams if frozen else 0.0,
        frozen_water=water,
    )
