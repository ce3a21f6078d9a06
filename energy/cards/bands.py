"""The band of a meal: its stages as wide as their minutes and as tall as their watts. Pure."""

from __future__ import annotations

from energy.charts.ink import stage_part
from energy.estimates.domain.meal import MealEnergy
from energy.words import ENGLISH, sentence
from energy.words.how_sure import energy_words
from energy.words.titles import what_costs_what
from kitchen.domain.band import Band


def meal_band(meal: MealEnergy) -> Band:
    """Return what is drawn over the time of a meal; of several batches one after the other."""
    stages = [stage for batch in meal.estimate.each_batch for stage in batch]
    whole = sentence(ENGLISH, "whole_for", energy=energy_words(meal, ENGLISH), servings=meal.servings)
    contrast = what_costs_what(meal.estimate.stages, ENGLISH)
    return Band(
        f"{whole}. {contrast}".strip(), whole, tuple(stage_part(one, measured=meal.measured) for one in stages), meal.measured
    )
