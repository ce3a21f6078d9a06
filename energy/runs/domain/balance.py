"""The energy that was measured by the time food and pot had taken their heat, beside that heat."""

from __future__ import annotations

from energy.heat.need import HeatBalance
from energy.runs.domain.cook import Cook
from energy.runs.domain.method import NEAR_MARK_S, Measure

_HEATS_ONLY = frozenset({"preheat", "brown", "come_up"})


def heat_balance(cook: Cook, measure: Measure) -> HeatBalance | None:
    """Return the heat needed beside the energy up to the end of the last stage that comes up, else of the first that holds.

    Where no stage is marked there is no such energy, and the heat alone.

    Notes
    -----
    Where no reading was taken at that end, the energy up to the next reading stands for it: cutting between two readings a long
    way apart would give a stage far too little, and blame the meter for it.
    """
    need = cook.limits.heat
    if need is None or need.why_not:
        return None if need is None else HeatBalance(need)
    last = _boils_at_end_of(cook)
    if last is None:
        return HeatBalance(need)
    stage = cook.stages[last]
    at_most = measure.split_at(stage.end_s) > 0
    end_s = _next_reading_s(measure, stage.end_s) if at_most else stage.end_s
    return HeatBalance(
        need=need,
        measured_wh=measure.track.between(cook.start_s, end_s),
        until=stage.kind,
        at_most=at_most,
        only_heats=all(one.kind in _HEATS_ONLY for one in cook.stages[: last + 1]),
    )


def _boils_at_end_of(cook: Cook) -> int | None:
    coming = [number for number, stage in enumerate(cook.stages) if stage.kind == "come_up"]
    holding = [number for number, stage in enumerate(cook.stages) if stage.kind == "hold"]
    return coming[-1] if coming else next(iter(holding), None)


def _next_reading_s(measure: Measure, end_s: float) -> float:
    return next((at_s for at_s in measure.track.times_s if at_s >= end_s - NEAR_MARK_S), end_s)
