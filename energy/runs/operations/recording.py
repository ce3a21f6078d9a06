"""Recording a cook: the run itself, its readings, its stages. Every change works the run's figures out again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import fields, replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.contrib.auth import get_user_model
from django.db import transaction

from energy.models import Reading, Run, Stage
from energy.runs.domain.desk import DOUBLE_TAP_S
from energy.runs.domain.samples import Sample
from energy.runs.domain.sheet import row_names
from energy.runs.operations.run_rows import (
    HeldRun,
    add_file,
    add_notes,
    add_readings,
    change_reading,
    drop_reading,
    end_at,
    go_on_to,
    hold_run,
    move_run,
    put_reading_back,
    put_stages,
    stage_row,
)
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows
from kitchen.operations import lock_revision

_DETAILS = [field.name for field in fields(RunDetails)]


class SentBefore(ValueError):
    """A form that has kept something before came again and says something else. ``run`` is what it kept, or where."""

    def __init__(self, words: str, run: Run) -> None:
        super().__init__(words)
        self.run = run


@transaction.atomic
def record_run(
    *,
    details: RunDetails,
    rows: TypedRows,
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
        if not _says_the_same(before, details, rows):
            raise SentBefore("This form has kept a cook before, and it said something else.", before)
        return before
    given = {name: getattr(details, name) for name in _DETAILS}
    run = Run.objects.create(**given, operator=operator, once=once, recorded_at=at)
    with hold_run(run) as held:
        held.touch()
        if not running:
            run.typed_end = run.ended_at = held.instant(rows.last_s)
        keep_rows(held, rows, once or uuid4(), at, operator)
    lock_revision(revision=details.revision, at=at)
    return run


def keep_rows(held: HeldRun, rows: TypedRows, once: UUID, at: datetime, by: Any = None) -> None:
    """Keep the readings, stages and notes of a form that is new here; its notes take their names from its own."""
    file = None if rows.file is None else add_file(held, rows.file, held.run.started_at, by, at)
    *_, kept = (0, *add_readings(held, rows.readings, loaded=file))
    if file is not None:
        file.rows = kept
        file.save(update_fields=["rows"])
    names = row_names(once, "note", len(rows.notes))
    add_notes(held, [(name, note.at_s, note.text) for name, note in zip(names, rows.notes, strict=True)])
    if rows.stages:
        put_stages(held, [*held.run.stages.all(), *(begin(held, stage) for stage in rows.stages)], at)


def begin(held: HeldRun, stage: StageStart) -> Stage:
    """Return the stage that begins there; it is not kept yet."""
    return stage_row(held.run, held.instant(stage.at_s), stage.kind, stage.label, stage.attended)


def edit_run(*, run: Run, details: RunDetails, at: datetime) -> None:
    """Change what was written about a run. A new start moves its readings and stages along: minutes stay minutes."""
    with hold_run(run) as held:
        move_run(held, details.started_at - run.started_at)
        for name in _DETAILS:
            setattr(run, name, getattr(details, name))
        lock_revision(revision=details.revision, at=at)


@transaction.atomic
def remove_runs(*, runs: Sequence[Run]) -> int:
    """Remove runs with all they hold, and return how many there were."""
    held = Run.objects.select_for_update().filter(pk__in=[run.pk for run in runs]).order_by("pk")
    return len([run.delete() for run in list(held)])


def add_reading(*, run: Run, reading: Sample, key: UUID | None = None, moment_given: bool = True) -> Reading:
    """Keep one more reading; a run that had ended goes on to it.

    ``key`` becomes the reading's own: sent again as it was, it changes nothing. ``moment_given`` False means "now", which is
    later when it is sent again.

    Raises
    ------
    SentBefore
        If a reading with this key is kept and says something else.
    """
    with hold_run(run) as held:
        before = None if key is None else Reading.objects.filter(pk=key).select_related("run").first()
        if before is not None:
            return _same_reading(before, held, reading, moment_given)
        name = key or uuid4()
        list(add_readings(held, [replace(reading, id=name)]))
        go_on_to(held, held.instant(reading.at_s))
        return run.readings.get(pk=name)


def correct_reading(*, reading: Reading, now: Sample) -> None:
    """Put right what a reading says.

    Raises
    ------
    Gone
        If it was taken back meanwhile.
    """
    with hold_run(reading.run) as held:
        change_reading(held, reading.pk, now)
        go_on_to(held, held.instant(now.at_s))


def remove_reading(*, reading: Reading, at: datetime) -> dict[str, Any]:
    """Remove a reading and return what ``put_back_reading`` needs to undo it."""
    with hold_run(reading.run) as held:
        at_s = (reading.at - held.run.started_at).total_seconds()
        names = ("energy_wh", "power_w", "charge_pct", "note", "origin")
        drop_reading(held, reading.pk, at)
        return {"id": str(reading.pk), "at_s": at_s, **{name: getattr(reading, name) for name in names}}


def put_back_reading(*, run: Run, removed: dict[str, Any]) -> None:
    """Undo ``remove_reading``; doing it twice changes nothing."""
    with hold_run(run) as held:
        key = UUID(removed["id"])
        put_reading_back(held, key, Sample(**{**removed, "id": key}))


def mark_stages(*, run: Run, stages: Sequence[StageStart], at: datetime) -> None:
    """Let these be a run's stages. One that stays where it was keeps the press that began it, so that it can be taken back."""
    with hold_run(run) as held:
        presses = {(stage.starts_at, stage.kind): stage.event for stage in run.stages.all()}
        wanted = [begin(held, stage) for stage in stages]
        for stage in wanted:
            stage.event = presses.get((stage.starts_at, stage.kind))
        put_stages(held, wanted, at)


