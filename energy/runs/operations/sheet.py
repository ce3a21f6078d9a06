"""Keeping what was typed from a log sheet: more rows of a run, and taking them back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from energy.models import Moment, Reading, Run, Stage
from energy.runs.domain.sheet import row_names
from energy.runs.operations.recording import keep_rows
from energy.runs.operations.run_rows import HeldRun, go_on_to, hold_run, put_stages, remove_rows, stage_row
from energy.runs.operations.typed import TypedRows


def add_rows(*, run: Run, rows: TypedRows, once: UUID, at: datetime) -> dict[str, Any] | None:
    """Keep more readings, stage starts and notes of a run.

    Returns what ``take_rows_back`` needs, None where they were here already.
    ``once`` names the form: sent again, it adds nothing. A stage that began at the same moment gives way to the new one.
    """
    with hold_run(run) as held:
        if _here_already(held, rows, once):
            return None
        ended_at = run.ended_at and run.ended_at.isoformat()
        names = row_names(once, "reading", len(rows.readings))
        readings = [replace(one, id=name) for one, name in zip(rows.readings, names, strict=True)]
        over = _give_way(held, rows, at)
        keep_rows(held, replace(rows, readings=readings), once, at)
        go_on_to(held, held.instant(rows.last_s))
        counts = {"readings": len(rows.readings), "notes": len(rows.notes)}
        stages = [[held.instant(stage.at_s).isoformat(), stage.kind] for stage in rows.stages]
        gone_on = run.ended_at and run.ended_at.isoformat()
        return {"once": str(once), **counts, "stages": stages, "over": over, "ended_at": ended_at, "gone_on": gone_on}


def take_rows_back(*, run: Run, added: dict[str, Any], at: datetime) -> None:
    """Undo ``add_rows``; doing it twice changes nothing, and what was corrected or ended since stays so."""
    with hold_run(run) as held:
        once = UUID(added["once"])
        names = [row_names(once, sort, added[f"{sort}s"]) for sort in ("reading", "note")]
        remove_rows(held, readings=names[0], moments=names[1])
        _take_stages_back(held, added["stages"], added["over"], at)
        if run.ended_at and run.ended_at.isoformat() == added["gone_on"] and added["ended_at"]:
            run.typed_end = run.ended_at = datetime.fromisoformat(added["ended_at"])


def _here_already(held: HeldRun, rows: TypedRows, once: UUID) -> bool:
    """Return whether this form was kept before: what it named is there, or all the stages that it begins are."""
    names = [*row_names(once, "reading", len(rows.readings)), *row_names(once, "note", len(rows.notes))]
    if names:
        return Reading.objects.filter(pk__in=names).exists() or Moment.objects.filter(pk__in=names).exists()
    begun = set(held.run.stages.values_list("starts_at", "kind"))
    return all((held.instant(stage.at_s), stage.kind) in begun for stage in rows.stages)


def _give_way(held: HeldRun, rows: TypedRows, at: datetime) -> list[list[Any]]:
    """Let the stages go that began at the same moments as new ones, and return what brings them back."""
    moments = {held.instant(stage.at_s) for stage in rows.stages}
    stands = list(held.run.stages.all())
    over = [stage for stage in stands if stage.starts_at in moments]
    if over:
        put_stages(held, [stage for stage in stands if stage not in over], at)
    return [[one.starts_at.isoformat(), one.kind, one.label, one.attended, str(one.event) if one.event else ""] for one in over]


def _take_stages_back(held: HeldRun, begun: Sequence[Sequence[str]], over: Sequence[Sequence[Any]], at: datetime) -> None:
    """Let stages go that rows began, and those come back that had to go for them."""
    moments = {(datetime.fromisoformat(moment), kind) for moment, kind in begun}
    stands = list(held.run.stages.all())
    kept = [stage for stage in stands if (stage.starts_at, stage.kind) not in moments]
    if len(kept) < len(stands):
        put_stages(held, [*kept, *(stage_from(held, told) for told in over)], at)


def stage_from(held: HeldRun, told: Sequence[Any]) -> Stage:
    """Return a stage as an undo tells it: its start, kind, label, whether the cook stands there, and its press or nothing."""
    starts_at, kind, label, attended, event = told
    return stage_row(held.run, datetime.fromisoformat(starts_at), kind, label, attended, event=UUID(event) if event else None)
