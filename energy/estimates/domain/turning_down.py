"""A cooker turned down to what a weak source gives: what a meal takes then, and whether it gets there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from energy.estimates.domain.batches import WORST, each_batch
from energy.estimates.domain.circumstances import Circumstances, conditions, holds_longer
from energy.estimates.domain.from_facts import cooks_of
from energy.estimates.domain.heat_range import Answer, HeatRange, Spread
from energy.facts import EnergyFacts


def turned_down(facts: EnergyFacts, k: float, power_w: float, other: Circumstances, *, batches: int = 1) -> tuple[HeatRange, ...]:
    """Return what k times the food takes in each batch with the cooker turned down to a power; ``unknown`` where none can say.

    Parameters
    ----------
    facts : EnergyFacts
    k : float, > 0
        Times the measured food, in one batch. [-]
    power_w : float, > 0
        The most that the cooker draws. [W]
    other : Circumstances
    batches : int, >= 1

    Notes
    -----
    A cooker that draws less on average than at its peak ticks, or was set lower for a while. Turned down it may stay on for
    longer, or be on as long as before: so it lies between drawing ``power_w`` all the time, but never more than its mean, and
    drawing as much less on average as its peak falls. Higher up an open pot is held longer than it was measured: then its energy
    has a lower end alone.
    """
    model = facts.heat
    if model is None or not model.usable:
        return (HeatRange("unknown"),)
    cooks = cooks_of(facts, model)
    if not cooks[0].known:
        return (HeatRange("unknown"),)
    now, mean_w = conditions(model, other), cooks[0].power_w
    shares = sorted({min(power_w / max(facts.highest_w or 0.0, mean_w), 1.0), min(power_w / mean_w, 1.0)})
    asked = partial(each_batch, facts, model, cooks, k, other=other, batches=batches)
    at_each = zip(*(asked(power_share=share) for share in shares), strict=True)
    made = tuple(either(*ranges) for ranges in at_each)
    longer = cooks[0].holds and holds_longer(model, now.altitude_m)
    return tuple(replace(one, energy=Spread(one.energy.low)) for one in made) if longer else made


def either(*ranges: HeatRange) -> HeatRange:
    """Return what holds whichever of several ranges is the true one.

    Examples
    --------
    >>> fast, slow = HeatRange("yes", Spread(80, 90, 100), need_w=400), HeatRange("may_not", Spread(85), need_w=400)
    >>> either(fast, fast) == fast, either(fast, slow).answer, either(fast, slow).energy
    (True, 'may_not', Spread(low=80, middle=None, high=None))
    """
    worst = min(ranges, key=lambda one: WORST.index(one.answer))
    if len(set(ranges)) == 1:
        return worst
    answer: Answer = "may_not" if worst.answer == "no" and any(one.answer != "no" for one in ranges) else worst.answer
    energy, climb = _around([one.energy for one in ranges]), _around([one.climb for one in ranges])
    return replace(worst, answer=answer, energy=energy, climb=climb, need_w=max(one.need_w for one in ranges))


def _around(spreads: Sequence[Spread]) -> Spread:
    """Return the range that holds all of them; without an upper end where one has none."""
    low, highs = min(one.low for one in spreads), [one.high for one in spreads if one.high is not None]
    if len(highs) < len(spreads):
        return Spread(low)
    return Spread(low, (low + max(highs)) / 2, max(highs))
