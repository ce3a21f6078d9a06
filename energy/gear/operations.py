"""Writes to the shared gear: appliances, power sources, meters, tariffs."""

from __future__ import annotations

from collections.abc import Sequence

from django.db import models, transaction

from energy.gear.domain.learned import GivenPerPct
from energy.models import Appliance, Meter, PowerSource, Run, Tariff
from energy.runs.operations.summing import refresh_summary
from kitchen.models import Change
from kitchen.operations.journal import Hand, noted


@transaction.atomic
def save_gear(*, gear: models.Model, by: Hand | None = None) -> None:
    """Keep new or changed gear, and work out again what was measured with it."""
    is_back = isinstance(gear, Tariff) and not Tariff.objects.filter(pk=gear.pk).exists()
    with noted(gear, by):
        gear.save()
    if is_back:
        _feed_again(gear.pk)
    for run in _runs_measured_with(gear):
        refresh_summary(run=run)


@transaction.atomic
def save_together(*, gear: Sequence[models.Model], by: Hand | None = None) -> None:
    """Keep new gear together, tariffs first: sources that name no tariff are fed at a price that came with them."""
    tariffs = [one for one in gear if isinstance(one, Tariff)]
    for one in sorted(gear, key=lambda one: not isinstance(one, Tariff)):
        if isinstance(one, PowerSource) and one.tariff is None and tariffs:
            one.tariff = tariffs[0]
        save_gear(gear=one, by=by)


@transaction.atomic
def keep_charge(*, source: PowerSource, learned: GivenPerPct | None, by: Hand | None = None) -> None:
    """Keep what one per cent of a battery's charge gives at the socket; None forgets it."""
    source.wh_per_pct = learned.wh if learned else None
    source.wh_per_pct_uncertainty = learned.uncertainty_wh if learned else 0.0
    with noted(source, by):
        source.save(update_fields=["wh_per_pct", "wh_per_pct_uncertainty"])


@transaction.atomic
def remove_gear(*, gear: models.Model, by: Hand | None = None) -> None:
    """Remove gear; the database refuses (ProtectedError) while a run refers to it. Sources lose a tariff that goes."""
    for source in PowerSource.objects.filter(tariff=gear) if isinstance(gear, Tariff) else ():
        with noted(source, by):
            source.tariff = None
            source.save(update_fields=["tariff"])
    with noted(gear, by):
        gear.delete()


def _feed_again(tariff: int) -> None:
    """Give a tariff that is back to the sources that lost it when it went, where nobody has given them another since."""
    for source in PowerSource.objects.filter(tariff=None):
        newest = Change.objects.filter(kind="sources", number=source.pk).first()
        if newest is not None and newest.before.get("tariff_id") == str(tariff):
            source.tariff_id = tariff
            source.save(update_fields=["tariff"])


def _runs_measured_with(gear: models.Model) -> models.QuerySet[Run]:
    runs = Run.objects.select_related("revision").order_by("pk")
    if isinstance(gear, Appliance):
        return runs.filter(appliance=gear)
    if isinstance(gear, PowerSource):
        return runs.filter(source=gear)
    if isinstance(gear, Meter):
        return runs.filter(meter=gear)
    assert isinstance(gear, Tariff)
    return runs.none()
