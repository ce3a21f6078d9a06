"""A run out of an archive: its rows are put in as they were, under their own UUIDs where those are free here."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any
from uuid import UUID

from django.db.models import F, Model
from django.utils import timezone

from energy.domain.archive import DeskEventDocument, MomentDocument, ReadingDocument, RunDocument
from energy.domain.desk import KINDS, Press, project
from energy.models import DeskEvent, LoadedFile, Moment, Reading, Run, SentReading, Stage
from energy.operations.judging import refresh_summary
from kitchen.archivists import Desk
from kitchen.models import Revision
from kitchen.operations.unpacked_rows import person_of, refused, row_from

_AT_ONCE = 500


def add_run(packed: RunDocument, revision: Revision, gear: Mapping[str, Any], desk: Desk, place: str) -> Run:
    """Add a run with all that belongs to it, lock what was cooked, and work its figures out."""
    once = packed.once if packed.once and not _taken(Run, [packed.once], "once", place) else None
    pauses = _pauses(packed, place)
    given = {"revision": revision, "operator": person_of(packed.operator, desk.by), "once": once, "pauses": pauses, **gear}
    run = row_from(Run, packed, place=place, **given)
    run.save(force_insert=True)
    Stage.objects.bulk_create(
        row_from(Stage, stage, place=place, run=run, position=position) for position, stage in enumerate(packed.stages)
    )
    files = [
        row_from(LoadedFile, file, place=place, run=run, loaded_by=person_of(file.loaded_by, desk.by)) for file in packed.files
    ]
    for file in files:
        file.save(force_insert=True)
    _add_readings(run, packed.readings, files, place)
    _add_moments(run, packed.moments, place)
    _add_presses(run, packed.presses, desk, place)
    sent = (row_from(SentReading, one, place=place, meter=run.meter) for one in packed.sent)
    SentReading.objects.bulk_create(sent, batch_size=_AT_ONCE, ignore_conflicts=True)
    Revision.objects.filter(pk=revision.pk, locked_at=None).update(locked_at=F("created_at"))
    refresh_summary(run=run)
    return run


def _add_readings(run: Run, packed: Sequence[ReadingDocument], files: Sequence[LoadedFile], place: str) -> None:
    taken = _taken(Reading, (one.id for one in packed), "pk", place)
    for one in packed:
        if one.loaded is not None and not 0 <= one.loaded < len(files):
            raise refused(place, f"a reading names file {one.loaded}, which is not there")
    rows = (
        row_from(Reading, one, place=place, run=run, loaded=None if one.loaded is None else files[one.loaded], **_own(one, taken))
        for one in packed
    )
    Reading.objects.bulk_create(rows, batch_size=_AT_ONCE)


def _add_moments(run: Run, packed: Sequence[MomentDocument], place: str) -> None:
    taken = _taken(Moment, (one.id for one in packed), "pk", place)
    photos = {photo.digest: photo for photo in run.revision.recipe.photos.all()} if packed else {}
    Moment.objects.bulk_create(
        row_from(Moment, one, place=place, run=run, photo=photos.get(one.photo or ""), **_own(one, taken)) for one in packed
    )


def _add_presses(run: Run, packed: Sequence[DeskEventDocument], desk: Desk, place: str) -> None:
    """Add the presses whose UUID is free; what follows from them is in the archive already.

    Raises
    ------
    ArchiveRefused
        If nothing could ever follow from one that stands.
    """
    taken = _taken(DeskEvent, (one.id for one in packed), "pk", place)
    rows = [
        row_from(DeskEvent, one, place=place, run=run, said_by=person_of(one.said_by, desk.by))
        for one in packed
        if one.id not in taken
    ]
    try:
        project(Press(row.pk, row.kind, row.at, row.said) for row in rows if row.kind in KINDS and row.at is not None)
    except (LookupError, TypeError, ValueError, AttributeError):
        raise refused(place, "a press says too little, or what no press can say") from None
    DeskEvent.objects.bulk_create(rows, batch_size=_AT_ONCE)


def _own(document: Any, taken: set[str]) -> dict[str, Any]:
    """Return what gives a row a new UUID where its own is taken here, or was not packed."""
    return {} if document.id is not None and document.id not in taken else {"id": Reading._meta.pk.get_default()}


def _taken(model: type[Model], names: Iterable[str | None], column: str, place: str) -> set[str]:
    """Return those of an archive's UUIDs that rows here have.

    Raises
    ------
    ArchiveRefused
        If one is no UUID, or stands there twice.
    """
    given = [name for name in names if name is not None]
    if len({*given}) < len(given):
        raise refused(place, "a UUID stands for two things")
    try:
        keys = [UUID(name) for name in given]
    except ValueError:
        raise refused(place, "one of its names is no UUID") from None
    taken: set[str] = set()
    for start in range(0, len(keys), _AT_ONCE):
        found = model._default_manager.filter(**{f"{column}__in": keys[start : start + _AT_ONCE]})
        taken |= {str(key) for key in found.values_list(column, flat=True)}
    return taken


def _pauses(packed: RunDocument, place: str) -> list[list[str | None]]:
    """Return the pauses as a run keeps them.

    Raises
    ------
    ArchiveRefused
        If one is no pair of instants.
    """
    for pause in packed.pauses:
        if len(pause) != 2 or pause[0] is None or any(instant is not None and timezone.is_naive(instant) for instant in pause):
            raise refused(place, "a pause is no pair of instants with their offset")
    return [[instant and instant.isoformat() for instant in pause] for pause in packed.pauses]
