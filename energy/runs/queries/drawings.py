"""The drawings of one run, from what is kept with it: its readings are looked at only where an older program kept no trace."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from energy import charts
from energy.facts import StageEnergy
from energy.models import Run
from energy.runs.domain.curve import Trace, intervals, trace_of
from energy.runs.domain.summary import RunSummary
from energy.runs.queries.samples import samples_of
from energy.words import ENGLISH, sentence
from energy.words.figure_words import peak_words, times_words
from energy.words.figures import format_minutes, format_watts, printed_step
from energy.words.titles import Fineness, what_costs_what
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
    """A run's strip, its ladder and its power curve, wide and narrow; ``contrast`` tells which stages cost energy, not time."""

    strip: charts.Strip | None
    strip_narrow: charts.Strip | None
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
    said: dict[str, Any] = {"language": ENGLISH, "fine": Fineness(printed_step(summary.energy_wh, summary.uncertainty_wh))}
    marked = {"ons_s": trace.switch_ons_s, "resets_s": trace.resets_s, **said}
    watts: dict[str, Any] = {"language": ENGLISH, "peak": peak_words(summary.peak_w, summary.peak_seen, ENGLISH)}
    return RunDrawings(
        strip=charts.strip(stages, **said),
        strip_narrow=charts.strip(stages, size="narrow", **said),
        contrast=what_costs_what(stages, ENGLISH),
        ladder=charts.ladder(summary.ladder, stages, **marked),
        ladder_narrow=charts.ladder(summary.ladder, stages, narrow=True, **marked),
        ladder_key=_ladder_key(trace),
        curve=charts.power_curve(trace, stages, summary.total_s, **watts),
        curve_narrow=charts.power_curve(trace, stages, summary.total_s, narrow=True, **watts),
        curve_key=_curve_key(trace),
        curve_rows=tuple(_curve_row(*one) for one in intervals(trace)),
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
    return tuple(record.taken(StageEnergy, stage) for stage in summary.stages)


def _ladder_key(trace: Trace) -> str:
    """Return what the small marks on the ladder mean; empty where there are none."""
    told = []
    if trace.switch_ons:
        times = times_words(trace.switch_ons, ENGLISH)
        told.append(sentence(ENGLISH, "came_on_dots" if trace.switch_ons_s else "came_on", times=times))
    if trace.resets_s:
        told.append(sentence(ENGLISH, "diamond"))
    return " ".join(told)


def _curve_key(trace: Trace) -> str:
    if trace.from_counter:
        return sentence(ENGLISH, "mean_between")
    return sentence(ENGLISH, "lowest_and_highest") if trace.pieces else ""


def _curve_row(start_s: float, end_s: float, low_w: float, mean_w: float, high_w: float) -> CurveRow:
    when = sentence(ENGLISH, "from_to", least=format_minutes(start_s) if start_s else "0", most=format_minutes(end_s))
    return CurveRow(when, format_watts(low_w), format_watts(mean_w), format_watts(high_w))
