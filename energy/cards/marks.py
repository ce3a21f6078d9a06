"""The method's stages beside the measured ones."""

from __future__ import annotations

from collections.abc import Sequence

from energy.cards.presenting import minutes_words
from energy.domain.facts import StageEnergy
from energy.domain.meal import MealEnergy
from energy.domain.words import format_watts
from kitchen.cards import StageMark

_OFF_W = 5.0


def stage_marks(meal: MealEnergy, kinds: Sequence[str]) -> list[StageMark | None] | None:
    """Return a mark for each stage of the method, matched with the measured stages in their order; None for one not measured.

    Where no stage of the method was measured, there are no marks at all.
    """
    stages = meal.stages
    marks: list[StageMark | None] = []
    next_place = 0
    for kind in kinds:
        place = next((n for n in range(next_place, len(stages)) if stages[n].kind == kind), None)
        marks.append(None if place is None else _mark(stages[place], minutes_words(meal, stages[place].span_s)))
        next_place = next_place if place is None else place + 1
    return marks if any(marks) else None


def heat_of(stage: StageEnergy) -> str:
    """Return whether the element was ``on``, ``cycling`` or ``off`` in a stage."""
    if stage.mean_w < _OFF_W:
        return "off"
    return "cycling" if stage.cycling else "on"


def _mark(stage: StageEnergy, minutes: str) -> StageMark:
    heat = heat_of(stage)
    watts = {
        "on": format_watts(stage.peak_w if stage.peak_w is not None else stage.mean_w),
        "cycling": f"{format_watts(stage.mean_w)} mean",
        "off": "element off",
    }
    return StageMark(minutes, (watts[heat],), heat)
