"""Marking a run on its curve: where it begins and ends, and where its stages do. Readings stay where they are."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.db import transaction

from energy.models import Run, Stage
from energy.operations.judging import refresh_summary

_AS_TYPED_S = 0.01
"""Minutes are shown with four decimals. [s]"""


@dataclass(frozen=True)
class MarkedStage:
    """A stage that begins ``at_s`` after the start as it stood; ``key`` is the stage of the run that it was, if any."""

    at_s: float
    kind: str
    label: str = ""
    attended: bool = False
    key: int | None = None


@transaction.atomic
def mark_run(*, run: Run, begins_s: float, ends_s: float, stages: Sequence[MarkedStage]) -> dict[str, Any]:
    """Move a run's start and end and replace its stages; return what ``unmark_run`` needs to undo it.

    Moments count from the start as it stood. A run that goes on keeps going on. Every reading keeps its instant.
    """
    _hold(run)
    before, zero = _as_it_stands(run), run.started_at
    old = {stage.pk: stage for stage in run.stages.all()}
    fresh = [
        Stage(
            run=run,
            position=position,
            kind=stage.kind,
            label=stage.label,
            starts_at=_moved(old[stage.key].starts_at if stage.key in old else zero, zero, stage.at_s),
            attended=stage.attended,
            event=old[stage.key].event if stage.key in old else None,
        )
        for position, stage in enumerate(stages)
    ]
    ended_at = None if run.ended_at is None else _moved(run.ended_at, zero, ends_s)
    _put(run, _moved(zero, zero, begins_s), ended_at, fresh)
    return before


@transaction.atomic
def unmark_run(*, run: Run, before: dict[str, Any]) -> None:
    """Undo ``mark_run``; doing it twice changes nothing."""
    _hold(run)
    fresh = [
        Stage(
            run=run,
            position=position,
            kind=kind,
            label=label,
            starts_at=datetime.fromisoformat(starts_at),
            attended=attended,
            event=UUID(event) if event else None,
        )
        for position, (kind, label, starts_at, attended, event) in enumerate(before["stages"])
    ]
    ended_at = before["ended_at"] and datetime.fromisoformat(before["ended_at"])
    _put(run, datetime.fromisoformat(before["started_at"]), ended_at or None, fresh)


def _moved(stood: datetime, zero: datetime, at_s: float) -> datetime:
    """Return a moment that was typed; where it is the one that stood, to the hundredth of a second, that one exactly."""
    moment = zero + timedelta(seconds=at_s)
    return stood if abs((moment - stood).total_seconds()) < _AS_TYPED_S else moment


def _hold(run: Run) -> None:
    """Let nobody else change this run until the transaction ends."""
    run.refresh_from_db(fields=["started_at", "ended_at"], from_queryset=Run.objects.select_for_update())


def _as_it_stands(run: Run) -> dict[str, Any]:
    return {
        "started_at": run.started_at.isoformat(),
        "ended_at": run.ended_at.isoformat() if run.ended_at else None,
        "stages": [
            [stage.kind, stage.label, stage.starts_at.isoformat(), stage.attended, str(stage.event) if stage.event else ""]
            for stage in run.stages.order_by("position")
        ],
    }


def _put(run: Run, started_at: datetime, ended_at: datetime | None, stages: Sequence[Stage]) -> None:
    run.started_at, run.ended_at = started_at, ended_at
    run.save(update_fields=["started_at", "ended_at"])
    run.stages.all().delete()
    Stage.objects.bulk_create(stages)
    refresh_summary(run=run)
