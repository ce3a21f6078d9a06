"""Recording a cook: the run itself, its readings, its stages. Every change works the run's figures out again."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict
from datetime import datetime, timedelta
from typing import Any
from uuid import UUID

from django.contrib.auth import get_user_model
from django.db import transaction
from django.db.models import F

from energy.models import Reading, Run, Stage
from energy.operations.judging import refresh_summary
from energy.operations.typed import NewReading, RunDetails, StageStart
from kitchen.domain.stages import STAGE_KINDS
from kitchen.operations import lock_revision

DOUBLE_TAP_S = 10.0
"""A stage of the same kind that begins this soon after the last one is the same tap. [s]"""

_DETAILS = (
    "revision",
    "appliance",
    "source",
    "meter",
    "started_at",
    "servings",
    "ambient_c",
    "food_start_c",
    "altitude_m",
    "note",
)


class SentBefore(ValueError):
    """A form that has kept something before came again and says something else. ``run`` is what it kept, or where."""

    def __init__(self, words: str, run: Run) -> None:
        super().__init__(words)
        self.run = run


@transaction.atomic
def record_run(
    *,
    details: RunDetails,
    readings: Sequence[NewReading],
    stages: Sequence[StageStart],
    operator: Any,
    running: bool = False,
    once: UUID | None = None,
    at: datetime,
) -> Run:
    """Record a cook whole and return it; the revision that was cooked is locked. ``running``: more readings will follow.

    ``once`` names the form: sent again as it was, it returns the run that it made.

    Raises
    ------
    SentBefore
        If the form has kept a run before and now says something else.
    """
    before = _recorded(once, operator)
    if before is not None:
        if not _says_the_same(before, details, readings, stages):
            raise SentBefore("This form has kept a cook before, and it said something else.", before)
        return before
    last_s = max((item.at_s for item in [*readings, *stages]), default=0.0)
    ended_at = None if running else details.started_at + timedelta(seconds=last_s)
    given = {name: getattr(details, name) for name in _DETAILS}
    run = Run.objects.create(**given, ended_at=ended_at, operator=operator, once=once, recorded_at=at)
    Reading.objects.bulk_create(_reading(run, reading) for reading in readings)
    _write_stages(run, stages)
    lock_revision(revision=details.revision, at=at)
    refresh_summary(run=run)
    return run


@transaction.atomic
def edit_run(*, run: Run, details: RunDetails, at: datetime) -> None:
    """Change what was written about a run. A new start moves its readings and stages along: minutes stay minutes."""
    _hold(run)
    moved = details.started_at - run.started_at
    for name in _DETAILS:
        setattr(run, name, getattr(details, name))
    if run.ended_at is not None:
        run.ended_at += moved
    run.save()
    if moved:
        _move(run, moved)
    lock_revision(revision=details.revision, at=at)
    refresh_summary(run=run)


@transaction.atomic
def remove_run(*, run: Run) -> None:
    """Remove a run with its readings and stages."""
    run.delete()


@transaction.atomic
def add_reading(*, run: Run, reading: NewReading, key: UUID | None = None, moment_given: bool = True) -> Reading:
    """Keep one more reading; a run that had ended goes on to it.

    ``key`` becomes the reading's own: sent again as it was, it changes nothing. ``moment_given`` False means "now", which is
    later when it is sent again.

    Raises
    ------
    SentBefore
        If a reading with this key is kept and says something else.
    """
    _hold(run)
    kept = _reading(run, reading)
    before = None if key is None else Reading.objects.filter(pk=key).select_related("run").first()
    if before is not None:
        return _same_reading(before, kept, moment_given)
    kept.pk = key or kept.pk
    kept.save(force_insert=True)
    _go_on_to(run, kept.at)
    refresh_summary(run=run)
    return kept


@transaction.atomic
def correct_reading(*, reading: Reading, now: NewReading) -> None:
    """Put right what a reading says."""
    run = reading.run
    _hold(run)
    reading.at = run.started_at + timedelta(seconds=now.at_s)
    reading.energy_wh, reading.power_w, reading.charge_pct = now.energy_wh, now.power_w, now.charge_pct
    reading.note = now.note
    reading.save()
    _go_on_to(run, reading.at)
    refresh_summary(run=run)


@transaction.atomic
def remove_reading(*, reading: Reading) -> dict[str, Any]:
    """Remove a reading and return what ``put_back_reading`` needs to undo it."""
    run = reading.run
    _hold(run)
    at_s = (reading.at - run.started_at).total_seconds()
    names = ("energy_wh", "power_w", "charge_pct", "note", "origin")
    removed = {"id": str(reading.pk), "at_s": at_s, **{name: getattr(reading, name) for name in names}}
    reading.delete()
    refresh_summary(run=run)
    return removed


@transaction.atomic
def put_back_reading(*, run: Run, removed: dict[str, Any]) -> None:
    """Undo ``remove_reading``; doing it twice changes nothing."""
    _hold(run)
    given = {name: value for name, value in removed.items() if name != "id"}
    fresh = _reading(run, NewReading(**given))
    Reading.objects.get_or_create(
        pk=removed["id"],
        defaults={"run": run, "at": fresh.at, **{name: value for name, value in given.items() if name != "at_s"}},
    )
    refresh_summary(run=run)


@transaction.atomic
def import_readings(*, run: Run, readings: Iterable[NewReading]) -> int:
    """Keep the readings of a log and return how many were new; what was imported before is not doubled."""
    _hold(run)
    known = set(run.readings.values_list("at", flat=True))
    fresh = [kept for kept in (_reading(run, reading) for reading in readings) if kept.at not in known]
    Reading.objects.bulk_create(fresh, batch_size=500)
    if fresh:
        _go_on_to(run, max(reading.at for reading in fresh))
    refresh_summary(run=run)
    return len(fresh)


@transaction.atomic
def mark_stages(*, run: Run, stages: Sequence[StageStart]) -> None:
    """Replace a run's stages."""
    _hold(run)
    _write_stages(run, stages)
    refresh_summary(run=run)


