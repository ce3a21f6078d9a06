"""Marking a run on its curve: where it begins and ends, and where its stages do. Readings stay where they are."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from energy.models import Run, Stage
from energy.runs.operations.run_rows import HeldRun, end_at, hold_run, put_stages, stage_row, start_at
from energy.runs.operations.sheet import stage_from
from energy.runs.operations.typed import StageStart

_AS_TYPED_S = 0.01
"""Minutes are shown with four decimals. [s]"""


def mark_run(*, run: Run, begins_s: float, ends_s: float, stages: Sequence[StageStart], at: datetime) -> dict[str, Any]:
    """Move a run's start and end and replace its stages; return what ``unmark_run`` needs to undo it.

    Moments count from the start as it stood. A run that goes on keeps going on. Every reading keeps its instant.
    """
    with hold_run(run) as held:
        before, zero = _as_it_stands(run), run.started_at
        old: dict[int | None, Stage] = {stage.pk: stage for stage in run.stages.all()}
        fresh = [_stage_at_mark(held, stage, old.get(stage.key), zero) for stage in stages]
        ended_at = None if run.ended_at is None else _moment_typed(run.ended_at, zero, ends_s)
        _put_marks(held, _moment_typed(zero, zero, begins_s), ended_at, fresh, at)
        return before


def unmark_run(*, run: Run, before: dict[str, Any], at: datetime) -> None:
    """Undo ``mark_run``; doing it twice changes nothing."""
    with hold_run(run) as held:
        fresh = [
            stage_from(held, (starts_at, kind, label, attended, event))
            for kind, label, starts_at, attended, event in before["stages"]
        ]
        ended_at = before["ended_at"] and datetime.fromisoformat(before["ended_at"])
        _put_marks(held, datetime.fromisoformat(before["started_at"]), ended_at or None, fresh, at)


def _stage_at_mark(held: HeldRun, stage: StageStart, old: Stage | None, zero: datetime) -> Stage:
    """Return a stage where it was put; one that it was before keeps its press."""
    starts_at = _moment_typed(old.starts_at if old else zero, zero, stage.at_s)
    return stage_row(held.run, starts_at, stage.kind, stage.label, stage.attended, event=old.event if old else None)


def _moment_typed(stood: datetime, zero: datetime, at_s: float) -> datetime:
    """Return a moment that was typed; where it is the one that stood, to the hundredth of a second, that one exactly."""
    moment = zero + timedelta(seconds=at_s)
    return stood if abs((moment - stood).total_seconds()) < _AS_TYPED_S else moment


def _as_it_stands(run: Run) -> dict[str, Any]:
    return {
        "started_at": run.started_at.isoformat(),
        "ended_at": run.ended_at.isoformat() if run.ended_at else None,
        "stages": [
            [stage.kind, stage.label, stage.starts_at.isoformat(), stage.attended, str(stage.event) if stage.event else ""]
            for stage in run.stages.order_by("position")
        ],
    }


def _put_marks(held: HeldRun, started_at: datetime, ended_at: datetime | None, stages: Sequence[Stage], at: datetime) -> None:
    start_at(held, started_at)
    end_at(held, ended_at)
    put_stages(held, stages, at)
