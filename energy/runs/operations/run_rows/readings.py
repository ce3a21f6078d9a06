"""Readings and notes that forms and files bring, and what forms change in readings, pressed ones included."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from itertools import islice
from uuid import UUID

from energy.models import DeskEvent, LoadedFile, Moment, Reading
from energy.runs.domain.samples import FIGURES, Sample
from energy.runs.operations.run_rows.holding import HeldRun
from energy.runs.operations.run_rows.presses import pressing, withdraw_press
from energy.runs.operations.run_rows.rows import reading_row

_AT_ONCE = 2000


class Gone(ValueError):
    """What was to be changed was taken back meanwhile, at another place."""


def add_readings(held: HeldRun, samples: Iterable[Sample], *, loaded: LoadedFile | None = None) -> Iterator[int]:
    """Keep readings, each under its own name where it has one; yield how many are kept so far, some thousands at a time."""
    rows, kept = (reading_row(held.run, sample, loaded) for sample in samples), 0
    while batch := list(islice(rows, _AT_ONCE)):
        held.touch()
        Reading.objects.bulk_create(batch, batch_size=_AT_ONCE)
        kept += len(batch)
        yield kept


def add_notes(held: HeldRun, notes: Sequence[tuple[UUID, float, str]]) -> None:
    """Keep notes: the name of each, its moment in seconds from the start, and its words; those that are here stay."""
    rows = [Moment(pk=name, run=held.run, at=held.instant(at_s), text=text) for name, at_s, text in notes]
    Moment.objects.bulk_create(rows, ignore_conflicts=True)


def remove_rows(held: HeldRun, *, readings: Sequence[UUID], moments: Sequence[UUID]) -> None:
    """Remove readings and notes that a form brought, by their names; those that are gone stay gone."""
    if held.run.readings.filter(pk__in=readings).delete()[0] + held.run.moments.filter(pk__in=moments).delete()[0]:
        held.touch()


def change_reading(held: HeldRun, key: UUID, sample: Sample) -> None:
    """Let a reading say something else.

    Raises
    ------
    Gone
        If it is not there any more.
    """
    at, figures = held.instant(sample.at_s), {name: getattr(sample, name) for name in FIGURES}
    event = _press_of(held, key)
    if event is not None:
        with pressing(held):
            event.at, event.amended = at, {**figures, "note": sample.note}
            event.save(update_fields=["at", "amended"])
    elif Reading.objects.filter(pk=key, run=held.run).update(at=at, note=sample.note, **figures):
        held.touch()
    else:
        raise Gone("This reading was taken back meanwhile, at another place. To keep it, type it in once more.")


def drop_reading(held: HeldRun, key: UUID, at: datetime) -> None:
    """Remove a reading; the press that it came from is taken back."""
    if _press_of(held, key) is not None:
        with pressing(held):
            withdraw_press(held, key, None, at)
    elif Reading.objects.filter(pk=key, run=held.run).delete()[0]:
        held.touch()


def put_reading_back(held: HeldRun, key: UUID, sample: Sample) -> None:
    """Undo ``drop_reading``; where it is there, nothing changes."""
    event = DeskEvent.objects.filter(pk=key, run=held.run, kind="reading").first()
    if event is not None:
        with pressing(held):
            event.withdrawn_at = None
            event.save(update_fields=["withdrawn_at"])
    elif not Reading.objects.filter(pk=key).exists():
        list(add_readings(held, [sample]))


def _press_of(held: HeldRun, key: UUID) -> DeskEvent | None:
    """Return the press that a reading follows from, None where it was typed or came from a file."""
    return DeskEvent.objects.filter(pk=key, run=held.run, kind="reading", withdrawn_at=None).first()
