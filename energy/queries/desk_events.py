"""Reads for the run desk: one run as it stands, in the words of the wire."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from energy.domain.counter import counter_track
from energy.domain.samples import Sample
from energy.models import DeskEvent, Moment, Reading, Run, SentReading, Stage
from energy.queries.samples import LONGEST, last_sent

MOST_READINGS = 500


def run_state(run: Run) -> dict[str, Any]:
    """Return a run as it stands: presses, readings, stages, moments, pauses, the end. Four queries."""
    readings = list(run.readings.exclude(origin="file").order_by("-at")[:MOST_READINGS])
    return {
        "run": run.pk,
        "once": run.once and str(run.once),
        "recipe": {"slug": run.revision.recipe.slug, "title": run.revision.recipe.title},
        "revision": run.revision.number,
        "servings": run.servings,
        **{name: {"id": getattr(run, name).pk, "name": getattr(run, name).name} for name in ("appliance", "source", "meter")},
        "started_at": wire(run.started_at),
        "ended_at": wire(run.ended_at),
        "pauses": run.pauses,
        "presses": [_press(event) for event in run.events.all()],
        "stages": [_stage(stage) for stage in run.stages.all()],
        "readings": [_reading(reading) for reading in reversed(readings)],
        "moments": [_moment(moment) for moment in run.moments.select_related("photo")],
    }


def live_state(run: Run, now: datetime) -> dict[str, Any]:
    """Return what the devices of a run's meter sent last, within the run. Three queries."""
    until = run.ended_at or min(now, run.started_at + LONGEST)
    rows = last_sent(run.meter_id, run.started_at, until)
    last = rows[-1] if rows else None
    return {
        "run": run.pk,
        "device": run.meter.devices.filter(revoked_at=None).exists(),
        "last": last and _sent(last),
        "age_s": last and round((now - last.at).total_seconds(), 3),
        "since_start_wh": _climb_wh(run, rows),
        "rows": [_sent(row) for row in rows],
    }


def _climb_wh(run: Run, rows: list[SentReading]) -> float | None:
    """Return what the device's counter climbed from its first reading in the run to its last; None where it shows none. [Wh]"""
    shown = [row for row in rows if row.energy_wh is not None]
    first = run.meter.sent.filter(at__gte=run.started_at, energy_wh__isnull=False).order_by("at").first() if shown else None
    if first is None:
        return None
    samples = [Sample((row.at - run.started_at).total_seconds(), row.energy_wh) for row in [first, *shown]]
    track, _ = counter_track(samples)
    return round(track.between(track.starts_s, track.ends_s), 3)


def _sent(row: SentReading) -> dict[str, Any]:
    return {"at": wire(row.at), "energy_wh": row.energy_wh, "power_w": row.power_w, "charge_pct": row.charge_pct}


def wire(moment: datetime | None) -> str | None:
    """Return an instant as it goes over the wire: RFC 3339 in UTC, with its microseconds."""
    return None if moment is None else moment.astimezone(UTC).isoformat().replace("+00:00", "Z")


def _press(event: DeskEvent) -> dict[str, Any]:
    return {
        "id": str(event.pk),
        "kind": event.kind,
        "at": wire(event.at),
        "said": event.said,
        "received_at": wire(event.received_at),
        "withdrawn_at": wire(event.withdrawn_at),
    }


def _stage(stage: Stage) -> dict[str, Any]:
    return {
        "kind": stage.kind,
        "label": stage.label,
        "starts_at": wire(stage.starts_at),
        "attended": stage.attended,
        "press": stage.event and str(stage.event),
    }


def _reading(reading: Reading) -> dict[str, Any]:
    figures = {name: getattr(reading, name) for name in ("energy_wh", "power_w", "charge_pct", "note", "origin")}
    return {"id": str(reading.pk), "at": wire(reading.at), **figures}


def _moment(moment: Moment) -> dict[str, Any]:
    photo = moment.photo.small if moment.photo else None
    return {"id": str(moment.pk), "at": wire(moment.at), "text": moment.text, "photo": photo}
