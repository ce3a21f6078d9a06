"""Writes to the shared gear: appliances, power sources, meters, tariffs."""

from __future__ import annotations

from django.db import models, transaction

from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from energy.operations.judging import refresh_summary


@transaction.atomic
def save_gear(*, gear: models.Model) -> None:
    """Keep new or changed gear, and work out again what was measured with it."""
    gear.save()
    for run in _runs_measured_with(gear):
        refresh_summary(run=run)


@transaction.atomic
def remove_gear(*, gear: models.Model) -> None:
    """Remove gear; the database refuses (ProtectedError) while a run refers to it."""
    gear.delete()


def _runs_measured_with(gear: models.Model) -> models.QuerySet[Run]:
    runs = Run.objects.select_related("revision", "appliance", "source", "meter")
    if isinstance(gear, Appliance):
        return runs.filter(appliance=gear)
    if isinstance(gear, PowerSource):
        return runs.filter(source=gear)
    if isinstance(gear, Meter):
        return runs.filter(meter=gear)
    assert isinstance(gear, Tariff)
    return runs.none()
