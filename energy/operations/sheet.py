"""Keeping what was typed from a log sheet: a whole cook with its notes, or more rows of a run, and taking them back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID, uuid4

from django.db import transaction

from energy.domain.sheet import row_names
from energy.models import Moment, Reading, Run, Stage
from energy.operations.judging import refresh_summary
from energy.operations.recording import record_run
from energy.operations.typed import NewReading, RunDetails, StageStart
from kitchen.domain.stages import STAGE_KINDS


@dataclass(frozen=True)
class NewNote:
    """What somebody wrote in a row without figures, ``at_s`` seconds after the start."""

    at_s: float
    text: str


@dataclass(frozen=True)
class TypedRows:
    """What the rows of a sheet hold."""

    readings: Sequence[NewReading] = ()
    stages: Sequence[StageStart] = ()
    notes: Sequence[NewNote] = ()

    @property
    def moments_s(self) -> list[float]:
        """The moments of all of them, from the start of the run."""
        readings, stages, notes = ([one.at_s for one in sort] for sort in (self.readings, self.stages, self.notes))
        return [*readings, *stages, *notes]


@transaction.atomic
def record_sheet(
    *, details: RunDetails, rows: TypedRows, operator: Any, running: bool = False, once: UUID | None = None, at: datetime
) -> Run:
    """Record a cook whole, with the notes between its readings; otherwise as ``record_run``.

    Raises
    ------
    SentBefore
        If the form has kept a run before and now says something else.
    """
    run = record_run(
        details=details, readings=rows.readings, stages=rows.stages, operator=operator, running=running, once=once, at=at
    )
    _write_notes(run, rows.notes, once or uuid4())
    if run.ended_at is not None and rows.notes:
        _go_on_to(run, [one.at_s for one in rows.notes])
        refresh_summary(run=run)
    return run


@transaction.atomic
def add_rows(*, run: Run, rows: TypedRows, once: UUID) -> dict[str, Any] | None:
    """Keep more readings, stage starts and notes of a run.

    Returns what ``take_rows_back`` needs, None where they were here already.
    ``once`` names the form: sent again, it adds nothing. A stage that began at the same moment gives way to the new one.
    """
    _hold(run)
    names = row_names(once, "reading", len(rows.readings))
    if _here_already(run, rows, once):
        return None
    ended_at = run.ended_at and run.ended_at.isoformat()
    Reading.objects.bulk_create(_reading(run, name, one) for name, one in zip(names, rows.readings, strict=True))
    _write_notes(run, rows.notes, once)
    over = _add_stages(run, rows.stages)
    _go_on_to(run, rows.moments_s)
    refresh_summary(run=run)
    counts = {"readings": len(rows.readings), "notes": len(rows.notes)}
    stages = [[_at(run, stage.at_s).isoformat(), stage.kind] for stage in rows.stages]
    gone_on = run.ended_at and run.ended_at.isoformat()
    return {"once": str(once), **counts, "stages": stages, "over": over, "ended_at": ended_at, "gone_on": gone_on}


@transaction.atomic
def take_rows_back(*, run: Run, added: dict[str, Any]) -> None:
    """Undo ``add_rows``; doing it twice changes nothing, and what was corrected or ended since stays so."""
    _hold(run)
    once = UUID(added["once"])
    run.readings.filter(pk__in=row_names(once, "reading", added["readings"])).delete()
    run.moments.filter(pk__in=row_names(once, "note", added["notes"])).delete()
    _take_stages_back(run, added["stages"], added["over"])
    if run.ended_at and run.ended_at.isoformat() == added["gone_on"] and added["ended_at"]:
        run.ended_at = datetime.fromisoformat(added["ended_at"])
        run.save(update_fields=["ended_at"])
    refresh_summary(run=run)


def _here_already(run: Run, rows: TypedRows, once: UUID) -> bool:
    """Return whether this form was kept before: what it named is there, or all the stages that it begins are."""
    names = [*row_names(once, "reading", len(rows.readings)), *row_names(once, "note", len(rows.notes))]
    if names:
        return Reading.objects.filter(pk__in=names).exists() or Moment.objects.filter(pk__in=names).exists()
    begun = set(run.stages.values_list("starts_at", "kind"))
    return all((_at(run, stage.at_s), stage.kind) in begun for stage in rows.stages)


def _write_notes(run: Run, notes: Sequence[NewNote], once: UUID) -> None:
    kept = [
        Moment(pk=name, run=run, at=_at(run, note.at_s), text=note.text)
        for name, note in zip(row_names(once, "note", len(notes)), notes, strict=True)
    ]
    Moment.objects.bulk_create(kept, ignore_conflicts=True)


def _add_stages(run: Run, stages: Sequence[StageStart]) -> list[list[Any]]:
    """Begin more stages; return those that began at the same moment and had to go."""
    moments = {_at(run, stage.at_s) for stage in stages}
    old = list(run.stages.all())
    over = [
        [one.starts_at.isoformat(), one.kind, one.label, one.attended, str(one.event) if one.event else ""]
        for one in old
        if one.starts_at in moments
    ]
    fresh = [
        Stage(run=run, kind=stage.kind, starts_at=_at(run, stage.at_s), attended=STAGE_KINDS[stage.kind].attended)
        for stage in stages
    ]
    if fresh:
        _put_stages(run, [*(one for one in old if one.starts_at not in moments), *fresh])
    return over


def _take_stages_back(run: Run, begun: Sequence[Sequence[str]], over: Sequence[Sequence[Any]]) -> None:
    """Let stages go that rows began, and those come back that had to go for them."""
    moments = {(datetime.fromisoformat(at), kind) for at, kind in begun}
    stages = list(run.stages.all())
    kept = [stage for stage in stages if (stage.starts_at, stage.kind) not in moments]
    if len(kept) == len(stages):
        return
    back = [
        Stage(
            run=run,
            starts_at=datetime.fromisoformat(at),
            kind=kind,
            label=label,
            attended=attended,
            event=UUID(event) if event else None,
        )
        for at, kind, label, attended, event in over
    ]
    _put_stages(run, [*kept, *back])


def _put_stages(run: Run, stages: Sequence[Stage]) -> None:
    run.stages.all().delete()
    for position, stage in enumerate(sorted(stages, key=lambda stage: stage.starts_at)):
        stage.pk, stage.position = None, position
    Stage.objects.bulk_create(sorted(stages, key=lambda stage: stage.position))


def _reading(run: Run, name: UUID, reading: NewReading) -> Reading:
    given = asdict(reading)
    return Reading(pk=name, run=run, at=_at(run, given.pop("at_s")), **given)


def _at(run: Run, at_s: float) -> datetime:
    return run.started_at + timedelta(seconds=at_s)


def _hold(run: Run) -> None:
    """Let nobody else change this run until the transaction ends."""
    run.refresh_from_db(fields=["started_at", "ended_at"], from_queryset=Run.objects.select_for_update())


def _go_on_to(run: Run, moments_s: Sequence[float]) -> None:
    """Let a run that had ended go on to the last of these moments."""
    last = _at(run, max(moments_s, default=0.0))
    if run.ended_at is not None and last > run.ended_at:
        run.ended_at = last
        run.save(update_fields=["ended_at"])
