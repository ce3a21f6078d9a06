"""A run's figures from its readings: energy, minutes, watts and how sure they are, for the whole run and for each stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from energy.runs.domain import plausibility, scrutiny
from energy.runs.domain.balance import heat_balance
from energy.runs.domain.charge import charge_points
from energy.runs.domain.cook import DENSE_S, Cook, holes
from energy.runs.domain.duty import duty
from energy.runs.domain.ladder import thin
from energy.runs.domain.method import Measure, choose, watts_measure
from energy.runs.domain.peak import peak, stage_peak
from energy.runs.domain.rhythm import Came
from energy.runs.domain.samples import Limits, MeterSpec, Sample, StageSpan
from energy.runs.domain.summary import Coverage, CrossCheck, RunSummary, StageSummary
from energy.runs.domain.uncertainty import expanded, together
from energy.runs.domain.watts import CYCLING_EDGES, switchings, usual_interval_s
from kitchen.domain.remark import Remark, remark
from kitchen.domain.stages import STAGE_KINDS

__all__ = ["Limits", "MeterSpec", "RunSummary", "Sample", "StageSpan", "StageSummary", "summarise"]


def summarise(
    samples: Sequence[Sample],
    stages: Sequence[StageSpan],
    meter: MeterSpec,
    *,
    limits: Limits | None = None,
    capacity_wh: float | None = None,
    display_step_pct: float = 1.0,
    came: Came | None = None,
) -> RunSummary:
    """Return the figures of one run.

    Parameters
    ----------
    samples : sequence of Sample
        The readings, in any order.
    stages : sequence of StageSpan
        The stages in the order of the cook; without any, the run is what the readings span.
    meter : MeterSpec
        The meter that showed the counter or the watts.
    limits : Limits, optional
        What the run is held against.
    capacity_wh : float, optional
        The battery's capacity; needed where only its charge was read. [Wh]
    display_step_pct : float
        The smallest step of the charge display. [%]
    came : Came, optional
        How the log came, held or sampled and with which holes; where it is not told the readings' own rhythm says.

    Returns
    -------
    RunSummary
        With ``method`` ``none`` and a flag where too little was read.

    Notes
    -----
    Counter first; between readings the counter is linear; at a stage's mark without a reading within 5 s the cut is uncertain by
    the step it falls in (step / sqrt(12)). Watts are the fallback, the battery's charge the last resort. Expanded uncertainties
    are twice the quadrature of display, accuracy class, marks and switching edges.

    Examples
    --------
    >>> read = [Sample(60 * minute, wh) for minute, wh in ((0, 0), (5, 56), (10, 105), (12, 118), (21, 213), (31, 213))]
    >>> cook = summarise(read, [StageSpan("brown", "", 0, 600, True), StageSpan("come_up", "", 600, 1860)], MeterSpec(1, 2))
    >>> cook.method, cook.energy_wh, [stage.energy_wh for stage in cook.stages], round(cook.stages[0].mean_w)
    ('counter', 213.0, [105.0, 108.0], 630)
    """
    spans = tuple(replace(stage, end_s=max(stage.end_s, stage.start_s)) for stage in stages)
    cook = Cook(tuple(samples), spans, meter, limits or Limits(), came)
    measure = choose(samples, meter, until_s=cook.end_s, came=came, capacity_wh=capacity_wh, display_step_pct=display_step_pct)
    backward = plausibility.stages_backward(stages)
    if measure is None:
        return _too_little(cook, capacity_wh, backward)
    peak_w, peak_seen = peak(cook, measure)
    stage_figures = tuple(_stage(cook, measure, stage, peak_w) for stage in spans)
    check = _cross_check(cook, measure)
    heat = heat_balance(cook, measure)
    parts = measure.parts(cook.start_s, cook.end_s)
    energy_wh = measure.track.between(cook.start_s, cook.end_s)
    cooking_s, attended_s = _minutes(cook)
    summary = RunSummary(
        method=measure.method,
        place=measure.place,
        energy_wh=energy_wh,
        uncertainty_wh=expanded(together(*parts.values())),
        mean_w=_mean_w(energy_wh, cook.end_s - cook.start_s),
        peak_w=peak_w,
        peak_seen=peak_seen,
        cooking_s=cooking_s,
        attended_s=attended_s,
        total_s=cook.end_s - cook.start_s,
        stages=stage_figures,
        ladder=_ladder(cook, measure),
        parts=parts,
        coverage=_coverage(cook, measure),
        cross_check=check,
        charge_fall_pct=_charge_fall(cook),
        resets=sum(fall.is_reset for fall in measure.falls),
        notes=scrutiny.notes(cook, measure, check, heat),
        heat=heat,
    )
    return replace(summary, flags=scrutiny.said(backward, *scrutiny.flags(cook, measure, summary)))


def _minutes(cook: Cook) -> tuple[float, float]:
    """Return the time that cooks and the time that somebody stood by. Without stages all of it counts as cooking. [s, s]"""
    if not cook.stages:
        return cook.end_s - cook.start_s, 0.0
    cooks = [stage for stage in cook.stages if stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].cooks]
    attended = [stage for stage in cook.stages if stage.attended]
    return sum((stage.span_s for stage in cooks), 0.0), sum((stage.span_s for stage in attended), 0.0)


def _too_little(cook: Cook, capacity_wh: float | None, backward: Remark | None) -> RunSummary:
    """Return a summary that says what is missing instead of an energy."""
    only_charge = len(charge_points(cook.samples)) >= 2 and not capacity_wh
    missing = remark("only_charge" if only_charge else "too_few_readings")
    cooking_s, attended_s = _minutes(cook)
    return RunSummary(
        method="none",
        place=cook.meter.place,
        energy_wh=0.0,
        uncertainty_wh=0.0,
        mean_w=0.0,
        peak_w=max((power for _, power in cook.watts), default=None),
        peak_seen=bool(cook.watts),
        cooking_s=cooking_s,
        attended_s=attended_s,
        total_s=cook.end_s - cook.start_s,
        flags=scrutiny.said(backward, missing),
        charge_fall_pct=_charge_fall(cook),
    )


def _stage(cook: Cook, measure: Measure, stage: StageSpan, run_peak_w: float | None) -> StageSummary:
    energy_wh = measure.track.between(stage.start_s, stage.end_s)
    parts = measure.parts(stage.start_s, stage.end_s)
    mean_w = _mean_w(energy_wh, stage.end_s - stage.start_s)
    return StageSummary(
        kind=stage.kind,
        label=stage.label,
        start_s=stage.start_s,
        end_s=stage.end_s,
        attended=stage.attended,
        energy_wh=energy_wh,
        mean_w=mean_w,
        peak_w=stage_peak(cook, stage, mean_w),
        uncertainty_wh=expanded(together(*parts.values())),
        split_wh=parts["marks"],
        cycling=_cycles(cook, stage, mean_w, run_peak_w),
        duty=duty(cook.watts, stage.start_s, stage.end_s, max((power for _, power in cook.watts), default=None)),
    )


def _cycles(cook: Cook, stage: StageSpan, mean_w: float, peak_w: float | None) -> bool:
    """Return whether the element ticked on and off: seen in the watts, or, in a stage that only holds, told by a low mean."""
    if len(switchings(cook.watts, stage.start_s, stage.end_s)) >= CYCLING_EDGES:
        return True
    holds = stage.kind in STAGE_KINDS and not STAGE_KINDS[stage.kind].heats
    return holds and peak_w is not None and 0.02 * peak_w < mean_w < 0.6 * peak_w


def _ladder(cook: Cook, measure: Measure) -> tuple[tuple[float, ...], ...]:
    marks = {cook.start_s, cook.end_s, *(stage.start_s for stage in cook.stages)}
    inside = {at_s for at_s in measure.track.times_s if cook.covers(at_s)}
    zero_wh = measure.track.at(cook.start_s)
    points = [(at_s - cook.start_s, round(measure.track.at(at_s) - zero_wh, 4)) for at_s in sorted(marks | inside)]
    return thin(points)


def _coverage(cook: Cook, measure: Measure) -> Coverage:
    times = [at_s for at_s in measure.track.times_s if cook.covers(at_s)]
    gaps = [after - before for before, after in pairwise(times)]
    covered_s = max(min(measure.track.ends_s, cook.end_s) - max(measure.track.starts_s, cook.start_s), 0.0)
    silent = [end_s - start_s for start_s, end_s in holes(cook, measure)]
    covered_s -= sum(silent)
    total_s = cook.end_s - cook.start_s
    return Coverage(
        readings=len(times),
        covered=covered_s / total_s if total_s else 1.0,
        longest_gap_s=max(silent if measure.step_s else gaps, default=measure.step_s),
        interval_s=measure.step_s or usual_interval_s(times),
    )


def _cross_check(cook: Cook, measure: Measure) -> CrossCheck | None:
    """Return the counter beside the integrated watts, where the watts were read densely over nearly all of the cook."""
    watts = watts_measure(cook.samples, cook.meter, until_s=cook.end_s, came=cook.came) if measure.method == "counter" else None
    if watts is None or (watts.step_s or usual_interval_s(watts.track.times_s)) > DENSE_S:
        return None
    start_s = max(cook.start_s, watts.track.starts_s, measure.track.starts_s)
    end_s = min(cook.end_s, watts.track.ends_s, measure.track.ends_s)
    if end_s - start_s < 0.9 * (cook.end_s - cook.start_s):
        return None
    limit_wh = together(measure.expanded_wh(start_s, end_s), watts.expanded_wh(start_s, end_s))
    return CrossCheck(measure.track.between(start_s, end_s), watts.track.between(start_s, end_s), limit_wh)


def _charge_fall(cook: Cook) -> float | None:
    points = charge_points(cook.samples)
    return points[0][1] - points[-1][1] if len(points) >= 2 else None


def _mean_w(energy_wh: float, span_s: float) -> float:
    return energy_wh * 3600 / span_s if span_s > 0 else 0.0
