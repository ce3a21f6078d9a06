"""From what an edition keeps to what the three ends ask: the mean cook, the other one, and what their inputs may be off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import fmean, stdev

from energy.estimates.domain.circumstances import Circumstances, Conditions, conditions, food_heat_wh, pressure_minutes
from energy.estimates.domain.doubts import FOOD_SHARE, GAUGE_KPA, NOTED_C, Unsure
from energy.estimates.domain.foretelling import OtherCook
from energy.estimates.domain.heat_model import heats_or_holds
from energy.estimates.domain.heat_range import Scatter, repeats_share
from energy.estimates.domain.repeats import FIRST_SPREAD, UsualSpread
from energy.estimates.domain.three_ends import MeanCook
from energy.facts import EnergyFacts
from energy.heat.balance_facts import HeatModel
from energy.heat.empty_fields import AIR, GAUGE, HEIGHT_M, TAP
from energy.heat.heaters import heater
from energy.heat.water import HIGHEST_M, boiling_point_c
from energy.kinds import appliance_kind, meter_place

START_FROM_AIR_C = 5.0 / math.sqrt(3)
"""How far food may be from the air that its start was taken from. [K]"""

UNKNOWN_FOOD_SHARE = 0.20 / math.sqrt(3)
"""How far the food's heat may be off where some of it is not in the balance. [-]"""

ROUGH_FOOD_SHARE = 0.10 / math.sqrt(3)
"""How far it may be off where the specific heat comes from the water in it alone. [-]"""

LATER_VESSEL_SHARE = 0.30
"""A later batch finds the vessel hot, but not as hot as it was: this share of its heat may have to be put in again."""

INVERTER_PCT = 3.5
"""What a meter on the battery leaves open of the energy at the socket, as a class: the inverter's efficiency. [%]"""


@dataclass(frozen=True)
class Split:
    """Which stages heat and which hold; every other one goes its own way. Where no come-up is marked all are in the first."""

    heating: tuple[int, ...]
    holding: tuple[int, ...]


def split_of(facts: EnergyFacts, model: HeatModel) -> Split:
    """Return which stages heat and which hold."""
    if not model.until:
        return Split(tuple(heats_or_holds(facts.stages)), ())
    later = (number for number, stage in enumerate(facts.stages) if number >= model.until and stage.kind == "hold")
    return Split(tuple(range(model.until)), tuple(later))


def mean_cook(facts: EnergyFacts, model: HeatModel) -> MeanCook:
    """Return the measured cook; without stages all of it heats or holds."""
    split, band = split_of(facts, model), heater(appliance_kind(facts.appliance.kind).heater)
    heating, holding = ([facts.stages[number] for number in numbers] for numbers in (split.heating, split.holding))
    bare = not facts.stages
    then = conditions(model, Circumstances())
    return MeanCook(
        food_j_per_k=model.food_j_per_k,
        vessel_j_per_k=model.vessel_j_per_k,
        start_c=blended_c(model, then, model.food_j_per_k),
        ambient_c=then.ambient_c,
        end_c=then.end_c,
        boil_c=boiling_point_c(then.altitude_m),
        heat_wh=facts.energy_wh if bare else sum(stage.energy_wh for stage in heating),
        heat_s=facts.total_s if bare else sum(stage.span_s for stage in heating),
        hold_wh=sum(stage.energy_wh for stage in holding),
        hold_s=sum(stage.span_s for stage in holding),
        reaches_low=band.low,
        reaches_high=band.high,
        held=model.boils,
        sealed=model.pressure_kpa > 0,
        heating_w=model.heating_w if model.heating_w > 0 else None,
    )


def cooks_of(facts: EnergyFacts, model: HeatModel) -> tuple[MeanCook, ...]:
    """Return the measured cook, or the two of clearly different powers, the higher first."""
    mean = mean_cook(facts, model)
    figures = ((one.heat_wh, one.heat_s, one.hold_wh, one.hold_s) for one in model.powers)
    two = tuple(replace(mean, heat_wh=wh, heat_s=s, hold_wh=held_wh, hold_s=held_s) for wh, s, held_wh, held_s in figures)
    return two or (mean,)


