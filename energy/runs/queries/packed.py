"""A run as an archive holds it: what was typed, logged, loaded and sent, each row as it stands."""

from __future__ import annotations

from django.db.models import DateTimeField, Exists, ExpressionWrapper, F, OuterRef, Prefetch, Value
from django.db.models.functions import Coalesce

from energy.documents import (
    DeskEventDocument,
    LoadedFileDocument,
    MomentDocument,
    ReadingDocument,
    RunDocument,
    SentReadingDocument,
    StageDocument,
)
from energy.models import DeskEvent, LoadedFile, Reading, Run, SentReading
from energy.runs.queries.samples import LONGEST
from kitchen.domain import record
from kitchen.queries.packed import name_of

HELD = (
    "stages",
    Prefetch("readings", Reading.objects.order_by("at", "pk")),
    "moments__photo",
    Prefetch("events", DeskEvent.objects.select_related("said_by").order_by("received_at", "pk")),
    Prefetch("files", LoadedFile.objects.select_related("loaded_by").order_by("loaded_at", "pk")),
)


def run_document(run: Run) -> RunDocument:
    """Return a run with all that belongs to it. One query, for what devices sent; the rest is fetched with ``HELD``."""
    places: dict[int | None, int] = {file.pk: place for place, file in enumerate(run.files.all())}
    return record.taken(
        RunDocument,
        run,
        revision=run.revision.number,
        appliance=run.appliance.name,
        source=run.source.name,
        meter=run.meter.name,
        operator=name_of(run.operator),
        stages=tuple(record.taken(StageDocument, stage) for stage in run.stages.all()),
        readings=tuple(record.taken(ReadingDocument, one, loaded=places.get(one.loaded_id)) for one in run.readings.all()),
        moments=tuple(record.taken(MomentDocument, one, photo=one.photo and one.photo.digest) for one in run.moments.all()),
        presses=tuple(record.taken(DeskEventDocument, one, said_by=name_of(one.said_by)) for one in run.events.all()),
        files=tuple(record.taken(LoadedFileDocument, one, loaded_by=name_of(one.loaded_by)) for one in run.files.all()),
        sent=_sent_readings(run),
    )


def _sent_readings(run: Run) -> tuple[SentReadingDocument, ...]:
    until = run.ended_at or run.started_at + LONGEST
    rows = SentReading.objects.filter(meter=run.meter_id, at__gte=run.started_at, at__lte=until).order_by("at")
    return tuple(record.taken(SentReadingDocument, row) for row in rows.iterator(chunk_size=5000))


def sent_outside_runs() -> int:
    """Return how many readings devices sent at moments that lie in no run of their meter. One query."""
    lasts = ExpressionWrapper(F("started_at") + Value(LONGEST), output_field=DateTimeField())
    runs = Run.objects.annotate(until=Coalesce("ended_at", lasts))
    inside = runs.filter(meter=OuterRef("meter"), started_at__lte=OuterRef("at"), until__gte=OuterRef("at"))
    return SentReading.objects.filter(~Exists(inside)).count()
