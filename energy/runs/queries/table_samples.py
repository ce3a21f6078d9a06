"""From a row to a reading: what the tables hold of readings, a cook's and a device's alike, as samples."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from django.db.models import QuerySet

from energy.models import Reading, SentReading
from energy.runs.domain.samples import FIGURES, Sample


def samples_in(rows: QuerySet[Reading] | QuerySet[SentReading], zero: datetime) -> Iterator[Sample]:
    """Yield the figures of rows in their order, counted from an instant. One query."""
    noted = ("note",) if rows.model is Reading else ()
    for at, *shown in rows.values_list("at", *FIGURES, *noted).iterator(chunk_size=5000):
        yield Sample((at - zero).total_seconds(), *shown)


def kept_sample(row: Reading | SentReading, zero: datetime) -> Sample:
    """Return the figures of one row, counted from an instant. No query."""
    return Sample((row.at - zero).total_seconds(), *(getattr(row, name) for name in FIGURES))
