"""From measured runs to the calibrated heat balance of a recipe on one appliance, or why there is none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import fmean

from energy.domain.facts import StageEnergy
from energy.domain.heat_facts import HeatModel
from energy.domain.heat_need import HeatBalance, HeatNeed
from energy.domain.water import boiling_point_c

LEAST_PHI, MOST_PHI = 0.8, 2.5
"""Outside of these the measured energy and the heat do not belong together, and only plain proportion is offered."""

_BOILS_WITHIN_C = 0.5


@dataclass(frozen=True)
class CookedOnce:
    """One run, as a model takes it: its balance and the circumstances that were noted."""

    balance: HeatBalance | None
    altitude_m: float
    pressure_kpa: float
    ambient_c: float | None
    start_noted: bool


def heat_model(runs: Sequence[CookedOnce], stages: Sequence[StageEnergy]) -> HeatModel:
    """Return the model of a group of runs that are averaged together.

    Parameters
    ----------
    runs : sequence of CookedOnce
        The runs, all of one appliance and one number of servings.
    stages : sequence of StageEnergy
        The stages averaged over these runs.

    Returns
    -------
    HeatModel
        With ``why_not`` where no run has a balance, or where it cannot be believed.

    Notes
    -----
    phi = energy of the stages up to the boil / (food's heat + vessel's heat), with the means over the runs that have a balance.
    Between 0.8 and 2.5 it is used: below, the cooker would have made heat from nothing; above, most of it went elsewhere.
    """
    balances = [(run, run.balance.need) for run in runs if run.balance is not None and not run.balance.need.why_not]
    if not balances:
        said = next((run.balance.need.why_not for run in runs if run.balance is not None), "")
        return HeatModel(why_not=said or "No stage brings it to the boil, so there is no heat to compare the energy with.")
    until = _heats_until(stages)
    if not until:
        return HeatModel(why_not="On its way to the boil it was held, baked or reduced, so that the heat alone does not say it.")
    measured_wh = sum(stage.energy_wh for stage in stages[:until])
    newest, need = balances[-1]
    model = HeatModel(
        until=until,
        food_j_per_k=fmean(_food_j_per_k(one) for _, one in balances),
        fixed_j_per_k=sum(food.heat_j_per_k for food in need.foods if food.fixed),
        vessel_j_per_k=_vessel_j_per_k(need),
        water_g=sum(food.water_g for food in need.foods),
        food_start_c=fmean(one.start_c for _, one in balances),
        vessel_start_c=fmean(one.vessel_start_c if one.vessel_g else one.start_c for _, one in balances),
        end_c=fmean(one.end_c for _, one in balances),
        ambient_c=fmean(one.start_c if run.ambient_c is None else run.ambient_c for run, one in balances),
        altitude_m=newest.altitude_m,
        pressure_kpa=newest.pressure_kpa,
        start_noted=all(run.start_noted for run, _ in balances),
        boils=abs(need.end_c - boiling_point_c(newest.altitude_m, newest.pressure_kpa)) < _BOILS_WITHIN_C,
        foods=need.foods,
        left_out=tuple(left.name for left in need.left_out if left.unsure),
        rough=need.rough,
    )
    return _calibrated(model, measured_wh)


def _calibrated(model: HeatModel, measured_wh: float) -> HeatModel:
    phi = measured_wh / model.needed_wh if model.needed_wh > 0 else 0.0
    if LEAST_PHI <= phi <= MOST_PHI:
        return replace(model, phi=phi)
    return HeatModel(why_not=_unlikely_words(phi, measured_wh, model.needed_wh))


def _unlikely_words(phi: float, measured_wh: float, needed_wh: float) -> str:
    compared = f"{measured_wh:.0f}\u00a0Wh were measured up to the boil, and food and pot take {needed_wh:.0f}\u00a0Wh"
    if phi < LEAST_PHI:
        return f"{compared}: less than that cannot be, so a temperature, a weight or a reading is wrong."
    return f"{compared}: most of the energy went elsewhere, so the heat of the food does not say what more of it takes."


def _heats_until(stages: Sequence[StageEnergy]) -> int:
    """Return how many stages bring it to the boil: up to the last that comes up; 0 where one of them does more than heat."""
    coming = [number for number, stage in enumerate(stages, 1) if stage.kind == "come_up"]
    until = coming[-1] if coming else 0
    heats = {"preheat", "brown", "come_up"}
    return until if all(stage.kind in heats for stage in stages[:until]) else 0


def _food_j_per_k(need: HeatNeed) -> float:
    return need.food_wh * 3600 / (need.end_c - need.start_c)


def _vessel_j_per_k(need: HeatNeed) -> float:
    return need.vessel_wh * 3600 / (need.end_c - need.vessel_start_c) if need.vessel_g else 0.0
