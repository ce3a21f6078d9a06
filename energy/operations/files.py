"""Reading a meter's file into a run, taking it out again, and making runs of one log. A file's readings know their file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import islice
from typing import Any

from django.db import transaction
from django.db.models import F

from energy.domain.logged import Logged, part_of, without_steady
from energy.models import FileShape, LoadedFile, Reading, Run
from energy.operations.judging import refresh_summary
from energy.operations.recording import record_run
from energy.operations.typed import RunDetails, StageStart

MARGIN_S = 3600.0
"""Readings this long before and after a cook are kept with it, so that its ends can be moved. [s]"""

MOST_READINGS = 150_000
"""A run keeps at most so many readings of one file: 41 hours at one a second."""

LONGEST_S = 7 * 24 * 3600.0
_BATCH = 2000
_UNENDED_S = 60.0

Progress = Callable[[float], None]


class TooManyReadings(ValueError):
    """More readings than a run keeps; the message says what to do."""


@dataclass(frozen=True)
class FileFacts:
    """What is kept of a file beside its readings."""

    name: str
    digest: str
    shape: dict[str, Any]
    words: tuple[str, ...]


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


@transaction.atomic
def load_file(
    *,
    run: Run,
    readings: Logged,
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
    _hold(run)
    before = _ends(run)
    moved_s = _move(run, readings.start) if placing == "move" and readings.start is not None else 0.0
    zero = run.started_at if placing == "start" or readings.start is None else readings.start
    offset_s = (zero - run.started_at).total_seconds()
    loaded = _load(run, readings, facts, offset_s, by=by, at=at, progress=progress)
    loaded.file.before = {**before, "moved_s": moved_s, "after": _ends(run)}
    loaded.file.save(update_fields=["before"])
    refresh_summary(run=run)
    return loaded


@transaction.atomic
def unload_file(*, file: LoadedFile) -> None:
    """Take a file's readings out again; the run's start and end go back to where they were, unless they were moved since."""
    run = file.run
    _hold(run)
    before, after = file.before, file.before.get("after", {})
    file.delete()
    if before.get("moved_s") and _ends(run)["started_at"] == after.get("started_at"):
        _shift(run, timedelta(seconds=-before["moved_s"]))
    for name in ("started_at", "ended_at"):
        if name in before and _ends(run)[name] == after.get(name):
            setattr(run, name, before[name] and datetime.fromisoformat(before[name]))
    run.save(update_fields=["started_at", "ended_at"])
    refresh_summary(run=run)


@transaction.atomic
def record_cooks(
    *,
    cooks: Sequence[CookOfLog],
    readings: Logged,
    facts: FileFacts,
    by: Any,
    at: datetime,
    progress: Progress | None = None,
) -> list[Run]:
    """Make a run of each cook of a log, all of them or none. Each begins with one stage, and its neighbours' hours stay out."""
    made = []
    for place, cook in enumerate(cooks):
        run = record_run(details=cook.details, readings=[], stages=[StageStart(0.0, cook.stage)], operator=by, at=at)
        run.ended_at = run.started_at + timedelta(seconds=cook.end_s - cook.start_s)
        run.save(update_fields=["ended_at"])
        low_s = max(cook.start_s - MARGIN_S, cooks[place - 1].end_s if place else cook.start_s - MARGIN_S)
        high_s = min(cook.end_s + MARGIN_S, cooks[place + 1].start_s if place + 1 < len(cooks) else cook.end_s + MARGIN_S)
        loaded = _load(run, part_of(readings, low_s, high_s), facts, -cook.start_s, by=by, at=at, progress=None)
        loaded.file.before = {**_ends(run), "made": True}
        loaded.file.save(update_fields=["before"])
        refresh_summary(run=run)
        made.append(run)
        if progress is not None:
            progress((place + 1) / len(cooks))
    return made


