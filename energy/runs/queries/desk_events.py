"""Reads for the run desk: one run as it stands, in the words of the wire."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from energy.models import DeskEvent, Moment, Reading, Run, SentReading, Stage
from energy.runs.domain.counter import counter_track
from energy.runs.domain.samples import FIGURES
from energy.runs.queries.desk_presses import press_json, rfc3339
from energy.runs.queries.samples import LONGEST, last_sent
from energy.runs.queries.table_samples import kept_sample

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
        "started_at": rfc3339(run.started_at),
        "ended_at": rfc3339(run.ended_at),
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
        "last": last and _figures(last),
        "age_s": last and round((now - last.at).total_seconds(), 3),
        "since_start_wh": _climb_wh(run, rows),
        "rows": [_figures(row) for row in rows],
    }


def _climb_wh(run: Run, rows: list[SentReading]) -> float | None:
    """Return what the device's counter climbed from its first reading in the run to its last; None where it shows none. [Wh]"""
    shown = [kept_sample(row, run.started_at) for row in rows if row.energy_wh is not None]
    first = run.meter.sent.filter(at__gte=run.started_at, energy_wh__isnull=False).order_by("at").first() if shown else None
    if first is None:
        return None
    track, _ = counter_track([kept_sample(first, run.started_at), *shown])
    return round(track.between(track.starts_s, track.ends_s), 3)


def _figures(row: Reading | SentReading) -> dict[str, Any]:
    return {"at": rfc3339(row.at), **{name: getattr(row, name) for name in FIGURES}}


def _press(event: DeskEvent) -> dict[str, Any]:
    return {
        **press_json(event, str(event.pk)),
        "replaces": event.said.get("replaces"),
        "amended": event.amended,
        "received_at": rfc3339(event.received_at),
        "withdrawn_at": rfc3339(event.withdrawn_at),
    }


def _stage(stage: Stage) -> dict[str, Any]:
    return {
        "kind": stage.kind,
        "label": stage.label,
        "starts_at": rfc3339(stage.starts_at),
        "attended": stage.attended,
        "press": stage.event and str(stage.event),
    }


def _reading(reading: Reading) -> dict[str, Any]:
    return {"id": str(reading.pk), **_figures(reading), "note": reading.note, "origin": reading.origin}


def _moment(moment: Moment) -> dict[str, Any]:
    photo = moment.photo.small if moment.photo else None
    return {"id": str(moment.pk), "at": rfc3339(moment.at), "text": moment.text, "photo": photo}
