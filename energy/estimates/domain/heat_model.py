"""From measured runs to the heat balance of a recipe on one appliance, or why there is none."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import fmean

from energy.facts import StageEnergy
from energy.heat.balance_facts import HeatModel
from energy.heat.empty_fields import AIR
from energy.heat.need import HeatBalance, HeatNeed
from energy.heat.water import boiling_point_c
from kitchen.domain.remark import Said, remark
from kitchen.domain.stages import STAGE_KINDS

LEAST_OF_NEED = 0.8
"""Below this share of the heat of food and pot a measurement or a list of food is wrong, and only plain proportion is offered."""

_BOILS_WITHIN_C = 0.5
_HEATS_ONLY = frozenset({"preheat", "brown", "come_up"})


@dataclass(frozen=True)
class CookedOnce:
    """One run, as a model takes it: its balance and the circumstances that were noted."""

    balance: HeatBalance | None
    altitude_m: float
    pressure_kpa: float
    ambient_c: float | None
    start_noted: bool


def heat_model(runs: Sequence[CookedOnce], stages: Sequence[StageEnergy], *, heating_w: float = 0.0) -> HeatModel:
    """Return the model of a group of runs that are averaged together.

    Parameters
    ----------
    runs : sequence of CookedOnce
        The runs, all of one appliance and one number of servings.
    stages : sequence of StageEnergy
        The stages averaged over these runs.
    heating_w : float
        The watts of the heater, 0 where they are not known: asked where no come-up is marked. [W]

    Returns
    -------
    HeatModel
        With ``why_not`` where no run has a balance, or where the energy is less than food and pot must have taken.

    Notes
    -----
    Temperatures, heat capacities and water are the means over the runs that have a balance and know them; what is the same in
    all of them comes from the newest.
    """
    balances = [(run, run.balance.need) for run in runs if run.balance is not None and not run.balance.need.why_not]
    if not balances:
        why_not: Said = next((run.balance.need.why_not for run in runs if run.balance is not None), "")
        return HeatModel(why_not=why_not or remark("never_boils"))
    until = heats_until(stages)
    newest, need = balances[-1]
    model = HeatModel(
        until=until,
        heating_w=0.0 if until else heating_w,
        food_j_per_k=fmean(_food_j_per_k(one) for _, one in balances),
        fixed_j_per_k=_mean(sum(food.heat_j_per_k for food in one.foods if food.fixed) for _, one in balances if one.foods),
        vessel_j_per_k=_mean(_vessel_j_per_k(one) for _, one in balances if one.vessel_g),
        water_g=_mean(sum(food.water_g for food in one.foods) for _, one in balances if one.foods),
        food_start_c=fmean(one.start_c for _, one in balances),
        vessel_start_c=fmean(one.vessel_start_c if one.vessel_g else one.start_c for _, one in balances),
        end_c=fmean(one.end_c for _, one in balances),
        ambient_c=fmean(AIR.value if run.ambient_c is None else run.ambient_c for run, _ in balances),
        altitude_m=newest.altitude_m,
        pressure_kpa=newest.pressure_kpa,
        start_noted=all(run.start_noted for run, _ in balances),
        boils=abs(need.end_c - boiling_point_c(newest.altitude_m, newest.pressure_kpa)) < _BOILS_WITHIN_C,
        assumed=tuple(dict.fromkeys(code for _, one in balances for code in one.assumed)),
        foods=need.foods,
        left_out=tuple(left.name for left in need.left_out if left.unsure),
        rough=need.rough,
    )
    return _believed(model, sum(stage.energy_wh for stage in stages[:until]))


def _believed(model: HeatModel, measured_wh: float) -> HeatModel:
    """Return the model, or why it cannot be: more heat than was drawn up to the boil."""
    if not model.until:
        return model if model.heating_w > 0 else HeatModel(why_not=remark("heater_unknown"))
    if measured_wh < LEAST_OF_NEED * model.needed_wh:
        return HeatModel(why_not=remark("less_than_needed", measured_wh=measured_wh, needed_wh=model.needed_wh))
    return model


def heats_until(stages: Sequence[StageEnergy]) -> int:
    """Return how many stages bring it to the boil: up to the last that comes up; 0 where none does, or one does more than heat.

    A heat-up that hides in a stage that holds, or that none names, is heat-up all the same: only where it ends is not known.
    """
    coming = [number for number, stage in enumerate(stages, 1) if stage.kind == "come_up"]
    until = coming[-1] if coming else 0
    return until if all(stage.kind in _HEATS_ONLY for stage in stages[:until]) else 0


def heats_or_holds(stages: Sequence[StageEnergy]) -> list[int]:
    """Return the places of the stages that may heat or hold, where no come-up is marked."""
    return [
        number for number, stage in enumerate(stages) if stage.kind not in STAGE_KINDS or stage.kind in {*_HEATS_ONLY, "hold"}
    ]


def _food_j_per_k(need: HeatNeed) -> float:
    return need.food_wh * 3600 / (need.end_c - need.start_c)


def _vessel_j_per_k(need: HeatNeed) -> float:
    return need.vessel_wh * 3600 / (need.end_c - need.vessel_start_c)


def _mean(known: Iterable[float]) -> float:
    """Return the mean of what is known; 0 where nothing is."""
    figures = list(known)
    return fmean(figures) if figures else 0.0
