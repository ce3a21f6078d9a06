"""One run as its page shows it: every figure in words, the drawings, the readings, and what stands beside them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Max, Min

from energy.estimates.domain.combine import read_at_both_ends
from energy.gear.domain.sources import CAPACITY_SPREAD, path_efficiency
from energy.kinds import meter_place
from energy.models import Moment, Reading, Run
from energy.runs.domain.summary import RunSummary, StageSummary
from energy.runs.queries.drawings import RunDrawings, run_drawings
from energy.runs.queries.runs import does_count, run_summary
from energy.words import ENGLISH, sentence, words_of
from energy.words.figure_words import drawn_wh, peak_figure, peak_words
from energy.words.figures import each_wh, format_minute, format_minutes, format_watts, format_wh
from energy.words.heat_balance import HeatWords, heat_words
from energy.words.stage_rows import StageWords, stage_words

_FAR_APART_S = 60.0
"""From so far apart on, two clocks may put readings in a wrong order."""

_PARTS = ("display", "accuracy", "marks", "edges", "holes")
"""Where the uncertainty of a run's energy comes from, in the order of its table."""


@dataclass(frozen=True)
class ReadingRow:
    """One reading in words; ``minute`` counts from the start."""

    reading: Reading
    minute: str
    energy: str
    power: str
    charge: str


@dataclass(frozen=True)
class RunFigures:
    """A run's figures in words, with its drawings; there only once enough was read."""

    energy: str
    per_serving: str
    mean: str
    peak: str
    peak_note: str
    minutes: str
    minutes_note: str
    how: str
    stages: tuple[StageWords, ...]
    parts: tuple[tuple[str, str], ...]
    coverage: str
    notes: tuple[str, ...]
    path: str
    drawings: RunDrawings
    heat: HeatWords | None


def run_standing(run: Run) -> str:
    """Return where a run stands: ``running``, ``counts``, ``accepted``, ``flagged`` or ``left_out``."""
    if run.ended_at is None:
        return "running"
    if run.verdict == "counts" and run.flags:
        return "flagged"
    return run.verdict if does_count(run) or run.verdict == "left_out" else "flagged"


@dataclass(frozen=True)
class RunLine:
    """A run's figures as a line of a list; empty words where too little was read."""

    energy: str = ""
    minutes: str = ""
    peak: str = ""


def run_line(run: Run) -> RunLine:
    """Return a run's figures for a list, from what is kept with it: no query."""
    summary = run_summary(run)
    if summary is None or not summary.known:
        return RunLine()
    peak = peak_words(summary.peak_w, summary.peak_seen, ENGLISH)
    return RunLine(format_wh(summary.energy_wh, summary.uncertainty_wh), format_minutes(summary.total_s), peak)


def run_figures(run: Run) -> RunFigures | None:
    """Return a run's figures in words, or None while too little was read."""
    summary = run_summary(run)
    if summary is None or not summary.known:
        return None
    return RunFigures(
        energy=format_wh(summary.energy_wh, summary.uncertainty_wh),
        per_serving=each_wh(summary.energy_wh, summary.uncertainty_wh, run.servings),
        mean=format_watts(summary.mean_w),
        peak=peak_figure(summary.peak_w, summary.peak_seen) if summary.peak_w is not None else "",
        peak_note="" if summary.peak_seen else sentence(ENGLISH, "peak_or_more"),
        minutes=format_minutes(summary.total_s),
        minutes_note=sentence(
            ENGLISH,
            "cooking_and_attended",
            cooking=format_minutes(summary.cooking_s),
            attended=format_minutes(summary.attended_s),
        ),
        how=_how_words(summary),
        stages=tuple(_stage_words(one) for one in summary.stages),
        parts=tuple(_part_row(key, summary.parts[key]) for key in _PARTS if summary.parts.get(key)),
        coverage=_coverage_words(summary),
        notes=(*(words_of(note, ENGLISH) for note in summary.notes), *_clock_notes(run)),
        path=_path_words(run, summary),
        drawings=run_drawings(run, summary),
        heat=heat_words(summary.heat, ENGLISH),
    )


