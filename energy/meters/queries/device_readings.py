"""Reads of what devices sent: the rows of one meter over a time, drawn together in the database where there are very many."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db.models import Avg, Count, F, Func, IntegerField, Max, Min, Q, QuerySet

from energy.models import DeviceToken, Meter, SentReading
from energy.runs.domain.samples import Sample
from energy.runs.queries.table_samples import samples_in

MOST_ROWS = 50_000
_BINS = 8_000
_SWITCH_S = 0.001


class Epoch(Func):
    """Whole seconds since 1970, on either engine."""

    output_field = IntegerField()

    def as_sqlite(self, compiler: Any, connection: Any, **more: Any) -> Any:
        """Let SQLite count; it keeps instants as text in UTC."""
        template = "CAST(strftime('%%%%s', %(expressions)s) AS INTEGER)"
        return super().as_sql(compiler, connection, template=template, **more)

    def as_postgresql(self, compiler: Any, connection: Any, **more: Any) -> Any:
        """Let PostgreSQL count."""
        return super().as_sql(compiler, connection, template="FLOOR(EXTRACT(EPOCH FROM %(expressions)s))::bigint", **more)


def sent_samples(meter: int, start: datetime, end: datetime, beside: timedelta) -> list[Sample]:
    """Return what devices sent of a meter from one instant to another, with the row before and the row after it.

    Moments count from ``start``.

    Above ``MOST_ROWS`` the database draws the inner rows together: of each bin of seconds it gives the counter and the charge
    at both ends, and the watts by their mean and their highest, so that neither energy nor a peak is lost.
    """
    rows = SentReading.objects.filter(meter=meter)
    before = rows.filter(at__lt=start, at__gte=start - beside).order_by("-at")[:1]
    after = rows.filter(at__gt=end, at__lte=end + beside).order_by("at")[:1]
    inside = rows.filter(at__gte=start, at__lte=end)
    count = inside.count()
    if not count:
        return []
    inner = samples_in(inside, start) if count <= MOST_ROWS else _binned(inside, start)
    return [*samples_in(before, start), *inner, *samples_in(after, start)]


def devices_of(meter: Meter) -> list[DeviceToken]:
    """Return a meter's devices, those that may send first. One query."""
    return list(meter.devices.select_related("made_by").order_by(F("revoked_at").desc(nulls_first=True), "made_at"))


def newest_sent(meter: Meter) -> SentReading | None:
    """Return the newest row that any device sent of a meter. One query."""
    return meter.sent.order_by("-at").first()


def _binned(rows: QuerySet[SentReading], zero: datetime) -> list[Sample]:
    """Return rows drawn together in bins of whole seconds."""
    ends = rows.aggregate(first=Min("at"), last=Max("at"))
    bin_s = max(math.ceil((ends["last"] - ends["first"]).total_seconds() / _BINS), 2)
    bins = rows.order_by().annotate(bin=Epoch(F("at")) / bin_s).values("bin").order_by("bin")
    firsts, lasts = bins.annotate(edge=Min("at")).values("edge"), bins.annotate(edge=Max("at")).values("edge")
    edges = samples_in(rows.filter(Q(at__in=firsts) | Q(at__in=lasts)), zero)
    shown = [replace(one, power_w=None) for one in edges if (one.energy_wh, one.charge_pct) != (None, None)]
    drawn = bins.annotate(mean=Avg("power_w"), high=Max("power_w"), count=Count("power_w")).filter(count__gt=0)
    since_s = (datetime.fromtimestamp(0, UTC) - zero).total_seconds()
    watts = [row for one in drawn for row in _watts(since_s + one["bin"] * bin_s, bin_s, one["mean"], one["high"], one["count"])]
    return sorted([*shown, *watts], key=lambda one: one.at_s)


def _watts(start_s: float, bin_s: int, mean_w: float, high_w: float, count: int) -> list[Sample]:
    """Return a bin's watts as two levels that have its mean and its highest, each from its start to just before its end.

    So the same energy lies under them whether watts hold until the next sample or run straight to it.
    """
    parts = min(max(2, math.ceil(high_w / mean_w)) if mean_w else 1, count)
    rest_w = max((parts * mean_w - high_w) / (parts - 1), 0.0) if parts > 1 else 0.0
    levels = [(0.0, bin_s / parts, high_w), (bin_s / parts, float(bin_s), rest_w)][: min(parts, 2)]
    corners = [(at_s, level_w) for from_s, to_s, level_w in levels for at_s in (from_s, to_s - _SWITCH_S)]
    return [Sample(round(start_s + at_s, 6), power_w=level_w) for at_s, level_w in corners]
