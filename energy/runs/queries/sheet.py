"""Reads for the log sheet and its grid: the rows that a method plans, which forms were kept, what stands on the paper."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from energy.models import Appliance, Reading, Run
from energy.runs.domain.samples import Sample
from energy.runs.domain.sheet import MOST_ROWS, SPARE_ROWS, PlannedRow, PlannedStage, planned_rows, row_names
from energy.runs.queries.recording import first_words, stage_proposals
from energy.runs.queries.table_samples import samples_in
from energy.words import ENGLISH, sentence
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Recipe, Revision

_MOST_PLANNED = 100
_FEWEST_SPARE = 3
_FORMS_REMEMBERED = 30


@dataclass(frozen=True)
class GridPlan:
    """The rows of a grid before anything is typed; ``is_sheet`` when they are those of the printed sheet."""

    rows: tuple[PlannedRow, ...] = ()
    is_sheet: bool = False
    spare: int = _FEWEST_SPARE


def grid_plan(revision: Revision, *, is_sheet: bool) -> GridPlan:
    """Return the rows to type a cook into: one for each stage, or those of the printed sheet. One query."""
    stages = stage_proposals(revision)
    if is_sheet:
        return GridPlan(tuple(planned_rows(stages, _MOST_PLANNED)), True, SPARE_ROWS)
    return GridPlan(tuple(PlannedRow(number, stage) for number, stage in enumerate(stages[:_MOST_PLANNED], start=1)))


def forms_kept(recipe: Recipe) -> list[str]:
    """Return the names of the forms that kept this recipe's last runs, so that a browser can forget what it held of them."""
    kept = Run.objects.filter(revision__recipe=recipe, once__isnull=False).order_by("-recorded_at", "-pk")
    return [str(once) for once in kept.values_list("once", flat=True)[:_FORMS_REMEMBERED]]


@dataclass(frozen=True)
class SheetStage:
    """A stage on the printed sheet: its name, what is planned in words, and its rows' numbers."""

    name: str
    planned: str
    numbers: tuple[int, ...]


def sheet_stages(rows: Sequence[PlannedRow]) -> list[SheetStage]:
    """Return a sheet's rows gathered under their stages."""
    stages: list[tuple[PlannedStage, list[int]]] = []
    for row in rows:
        if row.begins is not None:
            stages.append((row.begins, []))
        stages[-1][1].append(row.number)
    return [SheetStage(STAGE_KINDS[stage.kind].label.capitalize(), _planned(stage), tuple(numbers)) for stage, numbers in stages]


def usual_appliance(recipe: Recipe, revision: Revision, user: Any, now: Any) -> Appliance | None:
    """Return what this recipe will likely be cooked on, whose cautions belong on its sheet; nothing where nobody can know."""
    key = first_words(recipe, revision, user, now).get("appliance")
    return Appliance.objects.filter(pk=key).first() if key else None


def kept_readings(run: Run, once: UUID | None = None) -> list[Sample]:
    """Return a run's readings in the order of time, without those that the form named ``once`` has kept. One query."""
    own = row_names(once, "reading", MOST_ROWS) if once else []
    return list(samples_in(Reading.objects.filter(run=run).exclude(pk__in=own).order_by("at"), run.started_at))


def _planned(stage: PlannedStage) -> str:
    words = []
    if stage.about_min:
        words.append(sentence(ENGLISH, "about_minute", minute=stage.about_min.normalize()))
    if stage.planned_min:
        words.append(sentence(ENGLISH, "planned_minutes", minutes=stage.planned_min.normalize()))
    return ", ".join(words)
