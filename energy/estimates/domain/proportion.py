"""Another number of servings than was measured: an estimate in proportion, with the range that plain proportion deserves."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from energy.facts import EnergyFacts, StageEnergy
from energy.runs.domain.ladder import refit, stage_corners
from kitchen.domain.remark import Said, remark
from kitchen.domain.stages import STAGE_KINDS

PROPORTION_SHARE = 0.20
"""Plain proportion is off by 5 to 20 % of what changes: the vessel and the losses do not grow with the food."""

FAR_SHARE = 0.40
"""Far from what was measured the range is twice as wide."""

FAR_ABOVE, FAR_BELOW = 2.5, 0.4

_ADD_UP = ("energy_wh", "uncertainty_wh", "low_wh", "high_wh", "cooking_s", "attended_s", "total_s")


@dataclass(frozen=True)
class Estimate:
    """A run's figures for a number of servings: as measured, or estimated. ``each_batch`` holds the stages of every batch.

    ``how`` names what an estimate comes from: ``proportion``, ``balance`` (of heat) or ``sizes`` (a line through cooks of several
    sizes); ``far`` says where it lies far from what was measured, or may not get there: then the energy is the least that it
    takes (``at_least``); ``why``, where it is in proportion, why nothing better could be done.
    """

    standing: str
    energy_wh: float
    uncertainty_wh: float
    low_wh: float
    high_wh: float
    cooking_s: float
    attended_s: float
    total_s: float
    each_batch: tuple[tuple[StageEnergy, ...], ...]
    ladder: tuple[tuple[float, ...], ...]
    far: Said = ""
    how: str = "proportion"
    why: Said = ""
    at_least: bool = False

    @property
    def stages(self) -> tuple[StageEnergy, ...]:
        """Each stage with what it takes in all batches together."""
        return tuple(_together(row) for row in zip(*self.each_batch, strict=True))


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
    return one_after_another([one] * batches)


def _one_batch(facts: EnergyFacts, k: float) -> Estimate:
    """Return the estimate for ``k`` times the food, in one pot."""
    share = off_in_proportion(k)
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
        uncertainty_wh=next_wh,
        low_wh=max(energy_wh - next_wh, 0.0),
        high_wh=energy_wh + next_wh,
        cooking_s=facts.cooking_s + _longer_s(facts, stages, k, "cooking"),
        attended_s=facts.attended_s + _longer_s(facts, stages, k, "attended"),
        total_s=facts.total_s + longer_s,
        each_batch=(stages,),
        ladder=_climb(facts, stages, k),
        far=_far(k, facts.servings),
    )


def off_in_proportion(k: float) -> float:
    """Return by what share of a change plain proportion is off, for ``k`` times what was measured. [-]"""
    return FAR_SHARE if k > FAR_ABOVE or k < FAR_BELOW else PROPORTION_SHARE


def one_after_another(batches: Sequence[Estimate]) -> Estimate:
    """Return batches cooked one after the other: what they take adds up, and the ladder climbs through all of them."""
    first = batches[0]
    if len(batches) == 1:
        return first

    added: dict[str, Any] = {name: math.fsum(getattr(batch, name) for batch in batches) for name in _ADD_UP}
    return replace(
        first,
        **added,
        each_batch=tuple(stages for batch in batches for stages in batch.each_batch),
        ladder=_climb_on(batches),
    )


def _climb_on(batches: Sequence[Estimate]) -> tuple[tuple[float, ...], ...]:
    points: list[tuple[float, ...]] = []
    start_s = start_wh = 0.0
    for batch in batches:
        points += [(start_s + at_s, start_wh + energy_wh) for at_s, energy_wh in batch.ladder]
        start_s, start_wh = start_s + batch.total_s, start_wh + batch.energy_wh
    return tuple(points)


def _together(row: Sequence[StageEnergy]) -> StageEnergy:
    """Return one stage of several batches; what is wrong in one is wrong in the next."""
    if len(row) == 1:
        return row[0]
    energy_wh, span_s = math.fsum(one.energy_wh for one in row), math.fsum(one.span_s for one in row)
    return replace(
        row[0],
        energy_wh=energy_wh,
        span_s=span_s,
        mean_w=energy_wh * 3600 / span_s if span_s > 0 else 0.0,
        uncertainty_wh=math.fsum(one.uncertainty_wh for one in row),
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
        each_batch=(facts.stages,),
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


def _far(k: float, servings: int) -> Said:
    return "" if FAR_BELOW <= k <= FAR_ABOVE else remark("far_from_measured", servings=servings)
