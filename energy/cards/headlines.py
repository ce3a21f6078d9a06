"""The large figures that the energy card contributes, and the numbers that the library sorts by."""

from __future__ import annotations

from decimal import Decimal

from energy.domain.facts import EnergyFacts
from energy.domain.meal import MealEnergy
from energy.domain.words import format_minutes, format_watts, format_wh
from kitchen.cards import Headline

_LONGEST_IN_MINUTES_S = 100 * 60


def energy_headlines(facts: EnergyFacts, meal: MealEnergy) -> list[Headline]:
    """Return energy a serving, the peak (where it is known) and the minutes."""
    total = _bare(format_wh(meal.load_wh, meal.uncertainty_wh), "Wh")
    each = _bare(format_wh(meal.per_serving_wh), "Wh")
    about = "" if meal.standing == "measured" else "estimated, "
    found = [Headline("energy", each, "Wh", f"each serving, {about}{total} in all", "energy", meal.standing, "energy", 10)]
    if facts.peak_w is not None:
        words = "at its peak" if facts.peak_seen else "at its peak, or more"
        found.append(Headline("peak", _bare(format_watts(facts.peak_w), "W"), "W", words, "energy", "measured", "energy", 20))
    return [*found, _minutes(meal)]


def energy_figures(facts: EnergyFacts, meal: MealEnergy) -> dict[str, Decimal]:
    """Return the numbers for filters and sorts; a peak that nobody knows is left out."""
    found = {
        "energy_per_serving_wh": meal.per_serving_wh,
        "energy_wh": meal.load_wh,
        "total_min": meal.total_s / 60,
        "runs": facts.counted_runs,
    }
    if facts.peak_w is not None:
        found["peak_w"] = facts.peak_w
    return {name: Decimal(str(round(value, 4))) for name, value in found.items()}


def _minutes(meal: MealEnergy) -> Headline:
    value = f"{meal.total_s / 60:.0f}" if meal.total_s < _LONGEST_IN_MINUTES_S else _bare(format_minutes(meal.total_s), "min")
    at_the_pot = format_minutes(meal.attended_s) if meal.attended_s >= 30 else "none"
    words = f"{format_minutes(meal.cooking_s)} cooking, {at_the_pot} at the pot"
    return Headline("minutes", value, "min", words, "plain", meal.standing, "energy", 30)


def _bare(words: str, unit: str) -> str:
    return words.removesuffix(f"\u00a0{unit}")
