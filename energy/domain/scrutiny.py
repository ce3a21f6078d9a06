"""What looks wrong in a measured run, and how its figures were made: the sentences that go with it."""

from __future__ import annotations

from dataclasses import replace

from energy.domain import plausibility
from energy.domain.charge import charge_points, charge_rises
from energy.domain.cook import DENSE_S, Cook, holes, steps
from energy.domain.heat_need import HeatBalance
from energy.domain.method import Measure
from energy.domain.summary import CrossCheck, RunSummary
from energy.domain.watts import COARSE_S, CYCLING_EDGES, switchings
from energy.domain.words import format_wh


def flags(cook: Cook, measure: Measure, summary: RunSummary) -> list[str]:
    """Return what looks wrong, with empty strings where nothing does."""
    limits = cook.limits
    at_socket = measure.place == "socket"
    rated_w = limits.rated_w if at_socket else None
    seen_w = summary.peak_w if summary.peak_seen else None
    by_stage = [(one.start_s, one.end_s, one.energy_wh) for one in summary.stages]
    climbs = steps(measure) if measure.method == "counter" else by_stage
    gaps = holes(cook, measure)
    return [
        plausibility.counter_fell([replace(fall, at_s=fall.at_s - cook.start_s) for fall in measure.falls]),
        plausibility.above_rated(_from_start(cook, climbs), rated_w, measure.step_wh),
        plausibility.peak_above_rated(seen_w, rated_w),
        plausibility.peak_above_source(
            summary.peak_w if at_socket else None, limits.source_name, limits.source_w, limits.source_surge_w
        ),
        *(plausibility.gap(start_s - cook.start_s, end_s - cook.start_s) for start_s, end_s in gaps[:3]),
        plausibility.start_unread(measure.track.starts_s - cook.start_s, summary.energy_wh),
        plausibility.end_unread(_unread_end_s(cook, measure), summary.energy_wh),
        _log_flag(cook, measure, summary),
        plausibility.charge_rose([(at_s - cook.start_s, rise) for at_s, rise in charge_rises(charge_points(cook.samples))]),
        _cross_flag(summary.cross_check),
        _heat_flag(summary.heat),
    ]


def _from_start(cook: Cook, climbs: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    return [(start_s - cook.start_s, end_s - cook.start_s, energy_wh) for start_s, end_s, energy_wh in climbs]


def _unread_end_s(cook: Cook, measure: Measure) -> float:
    """Return how long the end went unread while something may have drawn: not in release or rest, not after 0 W was read."""
    last_s = measure.track.ends_s
    after = [(at_s, power) for at_s, power in cook.watts if at_s >= last_s]
    if after and after[-1][1] == 0:
        return 0.0
    drawing = [stage.end_s for stage in cook.stages if stage.kind not in ("release", "rest")]
    return min(max(drawing, default=cook.end_s), cook.end_s) - last_s


def _log_flag(cook: Cook, measure: Measure, summary: RunSummary) -> str:
    """Return what the rhythm of a log of watts leaves open."""
    if measure.method != "watts" or summary.coverage is None:
        return ""
    interval_s = summary.coverage.interval_s
    cycles = len(switchings(measure.points, cook.start_s, cook.end_s)) >= CYCLING_EDGES
    if cycles and not measure.held and interval_s > COARSE_S:
        return plausibility.coarse_log(interval_s)
    return plausibility.rare_watts(interval_s) if cook.held is not True and interval_s > DENSE_S else ""


def _cross_flag(check: CrossCheck | None) -> str:
    return plausibility.counter_against_watts(check.counter_wh, check.integral_wh, check.limit_wh) if check else ""


def _heat_flag(heat: HeatBalance | None) -> str:
    if heat is None or heat.need.why_not:
        return ""
    return plausibility.efficiency(heat.need.needed_wh, heat.measured_wh, at_least=heat.need.at_least)


def notes(cook: Cook, measure: Measure, check: CrossCheck | None, heat: HeatBalance | None) -> tuple[str, ...]:
    """Return how the figures were made."""
    outside = [one for one in cook.samples if not cook.covers(one.at_s)]
    track = measure.track
    beyond_wh = track.between(track.starts_s, track.ends_s) - track.between(cook.start_s, cook.end_s)
    how = {
        "counter": "Energy from the meter's counter.",
        "watts": "Energy from the watts: each value held until the next."
        if measure.held
        else "Energy from evenly sampled watts.",
        "charge": "Energy out of the battery, from the fall of its charge.",
    }
    agrees = f"The watts add up to {format_wh(check.integral_wh)}: they agree with the counter." if check and check.agrees else ""
    whole = "" if cook.stages else "No stages are marked: all of the time counts as cooking."
    lost = plausibility.much_lost(heat.need.needed_wh, heat.measured_wh) if heat and heat.exact else ""
    return said(how[measure.method], agrees, whole, plausibility.outside_the_run(len(outside), beyond_wh), lost)


def said(*sentences: str) -> tuple[str, ...]:
    return tuple(sentence for sentence in sentences if sentence)
