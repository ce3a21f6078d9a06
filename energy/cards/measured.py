"""How a recipe's figures were measured: every run of an edition in words, with its drawing. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from energy import charts
from energy.domain.facts import EnergyFacts, MeterFacts, RunFacts
from energy.domain.words import format_minutes, format_peak, format_percent, format_range_wh, format_wh, measured_words
from kitchen.cards import Facts
from kitchen.domain import record

_METHODS = {
    "counter": "from the meter’s counter",
    "watts": "added up from the watts",
    "charge": "from the fall of the battery’s charge",
    "none": "too little was read",
}


@dataclass(frozen=True)
class RunWords:
    """One run as readers see it."""

    day: datetime
    counts: bool
    accepted: bool
    energy: str
    minutes: str
    peak: str
    method: str
    servings: int
    appliance: str
    source: str
    meter: str
    flags: tuple[str, ...]
    notes: tuple[str, ...]
    reason: str
    said_on: datetime | None
    ladder: charts.Ladder | None
    ladder_narrow: charts.Ladder | None


@dataclass(frozen=True)
class MeasuredWords:
    """All runs behind an edition's figures, those that count first, and what they come to together."""

    energy: str
    servings: int
    standing: str
    next_range: str
    peak: str
    one_run: bool
    meter: str
    revision: int
    counted: tuple[RunWords, ...]
    left_out: tuple[RunWords, ...]


def how_it_was_measured(facts: Facts) -> MeasuredWords:
    """Return every run of the energy card's facts in words."""
    held = record.read(EnergyFacts, facts)
    counted = tuple(_run_words(run) for run in held.runs if run.counts)
    return MeasuredWords(
        energy=format_wh(held.energy_wh, held.uncertainty_wh),
        servings=held.servings,
        standing=measured_words(held.counted_runs),
        next_range=format_range_wh(held.next_low_wh, held.next_high_wh),
        peak=format_peak(held.peak_w, held.peak_seen),
        one_run=len(counted) == 1,
        meter="" if all(run.method == "charge" for run in held.runs if run.counts) else meter_words(held.meter),
        revision=next((run.revision for run in held.runs if run.counts), 0),
        counted=counted,
        left_out=tuple(_run_words(run) for run in held.runs if not run.counts),
    )


def meter_words(meter: MeterFacts) -> str:
    """Return a meter in words.

    Examples
    --------
    >>> meter_words(MeterFacts("Plug meter", "socket", 1.0, 2.0)).replace(chr(160), " ")
    'Plug meter, at the socket: steps of 1 Wh, good to 2 %'
    """
    place = "at the socket" if meter.place == "socket" else "on the battery’s own display"
    return f"{meter.name}, {place}: steps of {format_wh(meter.resolution_wh)}, good to {format_percent(meter.accuracy_pct)}"


def _run_words(run: RunFacts) -> RunWords:
    known = run.method != "none"
    drawn = known and len(run.ladder) > 1
    return RunWords(
        day=run.day,
        counts=run.counts,
        accepted=run.counts and bool(run.verdict_reason),
        energy=format_wh(run.energy_wh, run.uncertainty_wh) if known else "not known",
        minutes=format_minutes(run.total_s),
        peak=format_peak(run.peak_w, run.peak_seen),
        method=_METHODS.get(run.method, run.method),
        servings=run.servings,
        appliance=run.appliance,
        source=run.source,
        meter="the battery’s charge display" if run.method == "charge" else run.meter,
        flags=run.flags,
        notes=run.notes,
        reason=run.verdict_reason,
        said_on=run.verdict_at,
        ladder=charts.ladder(run.ladder, ()) if drawn else None,
        ladder_narrow=charts.ladder(run.ladder, (), narrow=True) if drawn else None,
    )