@transaction.atomic
def mark_next_stage(*, run: Run, stage: StageStart) -> None:
    """Let one more stage begin; the one that ran at that moment ends there. A double tap begins it once."""
    _hold(run)
    kept = [
        StageStart((old.starts_at - run.started_at).total_seconds(), old.kind, old.label, old.attended)
        for old in run.stages.all()
    ]
    if kept and kept[-1].kind == stage.kind and 0 <= stage.at_s - kept[-1].at_s < DOUBLE_TAP_S:
        return
    kept = [old for old in kept if old.at_s != stage.at_s]
    _write_stages(run, [*kept, stage])
    if kept and run.ended_at is not None:
        _go_on_to(run, run.started_at + timedelta(seconds=stage.at_s))
    refresh_summary(run=run)


@transaction.atomic
def finish_run(*, run: Run, ended_at: datetime) -> None:
    """End a run, not before its last reading or stage."""
    _hold(run)
    moments = [*run.readings.values_list("at", flat=True), *run.stages.values_list("starts_at", flat=True)]
    run.ended_at = max([run.started_at, ended_at, *moments])
    run.save(update_fields=["ended_at"])
    refresh_summary(run=run)


def _hold(run: Run) -> None:
    """Let nobody else change this run until the transaction ends: two phones may log the same cook."""
    run.refresh_from_db(fields=["started_at", "ended_at"], from_queryset=Run.objects.select_for_update())


def _recorded(once: UUID | None, operator: Any) -> Run | None:
    """Return the run that a form has made; its sender waits here while the same form is being kept."""
    if once is None:
        return None
    list(get_user_model().objects.select_for_update().filter(pk=operator.pk))
    return Run.objects.filter(once=once).first()


def _says_the_same(run: Run, details: RunDetails, readings: Sequence[NewReading], stages: Sequence[StageStart]) -> bool:
    """Return whether a run holds all of this; it may have gone on since."""
    kept = {_shows(reading) for reading in run.readings.all()}
    begun = {(stage.starts_at, stage.kind, stage.label) for stage in run.stages.all()}
    return (
        all(getattr(run, name) == getattr(details, name) for name in _DETAILS)
        and {_shows(_reading(run, reading)) for reading in readings} <= kept
        and {(run.started_at + timedelta(seconds=stage.at_s), stage.kind, stage.label) for stage in stages} <= begun
    )


def _shows(reading: Reading) -> tuple[object, ...]:
    return (reading.at, reading.energy_wh, reading.power_w, reading.charge_pct)


def _same_reading(before: Reading, now: Reading, moment_given: bool) -> Reading:
    """Return the reading that was kept, which is only sent once more.

    Raises
    ------
    SentBefore
        If it is not the same.
    """
    same_moment = before.at == now.at or not moment_given
    if before.run_id == now.run_id and same_moment and _shows(before)[1:] == _shows(now)[1:]:
        return before
    words = "This form has kept a reading before, and it said something else. Send it once more to keep this one too."
    raise SentBefore(words, before.run)


def _reading(run: Run, reading: NewReading) -> Reading:
    given = asdict(reading)
    return Reading(run=run, at=run.started_at + timedelta(seconds=given.pop("at_s")), **given)


def _start(run: Run, stage: Stage) -> StageStart:
    return StageStart((stage.starts_at - run.started_at).total_seconds(), stage.kind, stage.label, stage.attended)


def _write_stages(run: Run, stages: Sequence[StageStart]) -> None:
    """Replace the stages; one that stays where it was keeps the press that began it, so that it can still be taken back."""
    presses = {(stage.starts_at, stage.kind): stage.event for stage in run.stages.all()}
    run.stages.all().delete()
    Stage.objects.bulk_create(
        Stage(
            run=run,
            position=position,
            kind=stage.kind,
            label=stage.label,
            starts_at=run.started_at + timedelta(seconds=stage.at_s),
            attended=STAGE_KINDS[stage.kind].attended if stage.attended is None else stage.attended,
            event=presses.get((run.started_at + timedelta(seconds=stage.at_s), stage.kind)),
        )
        for position, stage in enumerate(sorted(stages, key=lambda stage: stage.at_s))
    )


def _go_on_to(run: Run, moment: datetime) -> None:
    if run.ended_at is not None and moment > run.ended_at:
        run.ended_at = moment
        run.save(update_fields=["ended_at"])


def _move(run: Run, by: timedelta) -> None:
    readings, stages = list(run.readings.all()), list(run.stages.all())
    for reading in readings:
        reading.at += by
    for stage in stages:
        stage.starts_at += by
    Reading.objects.bulk_update(readings, ["at"], batch_size=200)
    Stage.objects.bulk_update(stages, ["starts_at"])
    run.moments.update(at=F("at") + by)
    run.pauses = [[instant and (datetime.fromisoformat(instant) + by).isoformat() for instant in pause] for pause in run.pauses]
    run.save(update_fields=["pauses"])
