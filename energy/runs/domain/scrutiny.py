"""What looks wrong in a measured run, and how its figures were made: the remarks that go with it."""

from __future__ import annotations

from dataclasses import replace

from energy.heat.need import HeatBalance
from energy.kinds import meter_place
from energy.runs.domain import plausibility
from energy.runs.domain.charge import charge_points, charge_rises
from energy.runs.domain.cook import DENSE_S, Cook, holes, steps
from energy.runs.domain.method import Measure
from energy.runs.domain.summary import CrossCheck, RunSummary
from energy.runs.domain.watts import COARSE_S, CYCLING_EDGES, switchings
from kitchen.domain.remark import Remark, remark
from kitchen.domain.stages import STAGE_KINDS

_MOST_HOLES = 3
"""So many holes are told one by one."""


def flags(cook: Cook, measure: Measure, summary: RunSummary) -> list[Remark | None]:
    """Return what looks wrong, with None where nothing does."""
    limits = cook.limits
    at_socket = meter_place(measure.place).at_socket
    rated_w = limits.rated_w if at_socket else None
    seen_w = summary.peak_w if summary.peak_seen else None
    by_stage = [(one.start_s, one.end_s, one.energy_wh) for one in summary.stages]
    climbs = steps(measure) if measure.method == "counter" else by_stage
    gaps = holes(cook, measure)
    return [
        *_falls(cook, measure),
        plausibility.above_rated(_from_start(cook, climbs), rated_w, measure.step_wh),
        plausibility.peak_above_rated(seen_w, rated_w),
        plausibility.peak_above_source(
            summary.peak_w if at_socket else None, limits.source_name, limits.source_w, limits.source_surge_w
        ),
        *(
            plausibility.hole(hole[0] - cook.start_s, hole[1] - cook.start_s, *measure.hole_wh(hole, *hole))
            for hole in gaps[:_MOST_HOLES]
        ),
        plausibility.more_holes([hole[1] - hole[0] for hole in gaps[_MOST_HOLES:]]),
        plausibility.start_unread(measure.track.starts_s - cook.start_s, summary.energy_wh),
        plausibility.end_unread(_unread_end_s(cook, measure), summary.energy_wh),
        _log_flag(cook, measure, summary),
        plausibility.charge_rose([(at_s - cook.start_s, rise) for at_s, rise in charge_rises(charge_points(cook.samples))]),
        _cross_flag(summary.cross_check),
        _heat_flag(summary.heat),
        plausibility.off_stage_draws(
            [(one.kind, one.start_s - cook.start_s, one.end_s - cook.start_s, one.energy_wh) for one in summary.stages],
            rated_w,
            measure.step_wh,
        ),
        plausibility.cut_short(summary.cooking_s, limits.method_s),
    ]


def _falls(cook: Cook, measure: Measure) -> list[Remark | None]:
    """Return what the falls of a counter mean: those after which it began again, and those that are faults."""
    falls = [replace(fall, at_s=fall.at_s - cook.start_s, from_s=fall.from_s - cook.start_s) for fall in measure.falls]
    faults = [fall for fall in falls if not fall.is_reset]
    hidden_wh = max((measure.most_w * (fall.at_s - fall.from_s) / 3600 for fall in faults), default=0.0)
    return [plausibility.counter_fell([fall for fall in falls if fall.is_reset]), plausibility.counter_faulty(faults, hidden_wh)]


def _from_start(cook: Cook, climbs: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    return [(start_s - cook.start_s, end_s - cook.start_s, energy_wh) for start_s, end_s, energy_wh in climbs]


def _unread_end_s(cook: Cook, measure: Measure) -> float:
    """Return how long the end went unread while something may have drawn: not in release or rest, not after 0 W was read."""
    last_s = measure.track.ends_s
    after = [(at_s, power) for at_s, power in cook.watts if at_s >= last_s]
    if after and after[-1][1] == 0:
        return 0.0
    drawing = [stage.end_s for stage in cook.stages if not STAGE_KINDS[stage.kind].off]
    return min(max(drawing, default=cook.end_s), cook.end_s) - last_s


def _log_flag(cook: Cook, measure: Measure, summary: RunSummary) -> Remark | None:
    """Return what the rhythm of a log of watts leaves open."""
    if measure.method != "watts" or summary.coverage is None:
        return None
    interval_s = summary.coverage.interval_s
    cycles = len(switchings(measure.points, cook.start_s, cook.end_s)) >= CYCLING_EDGES
    if cycles and not measure.held and interval_s > COARSE_S:
        return plausibility.coarse_log(interval_s)
    told = cook.came is not None and cook.came.held is True
    return plausibility.rare_watts(interval_s) if not told and interval_s > DENSE_S else None


def _cross_flag(check: CrossCheck | None) -> Remark | None:
    return plausibility.counter_against_watts(check.counter_wh, check.integral_wh, check.limit_wh) if check else None


def _heat_flag(heat: HeatBalance | None) -> Remark | None:
    if heat is None or heat.need.why_not or heat.need.guessed:
        return None
    return plausibility.efficiency(heat.need.needed_wh, heat.measured_wh, at_least=heat.need.at_least)


def notes(cook: Cook, measure: Measure, check: CrossCheck | None, heat: HeatBalance | None) -> tuple[Remark, ...]:
    """Return how the figures were made."""
    outside = [one for one in cook.samples if not cook.covers(one.at_s)]
    track = measure.track
    beyond_wh = track.between(track.starts_s, track.ends_s) - track.between(cook.start_s, cook.end_s)
    by_watts = "by_held_watts" if measure.held else "by_sampled_watts"
    return said(
        remark({"counter": "by_counter", "charge": "by_charge"}.get(measure.method, by_watts)),
        remark("watts_agree", watts_wh=check.integral_wh) if check and check.agrees else None,
        None if cook.stages else remark("no_stages"),
        plausibility.outside_the_run(len(outside), beyond_wh),
        plausibility.much_lost(heat.need.needed_wh, heat.measured_wh) if heat and heat.exact else None,
    )


def said(*remarks: Remark | None) -> tuple[Remark, ...]:
    return tuple(one for one in remarks if one is not None)
