"""Keeping what a device sends: each moment of a meter once, so that sending again does no harm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from energy.domain.sent_lines import BadLine, SentLine
from energy.models import Meter, SentReading
from energy.operations.summing import fall_behind
from energy.queries.samples import runs_that_saw

ACCEPTED, DUPLICATE, REJECTED = "accepted", "duplicate", "rejected"
_OTHER = "something else was sent for this moment"


@dataclass(frozen=True)
class LineResult:
    """What became of one line."""

    line: int
    status: str
    reason: str = ""


@transaction.atomic
def keep_sent(*, meter: Meter, lines: Sequence[SentLine | BadLine]) -> list[LineResult]:
    """Keep the lines that are new and return what became of each; the figures of runs in whose time they lie follow."""
    Meter.objects.select_for_update().get(pk=meter.pk)
    good = [line for line in lines if isinstance(line, SentLine)]
    known = _known(meter, [line.at for line in good])
    fresh: list[SentLine] = []
    results = []
    for line in lines:
        result = LineResult(line.line, REJECTED, line.reason) if isinstance(line, BadLine) else _judge(line, known)
        results.append(result)
        if isinstance(line, SentLine) and result.status == ACCEPTED:
            known[line.at] = line.shows
            fresh.append(line)
    SentReading.objects.bulk_create((_row(meter, line) for line in fresh), batch_size=900)
    if fresh:
        fall_behind(runs=runs_that_saw(meter.pk, min(line.at for line in fresh), max(line.at for line in fresh)))
    return results


def _known(meter: Meter, moments: Sequence[datetime]) -> dict[datetime, tuple[Any, ...]]:
    """Return what is kept of a meter at these moments. A query for every 900 of them."""
    known = {}
    for some in _batches(moments):
        rows = SentReading.objects.filter(meter=meter, at__in=some).values_list("at", "energy_wh", "power_w", "charge_pct")
        known.update({at: tuple(figures) for at, *figures in rows})
    return known


def _judge(line: SentLine, known: dict[datetime, tuple[Any, ...]]) -> LineResult:
    if line.at not in known:
        return LineResult(line.line, ACCEPTED)
    same = known[line.at] == line.shows
    return LineResult(line.line, DUPLICATE) if same else LineResult(line.line, REJECTED, _OTHER)


def _row(meter: Meter, line: SentLine) -> SentReading:
    energy_wh, power_w, charge_pct = line.shows
    return SentReading(meter=meter, at=line.at, energy_wh=energy_wh, power_w=power_w, charge_pct=charge_pct)


def _batches(moments: Sequence[datetime], size: int = 900) -> Iterator[Sequence[datetime]]:
    return (moments[start : start + size] for start in range(0, len(moments), size))
