"""The highest power of a run: what a display showed, and what the counter proves beyond it."""

from __future__ import annotations

from energy.runs.domain.cook import Cook, steps
from energy.runs.domain.method import Measure
from energy.runs.domain.samples import StageSpan

_CLEAR_STEPS = 10
"""A climb of the counter tells a power only when it is at least this many display steps high."""

_MISSED = 0.95
"""Watts below this share of a stage's mean were read while the element was off or just starting."""


def peak(cook: Cook, measure: Measure) -> tuple[float | None, bool]:
    """Return the highest power and whether a display showed it.

    Parameters
    ----------
    cook : Cook
        The run as it was read.
    measure : Measure
        How its energy is made.

    Returns
    -------
    float or None
        The highest watts; None where neither a display nor the counter tells them. [W]
    bool
        False where the true peak may be higher: it is what the counter proves.

    Notes
    -----
    A climb of dE in dt proves (dE - step) / dt: each of its two readings is off by up to half a display step. So a counter that
    only rounds up never makes a peak higher than the one that the display showed. Where the energy comes from a battery's charge,
    the watts were read once at most, and one reading is no peak.

    Examples
    --------
    >>> from energy.runs.domain.method import choose
    >>> from energy.runs.domain.samples import Limits, MeterSpec, Sample
    >>> read = (Sample(0, 0, 690), Sample(120, 24, 690))
    >>> peak(Cook(read, (), MeterSpec(1, 2), Limits()), choose(read, MeterSpec(1, 2)))
    (690, True)
    >>> read = (Sample(0, 0), Sample(120, 24))
    >>> peak(Cook(read, (), MeterSpec(1, 2), Limits()), choose(read, MeterSpec(1, 2)))
    (690.0, False)
    """
    if measure.method == "charge":
        return None, False
    seen_w = max((power for at_s, power in cook.watts if cook.covers(at_s)), default=None)
    proved_w = _proved_w(cook, measure) if measure.method == "counter" else None
    if proved_w is None or (seen_w is not None and seen_w >= proved_w):
        return seen_w, seen_w is not None
    return proved_w, False


def _proved_w(cook: Cook, measure: Measure) -> float | None:
    """Return the steepest clear climb of the counter, less the step that it may be too high by. [W]"""
    climbs = [
        (energy_wh - measure.step_wh) * 3600 / (end_s - start_s)
        for start_s, end_s, energy_wh in steps(measure)
        if end_s > start_s and cook.start_s <= start_s and end_s <= cook.end_s and energy_wh >= _CLEAR_STEPS * measure.step_wh
    ]
    return max(climbs, default=None)


def stage_peak(cook: Cook, stage: StageSpan, mean_w: float) -> float | None:
    """Return the highest watts that were read in a stage; None where readings missed it: they lie well below the stage's mean."""
    last = stage.end_s == cook.end_s
    seen = [power for at_s, power in cook.watts if stage.start_s <= at_s < stage.end_s or (last and at_s == stage.end_s)]
    return max(seen) if seen and max(seen) >= _MISSED * mean_w else None
