"""Reads of what other cooks' devices sent into ended runs: by device on a run's page, and over all runs for the bench."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Count, Max, Min, Q
from django.utils import timezone

from energy.models import DeviceToken, Run, WaitingReading
from energy.words import ENGLISH, sentence


@dataclass(frozen=True)
class WaitingBatch:
    """What one device sent into one run: how many, from when to when, its counter's ends, its highest watts, and the word."""

    device: DeviceToken
    count: int
    first: datetime
    last: datetime
    low_wh: float | None
    high_wh: float | None
    peak_w: float | None
    taken: bool | None
    decided_at: datetime | None


def waiting_in(run: Run) -> list[WaitingBatch]:
    """Return what devices of others sent into a run, what nobody has decided first. Two queries."""
    figures: dict[str, Any] = {
        "low_wh": Min("energy_wh"),
        "high_wh": Max("energy_wh"),
        "peak_w": Max("power_w"),
        "decided_at": Max("decided_at"),
    }
    counted = (
        run.waiting.order_by().values("device", "taken").annotate(count=Count("pk"), first=Min("at"), last=Max("at"), **figures)
    )
    rows: list[dict[str, Any]] = [dict(row) for row in counted]
    devices = DeviceToken.objects.select_related("made_by").in_bulk([row["device"] for row in rows])
    batches = [WaitingBatch(**{**row, "device": devices[row["device"]]}) for row in rows]
    return sorted(batches, key=lambda batch: (batch.taken is not None, batch.first))


def runs_asked_about(user: Any) -> list[tuple[int, str, str]]:
    """Return (number, words, kind) of a cook's ended runs into which a device of others has sent. At most two queries."""
    mine = Q(run__operator=user) | Q(run__revision__recipe__owner=user)
    waiting = WaitingReading.objects.filter(mine, taken=None).order_by()
    counts = dict(waiting.values("run").annotate(count=Count("pk")).values_list("run", "count"))
    runs = Run.objects.filter(pk__in=counts).select_related("revision__recipe").order_by("-started_at") if counts else []
    return [(run.pk, _asked_words(run, counts[run.pk]), "sent-waits") for run in runs]


def _asked_words(run: Run, count: int) -> str:
    day = timezone.localtime(run.started_at)
    return sentence(ENGLISH, "sent_waits", title=run.revision.recipe.title, day=day, count=count)
