"""The method's stages beside the measured ones."""

from __future__ import annotations

from collections.abc import Sequence

from energy.cards.presenting import minutes_words
from energy.charts.ink import heat_of
from energy.estimates.domain.meal import MealEnergy
from energy.facts import StageEnergy
from energy.words import ENGLISH, sentence
from energy.words.figures import format_watts
from energy.words.how_sure import minutes_range
from kitchen.cards import StageMark

_FELT_C = 0.5
_AT_THE_BOIL = ("come_up", "hold")


def stage_marks(meal: MealEnergy, kinds: Sequence[str]) -> list[StageMark | None] | None:
    """Return a mark for each stage of the method, matched with the measured stages in their order; None for one not measured.

    Where no stage of the method was measured, there are no marks at all. Of several batches it is one, its minutes from the
    quickest to the slowest.
    """
    batches, hottest_c = meal.estimate.each_batch, _hottest_c(meal)
    marks: list[StageMark | None] = []
    next_place = 0
    for kind in kinds:
        place = next((n for n in range(next_place, len(batches[0])) if batches[0][n].kind == kind), None)
        marks.append(None if place is None else _mark(meal, [stages[place] for stages in batches], hottest_c))
        next_place = next_place if place is None else place + 1
    return marks if any(marks) else None


def _hottest_c(meal: MealEnergy) -> float | None:
    """Return how hot it gets where it is cooked, if that is less hot than where it was measured. [C]"""
    balance = meal.balance
    return balance.now.end_c if balance is not None and balance.now.end_c < balance.then.end_c - _FELT_C else None


def _mark(meal: MealEnergy, batches: Sequence[StageEnergy], hottest_c: float | None) -> StageMark:
    stage = batches[0]
    heat, spans_s = heat_of(stage), sorted(one.span_s for one in batches)
    watts = {
        "on": format_watts(stage.peak_w if stage.peak_w is not None else stage.mean_w),
        "cycling": sentence(ENGLISH, "mean_power", mean_w=stage.mean_w),
        "off": sentence(ENGLISH, "element_off"),
    }
    boils = stage.kind in _AT_THE_BOIL
    return StageMark(
        minutes=minutes_words(meal, spans_s[0]) if spans_s[0] == spans_s[-1] else minutes_range(spans_s[0], spans_s[-1], ENGLISH),
        words=(watts[heat],),
        heat=heat,
        hottest_c=hottest_c if boils else None,
        span_s=stage.span_s,
    )
