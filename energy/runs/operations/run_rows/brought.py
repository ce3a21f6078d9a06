"""Rows that an archive brings to a run that is here already."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from energy.models import DeskEvent, Moment, Reading, Stage
from energy.runs.operations.run_rows.holding import HeldRun
from energy.runs.operations.run_rows.numbering import number_stages
from kitchen.models import Photo

_AT_ONCE = 500


def bring_presses(new: Sequence[DeskEvent], learned: Sequence[DeskEvent]) -> None:
    """Keep presses that are new here, and what others say now; call it while ``pressing``."""
    DeskEvent.objects.bulk_create(new, batch_size=_AT_ONCE)
    for event in learned:
        event.save(force_update=True)


def bring_readings(held: HeldRun, new: Sequence[Reading]) -> None:
    """Keep readings that no press made."""
    Reading.objects.bulk_create(new, batch_size=_AT_ONCE)
    if new:
        held.touch()


def bring_moments(new: Sequence[Moment], photos: Sequence[tuple[UUID, Photo]]) -> None:
    """Keep notes that no press made, and show the photos that others name."""
    Moment.objects.bulk_create(new, batch_size=_AT_ONCE)
    for name, photo in photos:
        Moment.objects.filter(pk=name).update(photo=photo)


def bring_stages(held: HeldRun, new: Sequence[Stage]) -> None:
    """Keep stages that no press began, among the others by their moments."""
    if number_stages(held.run, Stage.objects.none(), new):
        held.touch()
