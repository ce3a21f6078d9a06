"""From when to when a run was: its start and end, with and without all that it holds."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import F, Max

from energy.models import DeskEvent
from energy.runs.domain.desk import KINDS
from energy.runs.operations.run_rows.holding import HeldRun
from energy.runs.operations.run_rows.presses import later_end, pressing


def move_run(held: HeldRun, by: timedelta) -> None:
    """Let a run start earlier or later with all that it holds: minutes stay minutes, and presses move along."""
    run = held.run
    if not by:
        return
    run.readings.update(at=F("at") + by)
    run.moments.update(at=F("at") + by)
    run.stages.update(starts_at=F("starts_at") + by)
    DeskEvent.objects.filter(run=run, kind__in=("begin", *KINDS), at__isnull=False).update(at=F("at") + by)
    run.pauses = [_moved(pause, by) for pause in run.pauses]
    for file in run.files.all():
        if file.came.get("holes"):
            file.came["holes"] = [_moved(hole, by) for hole in file.came["holes"]]
            file.save(update_fields=["came"])
    run.started_at += by
    run.ended_at = run.ended_at and run.ended_at + by
    run.typed_end = run.typed_end and run.typed_end + by
    held.touch()


def _moved(instants: list[str | None], by: timedelta) -> list[str | None]:
    """Return instants as RFC 3339, so much later."""
    return [instant and (datetime.fromisoformat(instant) + by).isoformat() for instant in instants]


def start_at(held: HeldRun, moment: datetime) -> None:
    """Let a run begin at another instant; what it holds stays where it is."""
    held.run.started_at = moment


def end_at(held: HeldRun, moment: datetime | None) -> None:
    """Let a run end there, also where it was finished later at a desk; None: where its presses say, if they do."""
    finishes = DeskEvent.objects.filter(run=held.run, kind="finish", withdrawn_at=None)
    held.run.typed_end = moment
    with pressing(held):
        if moment is not None:
            finishes.filter(at__gt=moment).update(at=moment)
    held.run.ended_at = later_end(held.run, finishes.aggregate(last=Max("at"))["last"])


def go_on_to(held: HeldRun, moment: datetime) -> None:
    """Let a run that had ended go on to a moment; one that goes on goes on."""
    if held.run.ended_at is not None and moment > held.run.ended_at:
        held.run.typed_end = held.run.ended_at = moment
