"""Ended runs that a device of another cook may not change, and which of the moments it sends would change them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from django.db.models import Q

from energy.models import DeviceToken, Run, SentReading
from energy.runs.queries.samples import BESIDE, runs_that_saw

LATE = timedelta(minutes=10)
"""So long after the end of a cook what its own device still has to say comes in: the cook has watched that device."""


@dataclass(frozen=True)
class ClosedRun:
    """An ended run of others: what of its meter is kept in and beside its time, and after when this device may still go on."""

    run: Run
    kept: Sequence[datetime]
    goes_on_after: datetime | None

    def is_changed_by(self, at: datetime) -> bool:
        """Whether a reading of this moment would change the run's figures: one inside, or the nearest beside what is inside."""
        start, end = self.run.started_at, self.run.ended_at
        if end is None or not start - BESIDE <= at <= end + BESIDE:
            return False
        if self.goes_on_after is not None and at > self.goes_on_after:
            return False
        if start <= at <= end:
            return True
        first, last = bisect_left(self.kept, start), bisect_right(self.kept, end)
        if first == last:
            return False
        nearer = self.kept[first - 1 : first] if at < start else self.kept[last : last + 1]
        return not nearer or (nearer[0] < at if at < start else nearer[0] > at)


def closed_runs(device: DeviceToken, moments: Sequence[datetime], now: datetime) -> list[ClosedRun]:
    """Return the ended runs of others in whose time these moments lie. Two queries, and two for each such run."""
    if not moments:
        return []
    seen = runs_that_saw(device.meter_id, min(moments), max(moments))
    return [_closed(run, device, now) for run in seen if run.ended_at is not None and not is_cook_of(device.made_by_id, run)]


def is_cook_of(person: int | None, run: Run) -> bool:
    """Whether somebody recorded this run, or its recipe is theirs."""
    return person is not None and person in (run.operator_id, run.revision.recipe.owner_id)


def _closed(run: Run, device: DeviceToken, now: datetime) -> ClosedRun:
    end = run.ended_at or now
    kept = SentReading.objects.filter(meter=run.meter_id, at__gte=run.started_at - BESIDE, at__lte=end + BESIDE).order_by("at")
    own = Q(device=device, at__gte=run.started_at, at__lte=end)
    newest = SentReading.objects.filter(own).order_by("-at").values_list("at", flat=True).first() if now <= end + LATE else None
    return ClosedRun(run, list(kept.values_list("at", flat=True)), newest)
