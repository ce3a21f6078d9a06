"""A run out of an archive: its rows are put in as they were, under their own UUIDs where those are free here."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any
from uuid import UUID

from django.db.models import F, Model
from django.utils import timezone

from energy.documents import (
    DeskEventDocument,
    LoadedFileDocument,
    MomentDocument,
    ReadingDocument,
    RunDocument,
    SentReadingDocument,
    StageDocument,
)
from energy.models import DeskEvent, LoadedFile, Moment, Reading, Run, SentReading, Stage
from energy.runs.domain.desk import KINDS, project, sample_of
from energy.runs.operations.summing import refresh_summary
from energy.runs.queries.presses import press_of_event
from kitchen.archivists import Desk
from kitchen.models import Revision
from kitchen.operations.unpacked_rows import person_of, refused, row_from

_AT_ONCE = 500


def add_run(packed: RunDocument, revision: Revision, gear: Mapping[str, Any], desk: Desk, place: str) -> Run:
    """Add a run with all that belongs to it, lock what was cooked, and work its figures out."""
    once = packed.once if packed.once and not _taken_here(Run, [packed.once], "once", place) else None
    given = {"revision": revision, "operator": person_of(packed.operator, desk), "once": once, **gear}
    run = row_from(Run, packed, place=place, pauses=pauses_of(packed, place), **given)
    run.save(force_insert=True)
    Stage.objects.bulk_create(stage_rows(run, packed.stages, place))
    files = file_rows(run, packed.files, desk, place)
    for file in files:
        file.save(force_insert=True)
    Reading.objects.bulk_create(reading_rows(run, packed.readings, files, place), batch_size=_AT_ONCE)
    Moment.objects.bulk_create(moment_rows(run, packed.moments, place))
    presses = event_rows(run, packed.presses, desk, place)
    free = [row for row in presses if str(row.pk) not in _taken_here(DeskEvent, [str(row.pk) for row in presses], "pk", place)]
    DeskEvent.objects.bulk_create(free, batch_size=_AT_ONCE)
    if run.typed_end is None and not run.events.filter(kind="finish", withdrawn_at=None).exists():
        Run.objects.filter(pk=run.pk).update(typed_end=run.ended_at)
    SentReading.objects.bulk_create(sent_rows(run, packed.sent, place), batch_size=_AT_ONCE, ignore_conflicts=True)
    Revision.objects.filter(pk=revision.pk, locked_at=None).update(locked_at=F("created_at"))
    refresh_summary(run=run)
    _account_for(packed, len(presses) - len(free), desk)
    return run


def _account_for(packed: RunDocument, left: int, desk: Desk) -> None:
    added = {"runs": 1, "readings": len(packed.readings), "presses": len(packed.presses) - left, "notes": len(packed.moments)}
    desk.account.added.update({**added, "files": len(packed.files), "device readings": len(packed.sent)})
    desk.account.left["presses"] += left


def stage_rows(run: Run, packed: Sequence[StageDocument], place: str) -> list[Stage]:
    """Return a run's stages as rows that are not kept yet."""
    return [row_from(Stage, stage, place=place, run=run, position=position) for position, stage in enumerate(packed)]


def file_rows(run: Run, packed: Sequence[LoadedFileDocument], desk: Desk, place: str) -> list[LoadedFile]:
    """Return the files that were read into a run as rows that are not kept yet."""
    return [row_from(LoadedFile, one, place=place, run=run, loaded_by=person_of(one.loaded_by, desk)) for one in packed]


def sent_rows(run: Run, packed: Sequence[SentReadingDocument], place: str) -> Iterator[SentReading]:
    """Yield what a device sent as rows that are not kept yet."""
    return (row_from(SentReading, one, place=place, meter=run.meter) for one in packed)


def reading_rows(run: Run, packed: Sequence[ReadingDocument], files: Sequence[LoadedFile], place: str) -> list[Reading]:
    """Return a run's readings as rows that are not kept yet, each under its own UUID where that is free here.

    Raises
    ------
    ArchiveRefused
        If one names a file that is not there.
    """
    taken = _taken_here(Reading, (one.id for one in packed), "pk", place)
    for one in packed:
        if one.loaded is not None and not 0 <= one.loaded < len(files):
            raise refused(place, f"a reading names file {one.loaded}, which is not there")
    return [
        row_from(
            Reading, one, place=place, run=run, loaded=None if one.loaded is None else files[one.loaded], **_new_id(one, taken)
        )
        for one in packed
    ]


def moment_rows(run: Run, packed: Sequence[MomentDocument], place: str) -> list[Moment]:
    """Return a run's notes and photos as rows that are not kept yet."""
    taken = _taken_here(Moment, (one.id for one in packed), "pk", place)
    photos = {photo.digest: photo for photo in run.revision.recipe.photos.all()} if packed else {}
    return [
        row_from(Moment, one, place=place, run=run, photo=photos.get(one.photo or ""), **_new_id(one, taken)) for one in packed
    ]


def event_rows(run: Run, packed: Sequence[DeskEventDocument], desk: Desk, place: str) -> list[DeskEvent]:
    """Return a run's presses as rows that are not kept yet.

    Raises
    ------
    ArchiveRefused
        If nothing could ever follow from one that stands, or a UUID is none or stands there twice.
    """
    _taken_here(DeskEvent, (one.id for one in packed), "pk", place)
    rows = [row_from(DeskEvent, one, place=place, run=run, said_by=person_of(one.said_by, desk)) for one in packed]
    try:
        presses = [press_of_event(row) for row in rows if row.kind in KINDS and row.at is not None]
        for press in project(presses).rows.values():
            if press.kind == "reading":
                sample_of(press, run.started_at)
    except (LookupError, TypeError, ValueError, AttributeError):
        raise refused(place, "a press says too little, or what no press can say") from None
    return rows


def _new_id(document: Any, taken: set[str]) -> dict[str, Any]:
    """Return what gives a row a new UUID where its own is taken here, or was not packed."""
    return {} if document.id is not None and document.id not in taken else {"id": Reading._meta.pk.get_default()}


def _taken_here(model: type[Model], names: Iterable[str | None], column: str, place: str) -> set[str]:
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


def pauses_of(packed: RunDocument, place: str) -> list[list[str | None]]:
    """Return the pauses as a run keeps them.

    Raises
    ------
    ArchiveRefused
        If one is no pair of instants.
    """
    for pause in packed.pauses:
        if len(pause) != 2 or pause[0] is None or any(instant is not None and timezone.is_naive(instant) for instant in pause):
            raise refused(place, "a pause is no pair of instants with their offset")
    return [[instant.isoformat() if instant else None for instant in pause] for pause in packed.pauses]