def reading_rows(run: Run, readings: Sequence[Reading]) -> list[ReadingRow]:
    """Return a run's readings in words, in the order of time."""
    return [
        ReadingRow(
            reading,
            minute=f"{round((reading.at - run.started_at).total_seconds() / 60, 2):g}",
            energy="" if reading.energy_wh is None else f"{reading.energy_wh:,.10g} Wh",
            power="" if reading.power_w is None else f"{reading.power_w:,.10g} W",
            charge="" if reading.charge_pct is None else f"{reading.charge_pct:g} %",
        )
        for reading in readings
    ]


def _stage_words(stage: StageSummary) -> StageWords:
    energy = drawn_wh(stage.energy_wh, stage.uncertainty_wh, ENGLISH)
    return stage_words(stage, format_minutes(stage.span_s), energy, stage.duty)


def _part_row(key: str, uncertainty_wh: float) -> tuple[str, str]:
    return sentence(ENGLISH, f"part_{key}"), format_wh(uncertainty_wh)


def _how_words(summary: RunSummary) -> str:
    place = sentence(ENGLISH, "at_socket" if meter_place(summary.place).at_socket else "out_of_battery")
    return sentence(ENGLISH, "figures_from", method=sentence(ENGLISH, f"method_{summary.method}"), place=place)


def _path_words(run: Run, summary: RunSummary) -> str:
    """Return what a cook that was measured at both ends says about the way from battery to socket; empty for any other."""
    capacity_wh = run.source.capacity_wh
    cook = read_at_both_ends(summary)
    if cook is None or not capacity_wh:
        return ""
    load = (cook.load_wh, cook.uncertainty_wh)
    step_pct = run.source.display_step_pct
    path = path_efficiency(*load, cook.fall_pct, capacity_wh, step_pct, capacity_spread=CAPACITY_SPREAD)
    reached = f"{path.value * 100:.0f} ± {path.uncertainty * 100:.0f}\u00a0%"
    return sentence(ENGLISH, "both_ends", fall_pct=cook.fall_pct, battery_wh=path.battery_wh, reached=reached)


def _clock_notes(run: Run) -> Iterator[str]:
    """Yield what is to be looked at where the clocks of phones and server moved against each other during the cook. One query."""
    skews = run.events.aggregate(low=Min("skew_s"), high=Max("skew_s"))
    if skews["low"] is not None and skews["high"] - skews["low"] > _FAR_APART_S:
        yield sentence(ENGLISH, "clocks_apart", apart=format_minutes(skews["high"] - skews["low"]))


def _coverage_words(summary: RunSummary) -> str:
    coverage = summary.coverage
    if coverage is None:
        return ""
    figures = {"share_pct": coverage.covered * 100, "gap_s": coverage.longest_gap_s}
    return sentence(ENGLISH, "coverage", readings=coverage.readings, **figures)


@dataclass(frozen=True)
class MomentRow:
    """A note or a photo with its minute from the start."""

    moment: Moment
    minute: str


@dataclass(frozen=True)
class PauseRow:
    """A pause: from which minute on, and for how long; empty while it goes on."""

    minute: str
    span: str


def moments_of(run: Run) -> list[MomentRow]:
    """Return a run's notes and photos in the order of time. One query."""
    return [MomentRow(one, _minute(run, one.at)) for one in run.moments.select_related("photo").order_by("at")]


def pauses_of(run: Run) -> list[PauseRow]:
    """Return a run's pauses in the order of time. No query."""
    found = []
    for since, until in run.pauses:
        start = datetime.fromisoformat(since)
        span = "" if until is None else format_minutes((datetime.fromisoformat(until) - start).total_seconds())
        found.append(PauseRow(_minute(run, start), span))
    return found


def _minute(run: Run, moment: datetime) -> str:
    return format_minute((moment - run.started_at).total_seconds())
