"""What a reader asks under a recipe, answered in sentences: how long to put it back, what if the cooker is turned down. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from energy.domain.facts import EnergyFacts
from energy.domain.heat import CannotGetThere
from energy.domain.heat_facts import HeatModel
from energy.domain.meal import MealEnergy, circumstances_of
from energy.domain.proportion import FAR_ABOVE
from energy.domain.recovery import PANEL_DERATE, charging_wh_per_hour, panel_wh_per_hour
from energy.domain.side_by_side import side_by_side, source_limit_w
from energy.domain.supply import OWN_CHARGE_EFFICIENCY
from energy.domain.weaker import NoLossFits, climb_at, measured_climb, measured_loss
from energy.domain.words import about_minutes, format_percent, format_watts, format_wh

_TURNED_DOWN_TO = 0.9
"""A cooker on a weak inverter is turned down to this share of what the inverter gives: no pass without a margin."""


def beside_another(facts: EnergyFacts, kit: Mapping[str, Any]) -> str:
    """Return whether the reader's other cooker runs at the same time; empty where none is named."""
    if not kit.get("beside_w"):
        return ""
    return side_by_side(facts, kit["beside_w"], *source_limit_w(facts.source, kit.get("inverter_w")))


def putting_it_back(meal: MealEnergy, kit: Mapping[str, Any]) -> tuple[str, ...]:
    """Return how long the reader's panel and charger take to put back what the meal took; empty where neither is known."""
    if not meal.battery_wh:
        return ()
    said = []
    if kit.get("panel_w"):
        hours = meal.battery_wh / panel_wh_per_hour(kit["panel_w"])
        said.append(
            f"Your {format_watts(kit['panel_w'])} panel puts it back in {about_minutes(hours * 3600)} of full sun "
            f"(taken as {format_percent(PANEL_DERATE * 100)} of its rating, pointed at the sun)."
        )
    if kit.get("charger_w"):
        hours = meal.battery_wh / charging_wh_per_hour(kit["charger_w"], OWN_CHARGE_EFFICIENCY)
        said.append(f"Your {format_watts(kit['charger_w'])} charger puts it back in {about_minutes(hours * 3600)}.")
    return tuple(said)


def turned_down(facts: EnergyFacts, meal: MealEnergy, kit: Mapping[str, Any]) -> str:
    """Return what happens if the cooker is turned down to what the reader's inverter gives; empty where it runs as it is.

    Notes
    -----
    The loss of the pot comes from the measured climb; at less power it loses for longer, and below some power it never boils.
    """
    inverter_w = kit.get("inverter_w")
    if not inverter_w or facts.peak_w is None or meal.verdict is None or meal.verdict.word != "no":
        return ""
    power_w = _TURNED_DOWN_TO * inverter_w
    k = meal.balance.k if meal.balance else meal.servings / facts.servings
    try:
        loss = measured_loss(facts)
        climb = climb_at(facts.heat or HeatModel(), power_w, loss=loss, k=min(k, FAR_ABOVE), other=circumstances_of(kit))
    except NoLossFits as unknown:
        return f"Turned down to what it gives: not known. {unknown}".strip() if str(unknown) else ""
    except CannotGetThere as stops:
        return f"If the cooker can be turned down to {format_watts(power_w)}: {stops}."
    usual = measured_climb(facts)
    return (
        f"If the cooker can be turned down to {format_watts(power_w)}, it comes to the boil in {about_minutes(climb.span_s)} "
        f"with about {format_wh(climb.energy_wh)} (measured: {about_minutes(usual.span_s)}, {format_wh(usual.energy_wh)})."
    )
