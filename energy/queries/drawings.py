"""The drawings of one run, from what is kept with it: its readings are looked at only where an older program kept no trace."""

from __future__ import annotations

from dataclasses import dataclass

from energy import charts
from energy.domain.curve import Trace, intervals, trace_of
from energy.domain.facts import StageEnergy
from energy.domain.summary import RunSummary
from energy.domain.words import format_minutes, format_watts
from energy.models import Run
from energy.queries.samples import samples_of
from kitchen.domain import record


@dataclass(frozen=True)
class CurveRow:
    """One stretch of the power curve in words."""

    when: str
    low: str
    mean: str
    high: str


@dataclass(frozen=True)
class RunDrawings:
    """A run's strips, its ladder and its power curve, wide and narrow; ``contrast`` tells which stages cost energy, not time."""

    energy: charts.Strip | None
    energy_narrow: charts.Strip | None
    time: charts.Strip | None
    time_narrow: charts.Strip | None
    contrast: str
    ladder: charts.Ladder
    ladder_narrow: charts.Ladder
    ladder_key: str
    curve: charts.PowerCurve | None
    curve_narrow: charts.PowerCurve | None
    curve_key: str
    curve_rows: tuple[CurveRow, ...]


def run_drawings(run: Run, summary: RunSummary) -> RunDrawings:
    """Return the drawings of a run. No query where its trace was kept with its figures."""
    stages, trace = stage_energies(summary), run_trace(run, summary)
    marks = {"ons_s": trace.switch_ons_s, "resets_s": trace.resets_s}
    return RunDrawings(
        energy=charts.strip(stages),
        energy_narrow=charts.strip(stages, narrow=True),
        time=charts.strip(stages, by="minutes"),
        time_narrow=charts.strip(stages, narrow=True, by="minutes"),
        contrast=charts.what_costs_what(stages),
        ladder=charts.ladder(summary.ladder, stages, **marks),
        ladder_narrow=charts.ladder(summary.ladder, stages, narrow=True, **marks),
        ladder_key=_ladder_key(trace),
        curve=charts.power_curve(trace, stages, summary.total_s),
        curve_narrow=charts.power_curve(trace, stages, summary.total_s, narrow=True),
        curve_key=_curve_key(trace),
        curve_rows=tuple(_row(*one) for one in intervals(trace)),
    )


def run_trace(run: Run, summary: RunSummary) -> Trace:
    """Return a run's trace as kept; one that an older program kept no trace of is worked out from its readings."""
    kept = (run.summary or {}).get("trace")
    if kept is not None:
        return record.read(Trace, kept)
    samples = samples_of(run).samples
    starts_s = min([stage.start_s for stage in summary.stages] or [sample.at_s for sample in samples], default=0.0)
    return trace_of(samples, starts_s, starts_s + summary.total_s)


def stage_energies(summary: RunSummary) -> tuple[StageEnergy, ...]:
    """Return the stages of a run as its drawings take them."""
    return tuple(
        StageEnergy(
            kind=stage.kind,
            label=stage.label,
            energy_wh=stage.energy_wh,
            span_s=stage.span_s,
            mean_w=stage.mean_w,
            peak_w=stage.peak_w,
            uncertainty_wh=stage.uncertainty_wh,
            attended=stage.attended,
            cycling=stage.cycling,
        )
        for stage in summary.stages
    )


def _ladder_key(trace: Trace) -> str:
    """Return what the small marks on the ladder mean; empty where there are none."""
    told = []
    if trace.switch_ons:
        times = {1: "once", 2: "twice"}.get(trace.switch_ons, f"{trace.switch_ons:,} times")
        told.append(f"The element came on {times}{': small dots' if trace.switch_ons_s else ''}.")
    if trace.resets_s:
        told.append("A diamond stands where the counter was set back.")
    return " ".join(told)


def _curve_key(trace: Trace) -> str:
    if trace.from_counter:
        return "Mean watts between two readings of the counter: what happened between them is not known."
    return "The lowest and the highest watts of each moment; the shaded area is the energy." if trace.pieces else ""


def _row(start_s: float, end_s: float, low_w: float, mean_w: float, high_w: float) -> CurveRow:
    when = f"{format_minutes(start_s) if start_s else '0'} to {format_minutes(end_s)}"
    return CurveRow(when, format_watts(low_w), format_watts(mean_w), format_watts(high_w))
