"""Runs of one recipe at two clearly different powers: each kept apart, so that what lies between them is bounded by both."""

from __future__ import annotations

import math
from collections.abc import Sequence
from statistics import fmean

from energy.heat.balance_facts import CookedAtPower
from energy.runs.domain.summary import StageSummary

APART = 1.25
"""So many times the lower power the higher one must be to be another setting, and no scatter (common practice)."""


def at_two_powers(runs: Sequence[Sequence[StageSummary]], until: int) -> tuple[CookedAtPower, ...]:
    """Return the means of the runs at a higher and at a lower power; nothing where all were cooked alike.

    Parameters
    ----------
    runs : sequence of stages
        Each run's stages, all of the same kinds.
    until : int
        How many of the stages heat to the end; 0 where that is not known.

    Examples
    --------
    >>> def run(wh, seconds):
    ...     return [StageSummary("come_up", "", 0, seconds, False, wh, wh * 3600 / seconds, None, 1.0)]
    >>> [(one.heat_wh, one.heat_s, one.runs) for one in at_two_powers([run(200, 900), run(210, 900), run(260, 2400)], 1)]
    [(205.0, 900.0, 2), (260.0, 2400.0, 1)]
    >>> at_two_powers([run(200, 900), run(210, 950)], 1)
    ()
    """
    made = [_cooked(run, until) for run in runs if until]
    powers = [one.heat_wh / one.heat_s for one in made if one.heat_s > 0 and one.heat_wh > 0]
    if len(powers) < max(len(made), 2) or max(powers) < APART * min(powers):
        return ()
    between = math.sqrt(max(powers) * min(powers))
    halves = ([one for one in made if (one.heat_wh / one.heat_s >= between) is high] for high in (True, False))
    return tuple(_mean(half) for half in halves)


def _cooked(stages: Sequence[StageSummary], until: int) -> CookedAtPower:
    heating, held = stages[:until], [stage for stage in stages[until:] if stage.kind == "hold"]
    (heat_wh, heat_s), (hold_wh, hold_s) = (
        (sum(stage.energy_wh for stage in part), sum(stage.span_s for stage in part)) for part in (heating, held)
    )
    return CookedAtPower(heat_wh, heat_s, hold_wh, hold_s, 1)


def _mean(half: Sequence[CookedAtPower]) -> CookedAtPower:
    return CookedAtPower(
        fmean(one.heat_wh for one in half),
        fmean(one.heat_s for one in half),
        fmean(one.hold_wh for one in half),
        fmean(one.hold_s for one in half),
        len(half),
    )
