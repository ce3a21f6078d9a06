"""The large figures that the energy card contributes, and the numbers that the library sorts by."""

from __future__ import annotations

from decimal import Decimal
from math import floor

from energy.cards.presenting import minutes_words, standing_of
from energy.domain.facts import EnergyFacts
from energy.domain.meal import MealEnergy
from energy.domain.sources import draw_from_battery_wh
from energy.domain.supply import OWN_IDLE_W, OWN_INVERTER_EFFICIENCY
from energy.domain.words import about_wh, format_watts, format_wh
from kitchen.cards import Headline

_MINUTES_IN_HOUR = 60


def energy_headlines(facts: EnergyFacts, meal: MealEnergy) -> list[Headline]:
    """Return energy a serving, the peak (where it is known) and the minutes."""
    standing = standing_of(facts, meal)
    total = _bare(format_wh(meal.load_wh, meal.uncertainty_wh), "Wh")
    each = _bare(about_wh(meal.per_serving_wh, meal.per_serving_uncertainty_wh), "Wh")
    about = "" if standing == "measured" else "estimated, "
    found = [Headline("energy", each, "Wh", f"each serving, {about}{total} in all", "energy", standing, "energy", 10)]
    if facts.peak_w is not None:
        words = "at its peak" if facts.peak_seen else "at its peak, or more"
        found.append(Headline("peak", _bare(format_watts(facts.peak_w), "W"), "W", words, "energy", "measured", "energy", 20))
    return [*found, _minutes(meal, standing)]


def energy_figures(facts: EnergyFacts, meal: MealEnergy) -> dict[str, Decimal]:
    """Return the numbers for filters and sorts; a peak that nobody knows is left out.

    ``own_battery_wh`` is what it takes out of a reader's battery of the usual kind, for "fits my kit".
    """
    found = {
        "energy_per_serving_wh": meal.per_serving_wh,
        "energy_wh": meal.load_wh,
        "total_min": meal.total_s / 60,
        "runs": facts.counted_runs,
        "own_battery_wh": draw_from_battery_wh(
            meal.load_wh, meal.total_s, inverter_efficiency=OWN_INVERTER_EFFICIENCY, idle_w=OWN_IDLE_W
        ),
    }
    if facts.peak_w is not None:
        found["peak_w"] = facts.peak_w
    return {name: Decimal(str(round(value, 4))) for name, value in found.items()}


def _minutes(meal: MealEnergy, standing: str) -> Headline:
    value, unit = _in_minutes(meal)
    at_the_pot = minutes_words(meal, meal.attended_s) if meal.attended_s >= 30 else "none"
    about = "" if standing == "measured" else "estimated, "
    words = f"{about}{minutes_words(meal, meal.cooking_s)} cooking, {at_the_pot} at the pot"
    return Headline("minutes", value, unit, words, "plain", standing, "energy", 30)


def _in_minutes(meal: MealEnergy) -> tuple[str, str]:
    """Return the time in all and its unit: minutes below an hour, hours and minutes from there on, as the words beside it."""
    minutes = floor(meal.total_s / 60 + 0.5)
    if minutes < _MINUTES_IN_HOUR:
        return f"{minutes}", "min"
    words = minutes_words(meal, meal.total_s)
    unit = "min" if words.endswith("min") else "h"
    return _bare(words, unit), unit


def _bare(words: str, unit: str) -> str:
    return words.removesuffix(f"\u00a0{unit}")
