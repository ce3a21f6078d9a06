"""Reading a meter's file into a run, taking it out again, and making runs of one log. A file's readings know their file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from energy.models import FileShape, LoadedFile, Run
from energy.runs.domain.log_columns import LONGEST_S, LogColumns, part_of, without_steady
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.run_rows import HeldRun, add_file, add_readings, confirm_file, end_at, go_on_to, hold_run, move_run
from energy.runs.operations.typed import FileFacts, RunDetails, StageStart, TypedRows

MARGIN_S = 3600.0
"""Readings this long before and after a cook are kept with it, so that its ends can be moved. [s]"""

MOST_READINGS = 150_000
"""A run keeps at most so many readings of one file: 41 hours at one a second."""

_UNENDED_S = 60.0

Progress = Callable[[float], None]


class TooManyReadings(ValueError):
    """More readings than a run keeps; the message says what to do."""


@dataclass(frozen=True)
class Loaded:
    """What came of reading a file in: how many readings are new, were there before, or lie too far from the cook."""

    file: LoadedFile
    fresh: int
    known: int
    far: int
    steady: int


@dataclass(frozen=True)
class CookOfLog:
    """One cook of a longer log: from where to where, what it was, and the kind of stage that it begins with. [s, s]"""

    start_s: float
    end_s: float
    details: RunDetails
    stage: str


def load_file(
    *,
    run: Run,
    readings: LogColumns,
    facts: FileFacts,
    placing: str,
    by: Any,
    at: datetime,
    progress: Progress | None = None,
) -> Loaded:
    """Read a file into a run and work its figures out.

    ``placing`` is ``dates`` (where the file's own instants are), ``start`` (the first row is the run's start) or ``move`` (the
    run, with all it holds, moves so that it starts with the file). A run that ended where it began ends with the file.

    Raises
    ------
    TooManyReadings
        If the file has more readings in the cook than a run keeps.
    """
    with hold_run(run) as held:
        before, moved = _ends(run), timedelta()
        if placing == "move" and readings.start is not None:
            moved = readings.start - run.started_at
            move_run(held, moved)
        zero = run.started_at if placing == "start" or readings.start is None else readings.start
        offset_s = (zero - run.started_at).total_seconds()
        loaded = _load(held, readings, facts, offset_s, by=by, at=at, progress=progress)
        loaded.file.before = {**before, "moved_s": moved.total_seconds(), "after": _ends(run)}
        loaded.file.save(update_fields=["before"])
        return loaded


def unload_file(*, file: LoadedFile) -> None:
    """Take a file's readings out again; the run's start and end go back to where they were, unless they were moved since."""
    run = file.run
    with hold_run(run) as held:
        before, after, stood = file.before, file.before.get("after"), _ends(run)
        file.delete()
        held.touch()
        if after and stood["started_at"] == after["started_at"]:
            move_run(held, timedelta(seconds=-before["moved_s"]))
        if after and stood["ended_at"] == after["ended_at"]:
            end_at(held, before["ended_at"] and datetime.fromisoformat(before["ended_at"]))


def confirm_doubts(*, file: LoadedFile) -> None:
    """Note that a file was read rightly where that was in doubt; twice changes nothing."""
    with hold_run(file.run) as held:
        confirm_file(held, file)


@transaction.atomic
def record_cooks(
    *,
    cooks: Sequence[CookOfLog],
    readings: LogColumns,
    facts: FileFacts,
    by: Any,
    at: datetime,
    progress: Progress | None = None,
) -> list[Run]:
    """Make a run of each cook of a log, all of them or none. Each begins with one stage, and its neighbours' hours stay out."""
    made = []
    for place, cook in enumerate(cooks):
        run = record_run(details=cook.details, rows=TypedRows(stages=[StageStart(0.0, cook.stage)]), operator=by, at=at)
        low_s = max(cook.start_s - MARGIN_S, cooks[place - 1].end_s if place else cook.start_s - MARGIN_S)
        high_s = min(cook.end_s + MARGIN_S, cooks[place + 1].start_s if place + 1 < len(cooks) else cook.end_s + MARGIN_S)
        with hold_run(run) as held:
            end_at(held, held.instant(cook.end_s - cook.start_s))
            loaded = _load(held, part_of(readings, low_s, high_s), facts, -cook.start_s, by=by, at=at, progress=None)
            loaded.file.before = {**_ends(run), "made": True}
            loaded.file.save(update_fields=["before"])
        made.append(run)
        if progress is not None:
            progress((place + 1) / len(cooks))
    return made


