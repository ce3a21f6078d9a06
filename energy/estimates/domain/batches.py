"""Several potfuls one after the other: the first finds the vessel cold, the later ones hot."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from energy.estimates.domain.circumstances import Circumstances, conditions
from energy.estimates.domain.doubts import doubts
from energy.estimates.domain.foretelling import OtherCook
from energy.estimates.domain.from_facts import LATER_VESSEL_SHARE, other_cook, repeats_of, unsure
from energy.estimates.domain.heat_range import Answer, Doubt, HeatRange, Part, Spread, heat_range
from energy.estimates.domain.three_ends import MeanCook
from energy.facts import EnergyFacts
from energy.heat.balance_facts import HeatModel

WORST: tuple[Answer, ...] = ("unknown", "no", "may_not", "yes")
"""The answers whether it gets there, the worst first."""


def each_batch(
    facts: EnergyFacts,
    model: HeatModel,
    cooks: Sequence[MeanCook],
    k: float,
    *,
    other: Circumstances,
    batches: int,
    power_share: float = 1.0,
) -> tuple[HeatRange, ...]:
    """Return what heating and holding take in each batch: the first finds the vessel cold, the later ones hot."""
    now, open_to, repeats = conditions(model, other), unsure(facts, model, other), repeats_of(facts)
    first = other_cook(model, k, now, power_share=power_share)
    cold = heat_range(cooks, first, doubts(cooks[0], first, open_to), repeats)
    if batches == 1 or cold.answer == "unknown":
        return (cold,) * batches
    later = other_cook(model, k, now, power_share=power_share, hot_vessel=True)
    hot = heat_range(cooks, later, [*doubts(cooks[0], later, open_to), _cooler(later)], repeats)
    return (cold, *[hot] * (batches - 1))


def _cooler(later: OtherCook) -> Doubt:
    """Return the doubt how hot the vessel still is: a share of its heat may have to be put in again."""
    share = LATER_VESSEL_SHARE * later.vessel_j_per_k / (later.vessel_j_per_k + later.food_j_per_k) / math.sqrt(3)
    return Doubt("vessel_of_later_batch", (), (("start_c", -share * (later.end_c - later.ambient_c)),))


def mean_batch(first: HeatRange, later: HeatRange, batches: int) -> HeatRange:
    """Return the range of a mean batch of so many; what is wrong in one is wrong in the next, so that ranges add up.

    Its ends are those of the first batch; its parts are the later ones', which know one doubt more.

    Examples
    --------
    >>> cold, hot = HeatRange("yes", Spread(80, 100, 120)), HeatRange("yes", Spread(60, 70, 80))
    >>> mean_batch(cold, hot, 2).energy
    Spread(low=70.0, middle=85.0, high=100.0)
    """
    if batches == 1:
        return first
    share = 1 / batches
    return replace(
        first,
        answer=min(first.answer, later.answer, key=WORST.index),
        energy=_mean(first.energy, later.energy, share),
        climb=_mean(first.climb, later.climb, share),
        parts=tuple(_scaled(part, 1.0 if part.code != "vessel_of_later_batch" else 1 - share) for part in later.parts),
        need_w=max(first.need_w, later.need_w),
    )


def _scaled(part: Part, share: float) -> Part:
    return Part(part.code, share * part.low_wh, share * part.high_wh)


def _mean(first: Spread, later: Spread, share: float) -> Spread:
    low = share * first.low + (1 - share) * later.low
    if first.middle is None or later.middle is None or first.high is None or later.high is None:
        return Spread(low)
    return Spread(low, share * first.middle + (1 - share) * later.middle, share * first.high + (1 - share) * later.high)