@transaction.atomic
def remove_cooks(*, runs: Sequence[Run]) -> int:
    """Undo ``record_cooks`` and return how many runs went."""
    for run in runs:
        run.delete()
    return len(runs)


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
    run: Run, readings: Logged, facts: FileFacts, offset_s: float, *, by: Any, at: datetime, progress: Progress | None
) -> Loaded:
    """Keep the readings that lie near the cook; times are the file's plus an offset."""
    low_s, high_s = _window(run)
    near = part_of(readings, low_s - offset_s, high_s - offset_s)
    kept = without_steady(near) if near.count > MOST_READINGS // 3 else near
    if kept.count > MOST_READINGS:
        raise TooManyReadings(
            f"The file has {kept.count:,} readings in this cook, and a run keeps {MOST_READINGS:,}. Move the run’s start and "
            "end to one cook, or make runs of its cooks from the recipe’s page."
        )
    file = LoadedFile.objects.create(
        run=run, name=facts.name, digest=facts.digest, shape=facts.shape, words="\n".join(facts.words), loaded_at=at, loaded_by=by
    )
    known = set(run.readings.values_list("at", "energy_wh", "power_w", "charge_pct"))
    fresh = 0
    rows = (one for one in _rows(run, file, kept, offset_s) if _shows(one) not in known)
    while batch := list(islice(rows, _BATCH)):
        Reading.objects.bulk_create(batch, batch_size=_BATCH)
        fresh += len(batch)
        if progress is not None:
            progress(fresh / max(kept.count, 1))
    file.rows = fresh
    file.save(update_fields=["rows"])
    _end_with(run, kept, offset_s)
    far, steady = readings.count - near.count, near.count - kept.count
    return Loaded(file, fresh, kept.count - fresh, far, steady)


def _rows(run: Run, file: LoadedFile, readings: Logged, offset_s: float) -> Iterator[Reading]:
    for at_s, energy_wh, power_w, charge_pct in readings.rows():
        yield Reading(
            run=run,
            at=run.started_at + timedelta(seconds=at_s + offset_s),
            energy_wh=energy_wh,
            power_w=power_w,
            charge_pct=charge_pct,
            origin="file",
            loaded=file,
        )


def _shows(reading: Reading) -> tuple[object, ...]:
    return (reading.at, reading.energy_wh, reading.power_w, reading.charge_pct)


def _window(run: Run) -> tuple[float, float]:
    """Return from when to when readings are kept, counted from the run's start; one without an end is open for a week. [s, s]"""
    span_s = _span_s(run)
    return -MARGIN_S, LONGEST_S if span_s is None else span_s + MARGIN_S


def _span_s(run: Run) -> float | None:
    """Return how long a run lasted; None for one that goes on, or that ended where it began. [s]"""
    if run.ended_at is None:
        return None
    span_s = float((run.ended_at - run.started_at).total_seconds())
    return span_s if span_s > _UNENDED_S else None


def _end_with(run: Run, readings: Logged, offset_s: float) -> None:
    """Let a run that ended where it began end with the file's last reading."""
    if run.ended_at is None or _span_s(run) is not None or not readings.times_s:
        return
    last = run.started_at + timedelta(seconds=readings.times_s[-1] + offset_s)
    run.ended_at = max(run.ended_at, last)
    run.save(update_fields=["ended_at"])


def _ends(run: Run) -> dict[str, str | None]:
    return {"started_at": run.started_at.isoformat(), "ended_at": run.ended_at.isoformat() if run.ended_at else None}


def _move(run: Run, start: datetime) -> float:
    """Let a run start at another instant, with all it holds, and return by how much it moved. [s]"""
    by = start - run.started_at
    _shift(run, by)
    run.started_at += by
    if run.ended_at is not None:
        run.ended_at += by
    run.save(update_fields=["started_at", "ended_at"])
    return by.total_seconds()


def _shift(run: Run, by: timedelta) -> None:
    run.readings.update(at=F("at") + by)
    run.moments.update(at=F("at") + by)
    run.stages.update(starts_at=F("starts_at") + by)


def _hold(run: Run) -> None:
    """Let nobody else change this run until the transaction ends."""
    run.refresh_from_db(fields=["started_at", "ended_at"], from_queryset=Run.objects.select_for_update())