@transaction.atomic
def keep_shape(*, name: str, shape: dict[str, Any], at: datetime) -> FileShape:
    """Keep a way of reading under a name; the same name again takes the new way."""
    kept, _ = FileShape.objects.update_or_create(name=name, defaults={"shape": shape, "made_at": at})
    return kept


@transaction.atomic
def rename_shape(*, shape: FileShape, name: str) -> None:
    """Give a kept way of reading another name."""
    shape.name = name
    shape.save(update_fields=["name"])


@transaction.atomic
def remove_shape(*, shape: FileShape) -> dict[str, Any]:
    """Remove a kept way of reading and return what ``keep_shape`` needs to put it back."""
    removed = {"name": shape.name, "shape": shape.shape}
    shape.delete()
    return removed


def _load(
    held: HeldRun, readings: LogColumns, facts: FileFacts, offset_s: float, *, by: Any, at: datetime, progress: Progress | None
) -> Loaded:
    """Keep the readings that lie near the cook; times are the file's plus an offset."""
    run = held.run
    low_s, high_s = _window(run)
    near = part_of(readings, low_s - offset_s, high_s - offset_s)
    kept = without_steady(near) if near.count > MOST_READINGS // 3 else near
    if kept.count > MOST_READINGS:
        raise TooManyReadings(
            f"The file has {kept.count:,} readings in this cook, and a cook keeps {MOST_READINGS:,}. Move the cook’s start and "
            "end to one cook, or record its cooks from the recipe’s page."
        )
    file = add_file(held, replace(facts, came=kept.came), held.instant(offset_s), by, at)
    known = set(run.readings.values_list("at", "energy_wh", "power_w", "charge_pct"))
    samples = _samples(kept, offset_s)
    fresh = 0
    for fresh in add_readings(held, (one for one in samples if (held.instant(one.at_s), *one.figures) not in known), loaded=file):
        if progress is not None:
            progress(fresh / max(kept.count, 1))
    file.rows = fresh
    file.save(update_fields=["rows"])
    if kept.times_s and run.ended_at is not None and _span_s(run) is None:
        go_on_to(held, held.instant(kept.times_s[-1] + offset_s))
    far, steady = readings.count - near.count, near.count - kept.count
    return Loaded(file, fresh, kept.count - fresh, far, steady)


def _samples(readings: LogColumns, offset_s: float) -> Iterator[Sample]:
    for sample in readings.samples():
        yield replace(sample, at_s=sample.at_s + offset_s)


def _window(run: Run) -> tuple[float, float]:
    """Return from when to when readings are kept, counted from its start; without an end, as long as a run may be. [s, s]"""
    span_s = _span_s(run)
    return -MARGIN_S, LONGEST_S if span_s is None else span_s + MARGIN_S


def _span_s(run: Run) -> float | None:
    """Return how long a run lasted; None for one that goes on, or that ended where it began. [s]"""
    if run.ended_at is None:
        return None
    span_s = float((run.ended_at - run.started_at).total_seconds())
    return span_s if span_s > _UNENDED_S else None


def _ends(run: Run) -> dict[str, str | None]:
    return {"started_at": run.started_at.isoformat(), "ended_at": run.ended_at.isoformat() if run.ended_at else None}
