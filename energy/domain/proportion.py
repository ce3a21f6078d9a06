"""Another number of servings than was measured: an estimate in proportion, with the range that plain proportion deserves."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from fractions import Fraction

from energy.domain.facts import EnergyFacts, StageEnergy
from energy.domain.ladder import refit, stage_corners
from kitchen.domain.stages import STAGE_KINDS

PROPORTION_SHARE = 0.20
"""Plain proportion is off by 5 to 20 % of what changes: the vessel and the losses do not grow with the food."""

FAR_SHARE = 0.40
"""Far from what was measured the range is twice as wide."""

FAR_ABOVE, FAR_BELOW = 2.5, 0.4


@dataclass(frozen=True)
class Estimate:
    """A run's figures for a number of servings: as measured, or estimated. ``stages`` are those of one batch.

    ``how`` names what an estimate comes from: ``proportion``, ``balance`` (of heat) or ``sizes`` (a line through cooks of several
    sizes); ``why`` says, where it is in proportion, why nothing better could be done.
    """

    standing: str
    energy_wh: float
    uncertainty_wh: float
    low_wh: float
    high_wh: float
    cooking_s: float
    attended_s: float
    total_s: float
    stages: tuple[StageEnergy, ...]
    ladder: tuple[tuple[float, ...], ...]
    far_words: str = ""
    how: str = "proportion"
    why: str = ""


def in_proportion(facts: EnergyFacts, servings: int, *, portion: Fraction = Fraction(1), batches: int = 1) -> Estimate:
    """Return the figures for a number of servings.

    Parameters
    ----------
    facts : EnergyFacts
        What was measured.
    servings : int, >= 1
        How many eat.
    portion : Fraction > 0
        Size of one serving, as a multiple of the one that was measured. [-]
    batches : int >= 1
        Equal potfuls, cooked one after the other. [-]

    Returns
    -------
    Estimate
        ``measured`` for the food that was cooked, in one batch as it was; else ``estimated``.

    Raises
    ------
    ValueError
        If the servings or the batches are fewer than one, or the portion is not above zero.

    Notes
    -----
    With k = portion x servings / measured servings / batches, a stage whose kind heats the food takes k times its energy in each
    batch; the others stay. A heating stage's minutes follow its energy at the measured mean power; the others keep theirs.
    Without stages, or where none that heats drew anything, everything scales: no kettle boils ten times the water for nothing.

    Batches add up, with their minutes. What later batches save in a pot that is hot already is not taken off.

    The range is the measured one together (in quadrature) with 20 % of the change, because plain proportion is off by 5 to 20 %:
    the vessel takes the same heat whatever is in it. Below 0.4 or above 2.5 times what was measured it is 40 %, and said. What is
    wrong in one batch is wrong in the next, so the ranges of batches add up too.
    """
    if servings < 1 or batches < 1 or portion <= 0:
        raise ValueError("A meal is for one serving at least, of some size, in one batch or more.")
    if portion * servings == facts.servings and batches == 1:
        return as_measured(facts)
    one = _one_batch(facts, float(portion * servings / facts.servings / batches))
    return one if batches == 1 else in_batches_again(one, batches)


def _one_batch(facts: EnergyFacts, k: float) -> Estimate:
    """Return the estimate for ``k`` times the food, in one pot."""
    share = FAR_SHARE if k > FAR_ABOVE or k < FAR_BELOW else PROPORTION_SHARE
    grows = _growing(facts.stages)
    stages = tuple(_scaled(stage, k, share) if stage.kind in grows else stage for stage in facts.stages)
    change_wh = sum(stage.energy_wh for stage in stages) - sum(stage.energy_wh for stage in facts.stages)
    longer_s = sum(stage.span_s for stage in stages) - sum(stage.span_s for stage in facts.stages)
    if not stages:
        change_wh, longer_s = (k - 1) * facts.energy_wh, (k - 1) * facts.total_s
    energy_wh = facts.energy_wh + change_wh
    larger = max(1.0, energy_wh / facts.energy_wh) if facts.energy_wh else 1.0
    half_next_wh = max(facts.next_high_wh - facts.energy_wh, facts.uncertainty_wh)
    next_wh = math.hypot(half_next_wh * larger, share * change_wh)
    return Estimate(
        standing="estimated",
        energy_wh=energy_wh,
        uncertainty_wh=math.hypot(facts.uncertainty_wh * larger, share * change_wh),
        low_wh=max(energy_wh - next_wh, 0.0),
        high_wh=energy_wh + next_wh,
        cooking_s=facts.cooking_s + _longer_s(facts, stages, k, "cooking"),
        attended_s=facts.attended_s + _longer_s(facts, stages, k, "attended"),
        total_s=facts.total_s + longer_s,
        stages=stages,
        ladder=_climb(facts, stages, k),
        far_words=_far_words(k, facts.servings),
    )


def in_batches_again(one: Estimate, batches: int) -> Estimate:
    """Return the same batch cooked several times; ``stages`` stay those of one batch, the ladder climbs through all of them."""
    return replace(
        one,
        energy_wh=one.energy_wh * batches,
        uncertainty_wh=one.uncertainty_wh * batches,
        low_wh=one.low_wh * batches,
        high_wh=one.high_wh * batches,
        cooking_s=one.cooking_s * batches,
        attended_s=one.attended_s * batches,
        total_s=one.total_s * batches,
        ladder=_climb_again(one, batches),
    )


def _climb_again(one: Estimate, batches: int) -> tuple[tuple[float, ...], ...]:
    return tuple(
        (at_s + batch * one.total_s, energy_wh + batch * one.energy_wh)
        for batch in range(batches)
        for at_s, energy_wh in one.ladder
    )


def as_measured(facts: EnergyFacts) -> Estimate:
    """Return the figures as they were measured, as an estimate carries them."""
    return Estimate(
        standing="measured",
        energy_wh=facts.energy_wh,
        uncertainty_wh=facts.uncertainty_wh,
        low_wh=facts.next_low_wh,
        high_wh=facts.next_high_wh,
        cooking_s=facts.cooking_s,
        attended_s=facts.attended_s,
        total_s=facts.total_s,
        stages=facts.stages,
        ladder=facts.ladder,
    )


def _growing(stages: tuple[StageEnergy, ...]) -> set[str]:
    """Return the kinds of stage that take more for more food: those that heat it, or all where none that heats drew anything."""
    drawing = {stage.kind for stage in stages if stage.energy_wh > 0}
    heating = {kind for kind in drawing if kind not in STAGE_KINDS or STAGE_KINDS[kind].heats}
    return heating or drawing


def _scaled(stage: StageEnergy, k: float, share: float) -> StageEnergy:
    """Return a stage for k times the food; one that drew nothing stays as it is."""
    if stage.mean_w <= 0:
        return stage
    change_wh = abs(k - 1) * stage.energy_wh
    return replace(
        stage,
        energy_wh=k * stage.energy_wh,
        span_s=k * stage.span_s,
        uncertainty_wh=math.hypot(stage.uncertainty_wh * max(k, 1.0), share * change_wh),
    )


def _longer_s(facts: EnergyFacts, stages: tuple[StageEnergy, ...], k: float, which: str) -> float:
    """Return by how much the cooking or the attended time grows. [s]"""
    if not stages:
        return (k - 1) * (facts.cooking_s if which == "cooking" else facts.attended_s)
    pairs = zip(facts.stages, stages, strict=True)
    return sum(new.span_s - old.span_s for old, new in pairs if (_cooks(old) if which == "cooking" else old.attended))


def _cooks(stage: StageEnergy) -> bool:
    return stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].cooks


def _climb(facts: EnergyFacts, stages: tuple[StageEnergy, ...], k: float) -> tuple[tuple[float, ...], ...]:
    """Return the measured ladder stretched to the estimated stages."""
    points = [(point[0], point[1]) for point in facts.ladder]
    if not stages:
        return tuple((at_s * k, energy_wh * k) for at_s, energy_wh in points)
    return refit(points, stage_corners(facts.stages), stage_corners(stages))


def _far_words(k: float, servings: int) -> str:
    if FAR_BELOW <= k <= FAR_ABOVE:
        return ""
    return f"Far from what was measured ({servings} servings): take this as a first guess, and measure."
