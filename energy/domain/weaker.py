"""Another power than the one that was measured: a cooker turned down for a weak source, or slowed by a cold wind.

The calibrated share phi holds at the measured power only: with less of it a pot loses heat for longer. So the losses are taken
out of the measured cook first, and the climb is worked out again at the new power.
"""

from __future__ import annotations

from dataclasses import dataclass

from energy.domain.circumstances import Circumstances, Conditions, conditions, food_heat_wh, ice_heat_wh, vessel_heat_wh
from energy.domain.facts import EnergyFacts
from energy.domain.heat import CannotGetThere, heat_up_s, holding_wh
from energy.domain.heat_facts import HeatModel

_HALVINGS = 60


class NoLossFits(ValueError):
    """No loss to the air explains the measured climb; the message says why."""


@dataclass(frozen=True)
class Climb:
    """A climb to the boil at one power. [W, s, Wh]"""

    power_w: float
    span_s: float
    energy_wh: float
    end_c: float


def loss_w_per_k(model: HeatModel, *, power_w: float, span_s: float) -> float:
    """Return what a pot loses for each degree above the air, from its measured climb.

    Parameters
    ----------
    model : HeatModel
        Food, vessel and temperatures of the measured cook.
    power_w : float, > 0
        Mean power up to the boil. [W]
    span_s : float, > 0
        How long it took. [s]

    Returns
    -------
    float
        UA, for which the closed form takes just that long. [W/K]

    Raises
    ------
    NoLossFits
        If it was faster than without any loss.

    Notes
    -----
    The closed form of ``heat.heat_up_s`` grows with UA, so bisection between none and the loss that would eat all of the power
    finds it. All of the power is taken to reach the pot: what an element loses on the way counts as loss to the air.

    Examples
    --------
    >>> model = HeatModel(phi=1.1, food_j_per_k=4200, food_start_c=20, vessel_start_c=20, ambient_c=20, end_c=100)
    >>> round(loss_w_per_k(model, power_w=500, span_s=810), 2)
    2.0
    """
    now = conditions(model, Circumstances())
    low, high = 0.0, power_w / max(now.end_c - now.ambient_c, 1e-6)
    if _climb_s(model, 1.0, now, power_w, 0.0) > span_s:
        raise NoLossFits(
            f"It came to the boil in {span_s / 60:.0f}\u00a0min, faster than {power_w:.0f}\u00a0W can heat food and pot without "
            "any loss: a weight or a temperature is wrong, so another power cannot be worked out."
        )
    for _ in range(_HALVINGS):
        middle = (low + high) / 2
        try:
            slow = _climb_s(model, 1.0, now, power_w, middle) > span_s
        except CannotGetThere:
            slow = True
        low, high = (low, middle) if slow else (middle, high)
    return (low + high) / 2


def climb_at(
    model: HeatModel,
    power_w: float,
    *,
    loss: float,
    k: float = 1.0,
    other: Circumstances = Circumstances(),  # noqa: B008 - frozen
    hot_pot: bool = False,
) -> Climb:
    """Return how k times the food comes to the boil at a power.

    Parameters
    ----------
    model : HeatModel
    power_w : float, > 0
        The cooker's power. [W]
    loss : float, >= 0
        What the pot loses for each degree above the air (``loss_w_per_k``). [W/K]
    k : float, > 0
        Times the measured food. [-]
    other : Circumstances
        What else differs.
    hot_pot : bool
        Whether the pot is hot already, from a batch before.

    Raises
    ------
    CannotGetThere
        If the losses hold it below its end; the message says at what temperature it stops.

    Examples
    --------
    >>> model = HeatModel(phi=1.1, food_j_per_k=4200, food_start_c=20, vessel_start_c=20, ambient_c=20, end_c=100)
    >>> round(climb_at(model, 500, loss=2).span_s), round(climb_at(model, 300, loss=2).span_s)
    (810, 1600)
    >>> climb_at(model, 150, loss=2)
    Traceback (most recent call last):
    energy.domain.heat.CannotGetThere: this cooker cannot get there: at 150 W it stops at 95 °C, short of 100 °C
    """
    now = conditions(model, other)
    span_s = _climb_s(model, k, now, power_w, loss, hot_pot=hot_pot)
    return Climb(power_w, span_s, power_w * span_s / 3600, now.end_c)


def holding_at_w(loss: float, end_c: float, ambient_c: float) -> float:
    """Return the mean power that holds a pot at its end temperature: UA (T - T_air). [W]

    Examples
    --------
    >>> holding_at_w(2, 100, 20)
    160.0
    """
    return holding_wh(loss, end_c, ambient_c, 3600)


def measured_loss(facts: EnergyFacts) -> float:
    """Return the loss of the measured cook. [W/K]

    Raises
    ------
    NoLossFits
        If there is no balance, nothing was drawn, or no loss explains it.
    """
    model = facts.heat
    if model is None or not model.usable:
        raise NoLossFits("" if model is None else model.why_not)
    climb = measured_climb(facts)
    if climb.power_w <= 0:
        raise NoLossFits("Up to the boil nothing was drawn, so there is no climb to work from.")
    return loss_w_per_k(model, power_w=climb.power_w, span_s=climb.span_s)


def measured_climb(facts: EnergyFacts) -> Climb:
    """Return the climb to the boil as it was measured, at its mean power; without power where nothing was drawn."""
    model = facts.heat or HeatModel()
    heating = facts.stages[: model.until]
    span_s, energy_wh = sum(stage.span_s for stage in heating), sum(stage.energy_wh for stage in heating)
    return Climb(energy_wh * 3600 / span_s if span_s > 0 else 0.0, span_s, energy_wh, model.end_c)


def _climb_s(model: HeatModel, k: float, now: Conditions, power_w: float, loss: float, *, hot_pot: bool = False) -> float:
    food_j_per_k = k * (model.food_j_per_k - model.fixed_j_per_k) + model.fixed_j_per_k
    heat_j_per_k = food_j_per_k + model.vessel_j_per_k
    melting_s, ice_wh = _melting_s(model, k, now, power_w, loss), ice_heat_wh(model, k, now)
    pot_wh = 0.0 if hot_pot else vessel_heat_wh(model, now)
    # Food and pot start as one, at the temperature that holds their heat together.
    start_c = now.end_c - (food_heat_wh(model, k, now) - ice_wh + pot_wh) * 3600 / heat_j_per_k
    return melting_s + heat_up_s(
        now.end_c, heat_j_per_k=heat_j_per_k, power_w=power_w, start_c=start_c, ambient_c=now.ambient_c, loss_w_per_k=loss
    )


def _melting_s(model: HeatModel, k: float, now: Conditions, power_w: float, loss: float) -> float:
    """Return how long the ice keeps the pot at freezing; what the air takes or gives then is counted. [s]"""
    ice_wh, net_w = ice_heat_wh(model, k, now), power_w + loss * now.ambient_c
    if not ice_wh:
        return 0.0
    if net_w <= 0:
        raise CannotGetThere(
            f"this cooker cannot get there: at {power_w:.0f} W the ice does not melt in air of {now.ambient_c:.0f} °C"
        )
    return ice_wh * 3600 / net_w


__all__ = ["Climb", "NoLossFits", "climb_at", "holding_at_w", "loss_w_per_k", "measured_climb", "measured_loss"]
