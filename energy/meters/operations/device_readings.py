"""Keeping what a device sends: each moment of a meter once, so that sending again does no harm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db import transaction

from energy.meters.domain.device_lines import BadLine, SentLine
from energy.meters.queries.closed_runs import closed_runs
from energy.models import DeviceToken, Meter, SentReading, WaitingReading
from energy.runs.domain.samples import FIGURES
from energy.runs.operations.summing import fall_behind
from energy.runs.queries.samples import runs_that_saw

ACCEPTED, DUPLICATE, REJECTED, WAITING = "accepted", "duplicate", "rejected", "waiting"
_OTHER = "something else was sent for this moment"
_WAITS = "it lies in an ended cook of somebody else, who is asked"
_REFUSED = "whoever recorded the cook in which it lies refused it"


@dataclass(frozen=True)
class LineResult:
    """What became of one line."""

    line: int
    status: str
    reason: str = ""


@transaction.atomic
def keep_sent(*, device: DeviceToken, lines: Sequence[SentLine | BadLine], at: datetime) -> list[LineResult]:
    """Keep the lines that are new and return what became of each; the figures of runs in whose time they lie follow.

    A line that would change an ended run of another cook than the device's waits for a word of that cook.
    """
    meter = Meter.objects.select_for_update(no_key=True).get(pk=device.meter_id)
    moments = [line.at for line in lines if isinstance(line, SentLine)]
    known = _Known(_kept_at(meter, moments), _asked_at(device, moments))
    closed = closed_runs(device, moments, at)
    fresh: list[SentLine] = []
    waiting: list[WaitingReading] = []
    results = []
    for line in lines:
        result = LineResult(line.line, REJECTED, line.reason) if isinstance(line, BadLine) else known.judge(line)
        if isinstance(line, SentLine) and result.status == ACCEPTED:
            changed = next((one.run for one in closed if one.is_changed_by(line.at)), None)
            if changed is None:
                known.kept[line.at] = line.shows
                fresh.append(line)
            else:
                known.asked[line.at] = (line.shows, None)
                waiting.append(WaitingReading(run=changed, device=device, at=line.at, **_figures(line)))
                result = LineResult(line.line, WAITING, _WAITS)
        results.append(result)
    WaitingReading.objects.bulk_create(waiting, batch_size=900)
    keep_rows(meter, [SentReading(meter=meter, device=device, at=line.at, **_figures(line)) for line in fresh])
    return results


def keep_rows(meter: Meter, rows: Sequence[SentReading]) -> None:
    """Keep rows of a meter that are not there, and let the runs follow that saw them."""
    SentReading.objects.bulk_create(rows, batch_size=900)
    if rows:
        fall_behind(runs=runs_that_saw(meter.pk, min(row.at for row in rows), max(row.at for row in rows)))


@dataclass(frozen=True)
class _Known:
    """What is kept at each moment, and what waits there or was decided: its figures, and whether it was taken in."""

    kept: dict[datetime, tuple[Any, ...]]
    asked: dict[datetime, tuple[tuple[Any, ...], bool | None]]

    def judge(self, line: SentLine) -> LineResult:
        """Return what becomes of a line, from what is known of its moment."""
        if line.at in self.kept:
            same = self.kept[line.at] == line.shows
            return LineResult(line.line, DUPLICATE) if same else LineResult(line.line, REJECTED, _OTHER)
        if line.at not in self.asked:
            return LineResult(line.line, ACCEPTED)
        shown, taken = self.asked[line.at]
        if shown != line.shows:
            return LineResult(line.line, REJECTED, _OTHER)
        return LineResult(line.line, REJECTED, _REFUSED) if taken is False else LineResult(line.line, WAITING, _WAITS)


def _figures(line: SentLine) -> dict[str, float | None]:
    return dict(zip(FIGURES, line.shows, strict=True))


def _asked_at(device: DeviceToken, moments: Sequence[datetime]) -> dict[datetime, tuple[tuple[Any, ...], bool | None]]:
    """Return what of a device waits at these moments, or was decided. A query for every 900 of them."""
    asked = {}
    for some in _batches(moments):
        rows = WaitingReading.objects.filter(device=device, at__in=some)
        asked.update({row.at: ((row.energy_wh, row.power_w, row.charge_pct), row.taken) for row in rows})
    return asked


def _kept_at(meter: Meter, moments: Sequence[datetime]) -> dict[datetime, tuple[Any, ...]]:
    """Return what is kept of a meter at these moments. A query for every 900 of them."""
    known = {}
    for some in _batches(moments):
        rows = SentReading.objects.filter(meter=meter, at__in=some).values_list("at", "energy_wh", "power_w", "charge_pct")
        known.update({at: tuple(figures) for at, *figures in rows})
    return known


def _batches(moments: Sequence[datetime], size: int = 900) -> Iterator[Sequence[datetime]]:
    return (moments[start : start + size] for start in range(0, len(moments), size))
