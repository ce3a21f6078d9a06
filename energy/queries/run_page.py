"""One run as its page shows it: every figure in words, the drawings, the readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from energy.domain.sources import path_efficiency
from energy.domain.summary import RunSummary, StageSummary
from energy.domain.words import drawn_wh, format_minutes, format_peak, format_percent, format_watts, format_wh
from energy.models import Reading, Run
from energy.queries.drawings import RunDrawings, run_drawings
from energy.queries.heat_words import HeatWords, heat_words
from energy.queries.runs import does_count, run_summary
from kitchen.domain.stages import STAGE_KINDS

_PARTS = {
    "display": "the display’s step",
    "accuracy": "the meter’s accuracy",
    "marks": "stage marks that fall between two readings",
    "edges": "switching between two samples of a ticking element",
}
_METHODS = {"counter": "the meter’s counter", "watts": "the watts over time", "charge": "the fall of the battery’s charge"}
_PLACES = {"socket": "at the socket", "battery": "out of the battery"}


@dataclass(frozen=True)
class StageRow:
    """One stage in words."""

    name: str
    minutes: str
    energy: str
    mean: str
    peak: str
    attended: bool
    cycling: bool
    duty: str = ""


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
    stages: tuple[StageRow, ...]
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
    peak = format_peak(summary.peak_w, summary.peak_seen)
    return RunLine(format_wh(summary.energy_wh, summary.uncertainty_wh), format_minutes(summary.total_s), peak)


def run_figures(run: Run) -> RunFigures | None:
    """Return a run's figures in words, or None while too little was read."""
    summary = run_summary(run)
    if summary is None or not summary.known:
        return None
    u_each = summary.uncertainty_wh / run.servings
    return RunFigures(
        energy=format_wh(summary.energy_wh, summary.uncertainty_wh),
        per_serving=format_wh(summary.energy_wh / run.servings, u_each),
        mean=format_watts(summary.mean_w),
        peak=format_watts(summary.peak_w) if summary.peak_w is not None else "",
        peak_note="" if summary.peak_seen else "at its peak or more: no display showed it",
        minutes=format_minutes(summary.total_s),
        minutes_note=f"{format_minutes(summary.cooking_s)} cooking, {format_minutes(summary.attended_s)} at the pot",
        how=f"From {_METHODS.get(summary.method, summary.method)}, {_PLACES.get(summary.place, summary.place)}.",
        stages=tuple(_stage_row(stage) for stage in summary.stages),
        parts=tuple((words, format_wh(summary.parts[key])) for key, words in _PARTS.items() if summary.parts.get(key)),
        coverage=_coverage_words(summary),
        notes=summary.notes,
        path=_path_words(run, summary),
        drawings=run_drawings(run, summary),
        heat=heat_words(summary.heat),
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


def _stage_row(stage: StageSummary) -> StageRow:
    return StageRow(
        name=stage.label or STAGE_KINDS[stage.kind].label,
        minutes=format_minutes(stage.span_s),
        energy=drawn_wh(stage.energy_wh, stage.uncertainty_wh),
        mean=format_watts(stage.mean_w),
        peak="" if stage.peak_w is None else format_watts(stage.peak_w),
        attended=stage.attended,
        cycling=stage.cycling,
        duty="" if stage.duty is None else format_percent(stage.duty * 100),
    )


def _path_words(run: Run, summary: RunSummary) -> str:
    """Return what a cook that was measured at both ends says about the way from battery to socket; empty for any other."""
    fall_pct, capacity_wh = summary.charge_fall_pct, run.source.capacity_wh
    measured_at_both = summary.method != "charge" and summary.place == "socket"
    if not (measured_at_both and fall_pct and fall_pct > 0 and capacity_wh):
        return ""
    path = path_efficiency(summary.energy_wh, summary.uncertainty_wh, fall_pct, capacity_wh, run.source.display_step_pct)
    reached = f"{path.value * 100:.0f} ± {path.uncertainty * 100:.0f}\u00a0%"
    return (
        f"Measured at both ends: the charge fell by {format_percent(fall_pct)}, which is {format_wh(path.battery_wh)}. "
        f"Of that {reached} reached the socket; the inverter’s own draw is in it."
    )


def _coverage_words(summary: RunSummary) -> str:
    coverage = summary.coverage
    if coverage is None:
        return ""
    gap = format_minutes(coverage.longest_gap_s)
    return f"{coverage.readings} readings cover {format_percent(coverage.covered * 100)} of the time; the longest gap is {gap}."
