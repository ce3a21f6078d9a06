"""A run as an archive holds it: what was typed, logged, loaded and sent, each row as it stands."""

from __future__ import annotations

from datetime import datetime

from django.db.models import Prefetch

from energy.domain.archive import (
    DeskEventDocument,
    LoadedFileDocument,
    MomentDocument,
    ReadingDocument,
    RunDocument,
    SentReadingDocument,
    StageDocument,
)
from energy.models import DeskEvent, LoadedFile, Reading, Run, SentReading
from energy.queries.samples import LONGEST
from kitchen.queries.packed import document_of, name_of

HELD = (
    "stages",
    Prefetch("readings", Reading.objects.order_by("at", "pk")),
    "moments__photo",
    Prefetch("events", DeskEvent.objects.select_related("said_by").order_by("received_at", "pk")),
    Prefetch("files", LoadedFile.objects.select_related("loaded_by").order_by("loaded_at", "pk")),
)


def run_document(run: Run) -> RunDocument:
    """Return a run with all that belongs to it. One query, for what devices sent; the rest is fetched with ``HELD``."""
    places = {file.pk: place for place, file in enumerate(run.files.all())}
    return document_of(
        RunDocument,
        run,
        revision=run.revision.number,
        appliance=run.appliance.name,
        source=run.source.name,
        meter=run.meter.name,
        operator=name_of(run.operator),
        once=_words(run.once),
        pauses=tuple(tuple(instant and datetime.fromisoformat(instant) for instant in pause) for pause in run.pauses),
        stages=tuple(document_of(StageDocument, stage, event=_words(stage.event)) for stage in run.stages.all()),
        readings=tuple(
            document_of(ReadingDocument, one, id=str(one.pk), loaded=places.get(one.loaded_id)) for one in run.readings.all()
        ),
        moments=tuple(
            document_of(MomentDocument, one, id=str(one.pk), photo=one.photo and one.photo.digest) for one in run.moments.all()
        ),
        presses=tuple(
            document_of(DeskEventDocument, one, id=str(one.pk), said_by=name_of(one.said_by)) for one in run.events.all()
        ),
        files=tuple(document_of(LoadedFileDocument, one, loaded_by=name_of(one.loaded_by)) for one in run.files.all()),
        sent=_sent(run),
    )


def _sent(run: Run) -> tuple[SentReadingDocument, ...]:
    until = run.ended_at or run.started_at + LONGEST
    rows = SentReading.objects.filter(meter=run.meter_id, at__gte=run.started_at, at__lte=until).order_by("at")
    return tuple(document_of(SentReadingDocument, row) for row in rows.iterator(chunk_size=5000))


def _words(value: object) -> str | None:
    return None if value is None else str(value)
