"""A cook's word about what another cook's device sent into an ended run: taken in, refused, and either of them taken back."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction

from energy.meters.operations.device_readings import keep_rows
from energy.models import DeviceToken, Meter, Run, SentReading, WaitingReading
from energy.runs.domain.samples import FIGURES
from energy.runs.operations.summing import fall_behind
from energy.runs.queries.samples import runs_that_saw


@transaction.atomic
def decide_waiting(*, run: Run, device: DeviceToken, take: bool, by: Any, at: datetime) -> int:
    """Take what a device sent into a run, or leave it out; return how many readings that changed. Twice changes nothing."""
    meter = Meter.objects.select_for_update(no_key=True).get(pk=device.meter_id)
    rows = list(WaitingReading.objects.select_for_update().filter(run=run, device=device).exclude(taken=take))
    if take:
        _put_in(meter, device, rows)
    else:
        _take_out(meter, device, [row for row in rows if row.taken])
    WaitingReading.objects.filter(pk__in=[row.pk for row in rows]).update(taken=take, decided_by=by, decided_at=at)
    return len(rows)


def _put_in(meter: Meter, device: DeviceToken, rows: list[WaitingReading]) -> None:
    """Keep the rows; where the meter has a reading of that moment already, that one stays."""
    there = set(SentReading.objects.filter(meter=meter, at__in=[row.at for row in rows]).values_list("at", flat=True))
    fresh = [row for row in rows if row.at not in there]
    figures = [{name: getattr(row, name) for name in FIGURES} for row in fresh]
    keep_rows(
        meter, [SentReading(meter=meter, device=device, at=row.at, **shown) for row, shown in zip(fresh, figures, strict=True)]
    )


def _take_out(meter: Meter, device: DeviceToken, rows: list[WaitingReading]) -> None:
    if not rows:
        return
    moments = [row.at for row in rows]
    SentReading.objects.filter(meter=meter, device=device, at__in=moments).delete()
    fall_behind(runs=runs_that_saw(meter.pk, min(moments), max(moments)))
