"""What a run's figures are worked out from: its own readings, and what a device of its meter sent while it ran.

A device's counter and the counter that a cook types are two displays: they climb alike and stand at different numbers, so no
climb is made of both. Of each quantity the device's is taken where it covers the run, else the cook's own.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from energy.domain.counter import counter_track
from energy.domain.samples import Sample
from energy.domain.words import format_wh
from energy.models import Run, SentReading
from energy.queries.sent import Rows, sent_rows

LONGEST = timedelta(hours=48)
BESIDE = timedelta(minutes=10)
EDGE_S = 60.0
"""A display covers a run that it shows from this long after the start to this long before the end. [s]"""

_QUANTITIES = ("energy_wh", "power_w", "charge_pct")


@dataclass(frozen=True)
class Gathered:
    """A run's samples, and sentences that tell how they were chosen."""

    samples: list[Sample]
    notes: tuple[str, ...] = ()


def samples_of(run: Run) -> Gathered:
    """Return what a run's figures are worked out from. Two queries without a device; with one, four, however much it sent."""
    figures = run.readings.values_list("at", *_QUANTITIES)
    own = _samples(run, figures.iterator(chunk_size=5000))
    sent = _samples(run, sent_rows(run.meter_id, run.started_at, _until(run), BESIDE))
    if not sent:
        return Gathered(own)
    start_s, end_s = 0.0, _end_s(run, [*own, *sent])
    taken = {name: _covers(sent, name, start_s, end_s) or not _shows(own, name) for name in _QUANTITIES}
    kept = [*_only(own, [name for name in _QUANTITIES if not taken[name]]), *_only(sent, [n for n in _QUANTITIES if taken[n]])]
    return Gathered(kept, _notes(own, sent, taken["energy_wh"]))


def runs_that_saw(meter: int, first: datetime, last: datetime) -> list[Run]:
    """Return the runs of a meter whose time holds an instant between two, with what their figures need. One query."""
    runs = Run.objects.filter(meter=meter, started_at__lte=last + BESIDE, started_at__gt=first - timedelta(days=30))
    runs = runs.exclude(ended_at__lt=first - BESIDE).select_related("revision__recipe", "appliance", "source", "meter")
    return [run for run in runs if run.ended_at is not None or run.started_at > first - LONGEST]


def last_sent(meter: int, since: datetime, now: datetime, most: int = 120) -> list[SentReading]:
    """Return the newest rows that devices sent of a meter since an instant, the oldest first. One query."""
    rows = SentReading.objects.filter(meter=meter, at__gte=since, at__lte=now).order_by("-at")[:most]
    return list(reversed(rows))


def _until(run: Run) -> datetime:
    return run.started_at + LONGEST if run.ended_at is None else run.ended_at


def _samples(run: Run, rows: Rows) -> list[Sample]:
    began = run.started_at
    return [Sample((at - began).total_seconds(), energy_wh, power_w, charge_pct) for at, energy_wh, power_w, charge_pct in rows]


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


def _only(samples: Sequence[Sample], names: Sequence[str]) -> list[Sample]:
    """Return the samples with these quantities alone; those that show none of them fall out."""
    hidden = {name: None for name in _QUANTITIES if name not in names}
    if not hidden:
        return list(samples)
    return [replace(sample, **hidden) for sample in samples if any(getattr(sample, name) is not None for name in names)]


def _notes(own: Sequence[Sample], sent: Sequence[Sample], by_device: bool) -> tuple[str, ...]:
    """Return the words of a cross-check where the cook's own counter and the device's both climbed."""
    climbs = _common_climb(own, sent)
    if climbs is None:
        return ()
    own_wh, sent_wh = climbs
    used, other = ("The device’s counter", "the one typed in") if by_device else ("The counter as typed in", "the device’s")
    used_wh, other_wh = (sent_wh, own_wh) if by_device else (own_wh, sent_wh)
    return (f"{used} is used: it climbed {format_wh(used_wh)} while {other} climbed {format_wh(other_wh)} (a cross-check).",)


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
