"""The drawings of a meal: the strip of its stages, and its climb. Geometry, made once a page. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, TypeVar

from energy import charts
from energy.estimates.domain.meal import MealEnergy
from energy.facts import StageEnergy
from energy.kinds import source_kind
from energy.words import ENGLISH
from energy.words.figures import about_s, printed_step
from energy.words.how_sure import energy_words, stage_energy
from energy.words.remarks import sentence
from energy.words.titles import Fineness, what_costs_what
from kitchen.domain.remark import Remark

_Drawn = TypeVar("_Drawn", charts.Ladder, charts.Strip | None)


@dataclass(frozen=True)
class Drawings:
    """A meal's strip and its ladder, wide, narrow and beneath a picture; ``contrast`` tells which stages cost energy, not time.

    ``of_all`` says that the strip is that of all batches together; empty for one. ``card``, ``slip`` and ``sheet`` are the
    strips for paper, of each batch.
    """

    strip: charts.Strip | None
    strip_narrow: charts.Strip | None
    strip_head: charts.Strip | None
    card: charts.Strip | None
    slip: charts.Strip | None
    sheet: charts.Strip | None
    contrast: str
    of_all: str
    ladder: charts.Ladder
    ladder_narrow: charts.Ladder


def drawings(meal: MealEnergy) -> Drawings:
    """Return the drawings of a meal; their figures are no finer than its own."""
    stages = meal.estimate.stages
    return Drawings(
        strip=meal_strip(meal, "wide"),
        strip_narrow=meal_strip(meal, "narrow"),
        strip_head=meal_strip(meal, "head"),
        card=_of_each_batch(meal, "card"),
        slip=_of_each_batch(meal, "slip"),
        sheet=_of_each_batch(meal, "sheet"),
        contrast=what_costs_what(stages, ENGLISH),
        of_all=sentence(ENGLISH, "of_all_batches", batches=meal.batches) if meal.batches > 1 else "",
        ladder=climb(meal),
        ladder_narrow=climb(meal, narrow=True),
    )


def meal_strip(meal: MealEnergy, size: str) -> charts.Strip | None:
    """Return the strip of a meal, of all its batches, in a size."""
    return _as_a_range(meal, charts.strip(meal.estimate.stages, size=size, **_said(meal)))


def _said(meal: MealEnergy) -> dict[str, Any]:
    return {"language": ENGLISH, "fine": _fineness(meal), "measured": meal.measured, "limit": _limit(meal)}


def _of_each_batch(meal: MealEnergy, paper: str) -> charts.Strip | None:
    """Return the strip of one batch, for paper: where batches differ, each stage from the least to the most of it."""
    if meal.batches == 1:
        return meal_strip(meal, paper)
    drawn = charts.strip(
        [_any_of(stages, meal) for stages in zip(*meal.estimate.each_batch, strict=True)], size=paper, **_said(meal)
    )
    return None if drawn is None else replace(drawn, title=sentence(ENGLISH, "drawn_each_batch", title=drawn.title))


def _limit(meal: MealEnergy) -> tuple[float, str] | None:
    """Return what the source gives, and the words for it; None where its rating is not known. [W, -]"""
    supply = meal.draw.supply
    said = supply.verdict.said
    limit_w = said.values.get("limit_w") if isinstance(said, Remark) else None
    if not isinstance(limit_w, float | int):
        return None
    kind = source_kind(meal.facts.source.kind).label
    return float(limit_w), sentence(ENGLISH, "your_inverter_gives" if supply.own else "source_gives", kind=kind, limit_w=limit_w)


def _any_of(stages: Sequence[StageEnergy], meal: MealEnergy) -> StageEnergy:
    """Return a stage as it is in any batch: from the least of them to the most; the least where it is "at least"."""
    least = min(stages, key=lambda stage: stage.energy_wh - stage.uncertainty_wh)
    if meal.estimate.at_least:
        return least
    low_wh = least.energy_wh - least.uncertainty_wh
    high_wh = max(stage.energy_wh + stage.uncertainty_wh for stage in stages)
    return replace(least, energy_wh=(low_wh + high_wh) / 2, uncertainty_wh=(high_wh - low_wh) / 2)


def climb(meal: MealEnergy, *, narrow: bool = False, size: str = "") -> charts.Ladder:
    """Return the ladder of a meal, through all its batches; ``size`` names that of a picture."""
    made = meal.estimate
    stages = tuple(stage for batch in made.each_batch for stage in batch)
    shape: dict[str, Any] = {"narrow": narrow, "size": size, "batches": len(made.each_batch)}
    return _as_a_range(meal, charts.ladder(made.ladder, stages, language=ENGLISH, fine=_fineness(meal), **shape))


def _as_a_range(meal: MealEnergy, drawn: _Drawn) -> _Drawn:
    """Return a drawing of an estimate's middle with its range in its spoken title; a measured one as it is."""
    if meal.measured or drawn is None:
        return drawn
    code = "drawn_at_least" if meal.estimate.at_least else "drawn_estimate"
    title = sentence(ENGLISH, code, energy=energy_words(meal, ENGLISH), title=drawn.title)
    return replace(drawn, title=title)


def _fineness(meal: MealEnergy) -> Fineness:
    """Return how fine the figures of a meal's drawings are: as those in words beside them."""
    made = meal.estimate
    step_wh = printed_step(made.energy_wh, made.uncertainty_wh)
    if meal.measured:
        return Fineness(step_wh)
    return Fineness(
        max(step_wh, printed_step(made.energy_wh, 0.0)),
        made.at_least,
        partial(about_s, at_least=made.at_least),
        lambda stage: stage_energy(meal, stage, ENGLISH),
    )
