"""The band of a meal: its stages as wide as their minutes and as tall as their watts. Pure."""

from __future__ import annotations

from energy.cards.marks import heat_of
from energy.estimates.domain.meal import MealEnergy
from energy.facts import StageEnergy
from energy.words import ENGLISH, sentence
from energy.words.how_sure import energy_words
from energy.words.titles import what_costs_what
from kitchen.domain.band import Band, BandPart

_STEADY = 0.85
"""From which share of its peak a stage's mean is drawn as one block: below it the element ticks."""


def meal_band(meal: MealEnergy) -> Band:
    """Return what is drawn over the time of a meal; of several batches one after the other."""
    stages = [stage for batch in meal.estimate.each_batch for stage in batch]
    whole = sentence(ENGLISH, "whole_for", energy=energy_words(meal, ENGLISH), servings=meal.servings)
    contrast = what_costs_what(meal.estimate.stages, ENGLISH)
    return Band(f"{whole}. {contrast}".strip(), whole, tuple(_part(one, meal.measured) for one in stages), meal.measured)


def _part(stage: StageEnergy, measured: bool) -> BandPart:
    if heat_of(stage) == "off":
        return BandPart(round(stage.span_s, 1), on=0.0, power_w=0.0)
    peak_w = max(stage.peak_w or 0.0, stage.mean_w)
    ticks = stage.mean_w < _STEADY * peak_w
    doubt = 0.0 if measured or not stage.energy_wh else 2 * stage.uncertainty_wh / (stage.energy_wh + stage.uncertainty_wh)
    return BandPart(
        round(stage.span_s, 1),
        round(peak_w if ticks else stage.mean_w, 1),
        round(stage.mean_w / peak_w, 4) if ticks else 1.0,
        round(min(doubt, 1.0), 3),
    )