def mark_next_stage(*, run: Run, stage: StageStart, at: datetime) -> None:
    """Let one more stage begin; the one that ran at that moment ends there. A double tap begins it once."""
    with hold_run(run) as held:
        stands, fresh = list(run.stages.all()), begin(held, stage)
        last = stands[-1] if stands else None
        if last and last.kind == stage.kind and 0 <= (fresh.starts_at - last.starts_at).total_seconds() < DOUBLE_TAP_S:
            return
        put_stages(held, [*(old for old in stands if old.starts_at != fresh.starts_at), fresh], at)
        if stands:
            go_on_to(held, fresh.starts_at)


def finish_run(*, run: Run, ended_at: datetime) -> None:
    """End a run, not before its last reading or stage."""
    with hold_run(run) as held:
        moments = [*run.readings.values_list("at", flat=True), *run.stages.values_list("starts_at", flat=True)]
        end_at(held, max([run.started_at, ended_at, *moments]))


def _recorded(once: UUID | None, operator: Any) -> Run | None:
    """Return the run that a form has made; its sender waits here while the same form is being kept."""
    if once is None:
        return None
    list(get_user_model().objects.select_for_update(no_key=True).filter(pk=operator.pk))
    return Run.objects.filter(once=once).first()


def _says_the_same(run: Run, details: RunDetails, rows: TypedRows) -> bool:
    """Return whether a run holds all of this; it may have gone on since."""
    held = HeldRun(run, {})
    kept = set(run.readings.values_list("at", "energy_wh", "power_w", "charge_pct"))
    begun = set(run.stages.values_list("starts_at", "kind", "label"))
    return (
        all(getattr(run, name) == getattr(details, name) for name in _DETAILS)
        and {(held.instant(reading.at_s), *reading.figures) for reading in rows.readings} <= kept
        and {(held.instant(stage.at_s), stage.kind, stage.label) for stage in rows.stages} <= begun
    )


def _same_reading(before: Reading, held: HeldRun, now: Sample, moment_given: bool) -> Reading:
    """Return the reading that was kept, which is only sent once more.

    Raises
    ------
    SentBefore
        If it is not the same.
    """
    same_moment = before.at == held.instant(now.at_s) or not moment_given
    if before.run_id == held.run.pk and same_moment and (before.energy_wh, before.power_w, before.charge_pct) == now.figures:
        return before
    words = "This form has kept a reading before, and it said something else. Send it once more to keep this one too."
    raise SentBefore(words, before.run)