def other_cook(model: HeatModel, k: float, now: Conditions, *, power_share: float = 1.0, hot_vessel: bool = False) -> OtherCook:
    """Return what is asked: k times the food, as cold and as high as said, at a share of the measured power."""
    food = model.heats_j_per_k(k)
    frozen = now.food_start_c < 0
    grams = sum(one.mass_g for one in model.foods) or model.water_g
    started = replace(now, vessel_start_c=now.end_c) if hot_vessel else now
    minutes = pressure_minutes(now.altitude_m) / pressure_minutes(model.altitude_m) if model.pressure_kpa > 0 else 1.0
    return OtherCook(
        food_j_per_k=food,
        vessel_j_per_k=model.vessel_j_per_k,
        start_c=now.food_start_c if frozen else blended_c(model, started, food),
        ambient_c=now.ambient_c,
        end_c=now.end_c,
        boil_c=boiling_point_c(now.altitude_m),
        least_wh=max(food_heat_wh(model, k, now), 0.0),
        power_share=power_share,
        hold_longer=minutes,
        frozen_g=k * grams if frozen else 0.0,
        frozen_water=model.water_g / grams if frozen and grams > 0 else 0.0,
    )


def blended_c(model: HeatModel, now: Conditions, food_j_per_k: float) -> float:
    """Return the temperature that holds the heat of food and vessel together. [C]"""
    whole = food_j_per_k + model.vessel_j_per_k
    by_vessel = model.vessel_j_per_k / whole if whole > 0 else 0.0
    return now.food_start_c + by_vessel * (now.vessel_start_c - now.food_start_c)


def unsure(facts: EnergyFacts, model: HeatModel, other: Circumstances) -> Unsure:
    """Return what the inputs may be off, as far as it is known how they were found."""
    n, now = runs_in(facts), conditions(model, other)
    noted_c = NOTED_C / math.sqrt(n)
    air_c = AIR.u if "air" in model.unnoted else noted_c
    start_c = TAP.u if "food_start" in model.unnoted else noted_c if model.start_noted else START_FROM_AIR_C
    follows_air = not model.start_noted and other.ambient_c is not None
    start_there_c = NOTED_C if other.food_start_c is not None else START_FROM_AIR_C if follows_air else None
    gauge_kpa = 0.0 if model.pressure_kpa <= 0 else GAUGE.u if "gauge_pressure" in model.unnoted else GAUGE_KPA
    now_boils_c = boiling_point_c(now.altitude_m, model.pressure_kpa)
    higher_m = min(now.altitude_m + HEIGHT_M.u, HIGHEST_M)
    height_assumed = "height" in model.unnoted
    missing = UNKNOWN_FOOD_SHARE if model.left_out else ROUGH_FOOD_SHARE if model.rough else FOOD_SHARE
    return Unsure(
        n=n,
        class_pct=math.hypot(facts.meter.accuracy_pct, 0.0 if meter_place(facts.meter.place).at_socket else INVERTER_PCT),
        step_wh=facts.meter.resolution_wh,
        start_c=start_c,
        air_c=air_c,
        start_there_c=start_there_c,
        air_there_c=NOTED_C if other.ambient_c is not None else None,
        gauge_c=boiling_point_c(now.altitude_m, model.pressure_kpa + gauge_kpa) - now_boils_c,
        height_c=boiling_point_c(higher_m) - boiling_point_c(now.altitude_m) if height_assumed else 0.0,
        height_end_c=_shift_c(model, now.altitude_m, higher_m) if height_assumed and model.boils else 0.0,
        height_there=other.altitude_m is not None,
        food_share=missing,
    )


def _shift_c(model: HeatModel, from_m: float, to_m: float) -> float:
    return boiling_point_c(to_m, model.pressure_kpa) - boiling_point_c(from_m, model.pressure_kpa)


def runs_in(facts: EnergyFacts) -> int:
    """Return how many runs made the figures; one where none is listed."""
    return max(facts.counted_runs, 1)


def repeats_of(facts: EnergyFacts) -> Scatter:
    """Return by what share cooks may differ, from the runs that made the mean.

    Of two powers the fewer runs count, and how much all of them differ.
    """
    energies: Sequence[float] = [run.energy_wh for run in facts.runs if run.counts and run.energy_wh > 0]
    spread = stdev(energies) / fmean(energies) if len(energies) > 1 else None
    fewest = [one.runs for one in facts.heat.powers] if facts.heat else []
    usual = UsualSpread(*facts.usual_spread) if facts.usual_spread else FIRST_SPREAD
    return repeats_share(min([max(len(energies), 1), *fewest]), spread, usual)
