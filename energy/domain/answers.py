"""What a reader asks under a recipe, answered in sentences: how long to put it back, what if the cooker is turned down. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
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
from kitchen.domain.money import format_money

_TURNED_DOWN_TO = 0.9
"""A cooker on a weak inverter is turned down to this share of what the inverter gives: no pass without a margin."""


def beside_another(facts: EnergyFacts, kit: Mapping[str, Any]) -> str:
    """Return whether the reader's other cooker runs at the same time; empty where none is named."""
    if not kit.get("beside_w"):
        return ""
    return side_by_side(facts, kit["beside_w"], *source_limit_w(facts.source, kit.get("inverter_w")))


def putting_it_back(facts: EnergyFacts, meal: MealEnergy, kit: Mapping[str, Any]) -> tuple[str, ...]:
    """Return how long a panel and a charger take to put back what the meal took; empty where neither is known.

    The reader's own come first; without them those of the source that it was measured on, unless the battery is the reader's.
    """
    if not meal.battery_wh:
        return ()
    own = None if meal.own_kit else facts.source
    panel_w, charger_w = kit.get("panel_w"), kit.get("charger_w")
    said = []
    if panel_w or (own and own.panel_w):
        said.append(_by_the_sun(meal.battery_wh, panel_w or (own and own.panel_w) or 0.0, "Your" if panel_w else "Its"))
    if own and own.panel_w and own.wear_per_kwh is not None:
        wear = format_money(Fraction(own.wear_per_kwh) * Fraction(meal.battery_wh) / 1000, meal.currency)
        said.append(f"From the sun it costs nothing but the battery’s wear, {wear}.")
    if charger_w or (own and own.charge_w):
        watts = charger_w or (own and own.charge_w) or 0.0
        share = OWN_CHARGE_EFFICIENCY if own is None else own.charge_efficiency
        span_s = meal.battery_wh / charging_wh_per_hour(watts, share) * 3600
        said.append(f"{'Your' if charger_w else 'Its'} {format_watts(watts)} charger puts it back in {about_minutes(span_s)}.")
    return tuple(said)


def _by_the_sun(battery_wh: float, panel_w: float, whose: str) -> str:
    span_s = battery_wh / panel_wh_per_hour(panel_w) * 3600
    return (
        f"{whose} {format_watts(panel_w)} panel puts it back in {about_minutes(span_s)} of full sun "
        f"(taken as {format_percent(PANEL_DERATE * 100)} of its rating, pointed at the sun)."
    )


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
