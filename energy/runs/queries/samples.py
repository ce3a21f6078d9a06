"""What a run's figures are worked out from: its own readings, and what a device of its meter sent while it ran.

A device's counter and the counter that a cook types are two displays: they climb alike and stand at different numbers, so no
climb is made of both. Of each quantity the device's is taken where it covers the run, else the cook's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from energy.meters.queries.device_readings import sent_samples
from energy.models import Run, SentReading
from energy.runs.domain.counter import counter_track
from energy.runs.domain.samples import FIGURES, Sample
from energy.runs.queries.table_samples import samples_in
from kitchen.domain.remark import Remark, remark

LONGEST = timedelta(hours=48)
BESIDE = timedelta(minutes=10)
EDGE_S = 60.0
"""A display covers a run that it shows from this long after the start to this long before the end. [s]"""


@dataclass(frozen=True)
class Gathered:
    """A run's samples, remarks that tell how they were chosen, and whether watts and counter are the run's own throughout."""

    samples: list[Sample]
    notes: tuple[Remark, ...] = ()
    own_watts: bool = True


def samples_of(run: Run) -> Gathered:
    """Return what a run's figures are worked out from. Two queries without a device; with one, four, however much it sent."""
    own = list(samples_in(run.readings.all(), run.started_at))
    sent = sent_samples(run.meter_id, run.started_at, _may_last_until(run), BESIDE)
    if not sent:
        return Gathered(own)
    start_s, end_s = 0.0, _end_s(run, [*own, *sent])
    taken = {name: _covers(sent, name, start_s, end_s) or not _shows(own, name) for name in FIGURES}
    kept = [
        *_with_figures(own, [name for name in FIGURES if not taken[name]]),
        *_with_figures(sent, [n for n in FIGURES if taken[n]]),
    ]
    return Gathered(kept, _notes(own, sent, taken["energy_wh"]), not (taken["power_w"] or taken["energy_wh"]))


def runs_that_saw(meter: int, first: datetime, last: datetime) -> list[Run]:
    """Return the runs of a meter whose time holds an instant between two, with what their figures need. One query."""
    runs = Run.objects.filter(meter=meter, started_at__lte=last + BESIDE, started_at__gt=first - timedelta(days=30))
    runs = runs.exclude(ended_at__lt=first - BESIDE).select_related("revision__recipe", "appliance", "source", "meter")
    return [run for run in runs if run.ended_at is not None or run.started_at > first - LONGEST]


def last_sent(meter: int, since: datetime, now: datetime, most: int = 120) -> list[SentReading]:
    """Return the newest rows that devices sent of a meter since an instant, the oldest first. One query."""
    rows = SentReading.objects.filter(meter=meter, at__gte=since, at__lte=now).order_by("-at")[:most]
    return list(reversed(rows))


def _may_last_until(run: Run) -> datetime:
    return run.started_at + LONGEST if run.ended_at is None else run.ended_at


def _end_s(run: Run, samples: Sequence[Sample]) -> float:
    if run.ended_at is not None:
        return float((run.ended_at - run.started_at).total_seconds())
    return max((sample.at_s for sample in samples), default=0.0)


def _shows(samples: Sequence[Sample], name: str) -> bool:
    return any(getattr(sample, name) is not None for sample in samples)


def _covers(samples: Sequence[Sample], name: str, start_s: float, end_s: float) -> bool:
    """Whether a quantity is shown from about the start to about the end, twice at least."""
    times = [sample.at_s for sample in samples if getattr(sample, name) is not None]
    return len(times) >= 2 and min(times) <= start_s + EDGE_S and max(times) >= end_s - EDGE_S


def _with_figures(samples: Sequence[Sample], names: Sequence[str]) -> list[Sample]:
    """Return the samples with these quantities alone; those that show none of them fall out."""
    hidden: dict[str, Any] = {name: None for name in FIGURES if name not in names}
    if not hidden:
        return list(samples)
    return [replace(sample, **hidden) for sample in samples if any(getattr(sample, name) is not None for name in names)]


def _notes(own: Sequence[Sample], sent: Sequence[Sample], by_device: bool) -> tuple[Remark, ...]:
    """Return a cross-check where the cook's own counter and the device's both climbed."""
    climbs = _common_climb(own, sent)
    if climbs is None:
        return ()
    own_wh, sent_wh = climbs
    if by_device:
        return (remark("device_counter_used", used_wh=sent_wh, other_wh=own_wh),)
    return (remark("typed_counter_used", used_wh=own_wh, other_wh=sent_wh),)


def _common_climb(own: Sequence[Sample], sent: Sequence[Sample]) -> tuple[float, float] | None:
    """Return what two counters climbed over the time that both show, or None. [Wh, Wh]"""
    counters = [[one for one in samples if one.energy_wh is not None] for samples in (own, sent)]
    if min(len(shown) for shown in counters) < 2:
        return None
    tracks = [counter_track(shown)[0] for shown in counters]
    start_s, end_s = max(track.starts_s for track in tracks), min(track.ends_s for track in tracks)
    if end_s <= start_s:
        return None
    own_wh, sent_wh = (track.between(start_s, end_s) for track in tracks)
    return own_wh, sent_wh
