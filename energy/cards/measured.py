"""How a recipe's figures were measured: every run of an edition in words, with its drawing. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from energy import charts
from energy.facts import EnergyFacts, MeterFacts, RunFacts
from energy.kinds import meter_place
from energy.words import ENGLISH, sentence, words_of
from energy.words.figure_words import peak_words, range_wh, times_measured
from energy.words.figures import format_minutes, format_wh
from kitchen.cards import Facts
from kitchen.domain import record

_USUAL_SPREAD_SINCE = 3
"""Facts from this schema on say of one run what cooks usually differ by, not its meter's uncertainty alone."""


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
    usual: bool
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
        standing=times_measured(held.counted_runs, ENGLISH),
        next_range=range_wh(held.next_low_wh, held.next_high_wh, ENGLISH),
        peak=peak_words(held.peak_w, held.peak_seen, ENGLISH),
        one_run=len(counted) == 1,
        usual=held.schema >= _USUAL_SPREAD_SINCE,
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
    placed = sentence(ENGLISH, "meter_at_socket" if meter_place(meter.place).at_socket else "meter_on_battery", name=meter.name)
    return sentence(ENGLISH, "meter_steps", meter=placed, step_wh=meter.resolution_wh, accuracy_pct=meter.accuracy_pct)


def _run_words(run: RunFacts) -> RunWords:
    known = run.method != "none"
    drawn = known and len(run.ladder) > 1
    return RunWords(
        day=run.day,
        counts=run.counts,
        accepted=run.counts and bool(run.verdict_reason),
        energy=format_wh(run.energy_wh, run.uncertainty_wh) if known else sentence(ENGLISH, "not_known"),
        minutes=format_minutes(run.total_s),
        peak=peak_words(run.peak_w, run.peak_seen, ENGLISH),
        method=sentence(ENGLISH, f"way_{run.method}"),
        servings=run.servings,
        appliance=run.appliance,
        source=run.source,
        meter=sentence(ENGLISH, "charge_display") if run.method == "charge" else run.meter,
        flags=tuple(words_of(flag, ENGLISH) for flag in run.flags),
        notes=tuple(words_of(note, ENGLISH) for note in run.notes),
        reason=words_of(run.verdict_reason, ENGLISH),
        said_on=run.verdict_at,
        ladder=charts.ladder(run.ladder, (), language=ENGLISH) if drawn else None,
        ladder_narrow=charts.ladder(run.ladder, (), language=ENGLISH, narrow=True) if drawn else None,
    )
