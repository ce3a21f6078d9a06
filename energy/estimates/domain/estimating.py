"""Another cook than the one that was measured: more or less food, colder, higher, in batches. By the three ends of its heat."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from energy.estimates.domain.batches import each_batch, mean_batch
from energy.estimates.domain.circumstances import (
    Circumstances,
    Conditions,
    conditions,
    food_heat_wh,
    holds_longer,
    vessel_heat_wh,
)
from energy.estimates.domain.foretelling import OtherCook
from energy.estimates.domain.from_facts import (
    Split,
    mean_cook,
    other_cook,
    repeats_of,
    split_of,
)
from energy.estimates.domain.heat_range import HeatRange, Spread
from energy.estimates.domain.proportion import PROPORTION_SHARE, Estimate, as_measured, in_proportion, one_after_another
from energy.estimates.domain.three_ends import MeanCook
from energy.estimates.domain.two_sizes import SizedCook, SizeLine, size_line
from energy.facts import EnergyFacts, StageEnergy
from energy.heat.balance_facts import HeatModel
from energy.runs.domain.ladder import refit, stage_corners
from kitchen.domain.remark import Said, remark
from kitchen.domain.stages import STAGE_KINDS

_NO_MODEL = remark("published_before_balances")
_ENDS_UNKNOWN = remark("ends_unknown")


@dataclass(frozen=True)
class Balance:
    """How an estimate was made: the heats of one batch then and now, what is left open, and the range of all batches. [Wh]

    Attributes
    ----------
    cook, asked : MeanCook, OtherCook
        What was measured up to its end and held there, and the first batch of what is asked.
    each : tuple of HeatRange
        Heating and holding of every batch; ``made`` those of a mean one.
    repeats : float
        By what share the next cook may differ from the mean. [-]
    """

    model: HeatModel
    cook: MeanCook
    asked: OtherCook
    then: Conditions
    now: Conditions
    k: float
    food_then_wh: float
    food_now_wh: float
    vessel_then_wh: float
    vessel_now_wh: float
    each: tuple[HeatRange, ...]
    made: HeatRange
    repeats: float

    @property
    def batches(self) -> int:
        """How many potfuls, one after the other."""
        return len(self.each)

    @property
    def widest(self) -> tuple[str, float]:
        """What nobody noted that would narrow the range of all batches most, and by how much; empty where none would. [-, Wh]"""
        widths = [(self.batches * self.made.narrower_wh(code), code) for code in self.model.unnoted]
        narrower_wh, code = max(widths, default=(0.0, ""))
        return (code, narrower_wh) if self.whole and narrower_wh >= 1 else ("", 0.0)

    @property
    def gets_there(self) -> bool:
        """Whether it surely gets there."""
        return self.made.answer == "yes"

    @property
    def longer(self) -> bool:
        """Whether it is held longer than it was measured, because it boils less hot in the open."""
        return self.cook.holds and holds_longer(self.model, self.now.altitude_m)

    @property
    def whole(self) -> bool:
        """Whether all of its energy is known; else it is "at least"."""
        return self.gets_there and not self.longer

    @property
    def minutes_factor(self) -> float:
        """By what the minutes under pressure are multiplied. [-]"""
        return self.asked.hold_longer


def estimate(
    facts: EnergyFacts,
    servings: int,
    *,
    portion: Fraction = Fraction(1),
    batches: int = 1,
    other: Circumstances = Circumstances(),  # noqa: B008 - frozen
) -> tuple[Estimate, Balance | None]:
    """Return the figures of another cook, with the balance that they come from.

    Parameters
    ----------
    facts : EnergyFacts
        What was measured; ``facts.heat`` is its balance.
    servings : int, >= 1
        How many eat.
    portion : Fraction > 0
        Size of one serving as a multiple of the one that was measured. [-]
    batches : int >= 1
        Equal potfuls, cooked one after the other. [-]
    other : Circumstances
        What else differs.

    Returns
    -------
    Estimate, Balance or None
        ``measured`` and no balance where nothing differs; no balance either where none can be made: then the estimate is in
        proportion (``proportion.in_proportion``), and cold or height change nothing in it.

    Raises
    ------
    ValueError
        If the servings or the batches are fewer than one, or the portion is not above zero.

    Notes
    -----
    Heating and holding: ``heat_range``, from three ends of what the measured climb leaves open; its middle is shown, its range
    says how sure. Reducing and baking grow with the food; resting and keeping warm stay. A later batch finds the vessel hot.
    Where it may not get there, the energy is the least that it takes, and ``at_least``.

    Where cooks of other sizes were measured on the same appliance, a least-squares line through the sizes gives the energy
    instead (one batch, nothing else changed), unless that is less than the heat of the food, or beyond the sizes and it may not
    get there; the balance is still returned, to be shown beside it.
    """
    if servings < 1 or batches < 1 or portion <= 0:
        raise ValueError("A meal is for one serving at least, of some size, in one batch or more.")
    model = facts.heat
    same_food = portion * servings == facts.servings and batches == 1
    if same_food and not other.said:
        return as_measured(facts), None
    plain = as_measured(facts) if same_food else in_proportion(facts, servings, portion=portion, batches=batches)
    if model is None or not model.usable:
        return replace(plain, why=_NO_MODEL if model is None else model.why_not), None
    balance = _balance(facts, model, float(portion * servings / facts.servings / batches), batches, other)
    if balance.made.answer == "unknown":
        return replace(plain, why=_ENDS_UNKNOWN), None
    made = _estimated(facts, balance)
    line = None if other.said or batches > 1 else _line(facts)
    return (made if line is None else _on_the_line(facts, made, line, balance)), balance


def _line(facts: EnergyFacts) -> SizeLine | None:
    """Return the line through the sizes that were measured on this appliance, in multiples of the shown cook."""
    sizes = [SizedCook(size.servings / facts.servings, size.energy_wh, size.uncertainty_wh) for size in facts.sizes]
    return size_line(sizes)


def _on_the_line(facts: EnergyFacts, made: Estimate, line: SizeLine, balance: Balance) -> Estimate:
    """Return the estimate with the energy that the line gives; its stages and its climb keep the balance's shape.

    The balance's own where the line leaves the food too little heat, or goes on beyond the sizes to where it may not get there.
    """
    k, food_wh = balance.k, max(balance.food_now_wh, 0.0)
    energy_wh, sizes = line.at(k), [size.servings / facts.servings for size in facts.sizes]
    beyond = not min(sizes) <= k <= max(sizes)
    if energy_wh <= food_wh or min(made.energy_wh, facts.energy_wh) <= 0 or (beyond and not balance.gets_there):
        return made
    scale = energy_wh / made.energy_wh
    half_wh = line.half_width_wh(k)
    stages = tuple(
        replace(
            stage, energy_wh=stage.energy_wh * scale, mean_w=stage.mean_w * scale, uncertainty_wh=stage.uncertainty_wh * scale
        )
        for stage in made.stages
    )
    next_wh = math.hypot(half_wh, max(facts.next_high_wh - facts.energy_wh, 0.0) * max(energy_wh / facts.energy_wh, 1.0))
    return replace(
        made,
        energy_wh=energy_wh,
        uncertainty_wh=next_wh,
        low_wh=max(energy_wh - next_wh, food_wh),
        high_wh=energy_wh + next_wh,
        each_batch=(stages,),
        ladder=tuple((at_s, so_far_wh * scale) for at_s, so_far_wh in made.ladder),
        how="sizes",
        at_least=False,
        far=_far(k, facts.servings),
    )


def _balance(facts: EnergyFacts, model: HeatModel, k: float, batches: int, other: Circumstances) -> Balance:
    then, now = conditions(model, Circumstances()), conditions(model, other)
    cook = mean_cook(facts, model)
    each = each_batch(facts, model, (cook,), k, other=other, batches=batches)
    return Balance(
        model=model,
        cook=cook,
        asked=other_cook(model, k, now),
        then=then,
        now=now,
        k=k,
        food_then_wh=food_heat_wh(model, 1.0, then),
        food_now_wh=food_heat_wh(model, k, now),
        vessel_then_wh=vessel_heat_wh(model, then),
        vessel_now_wh=vessel_heat_wh(model, now),
        each=each,
        made=mean_batch(each[0], each[-1], batches),
        repeats=repeats_of(facts).of_next,
    )


def _estimated(facts: EnergyFacts, balance: Balance) -> Estimate:
    """Return the estimate of all batches, each as it is foretold."""
    answer = balance.made.answer
    made = {one: _batch(facts, replace(balance, made=replace(one, answer=answer))) for one in {balance.each[0], balance.each[-1]}}
    return one_after_another([made[one] for one in balance.each])


def _batch(facts: EnergyFacts, balance: Balance) -> Estimate:
    """Return the estimate of one batch, which ``balance.made`` foretells. At least so much, where it may not get there."""
    made, grows, split = balance.made.energy, _growth(balance), split_of(facts, balance.model)
    stages = tuple(_stage(stage, number, split, grows, balance) for number, stage in enumerate(facts.stages))
    moved = {*split.heating, *split.holding}
    change_wh = sum(stages[number].energy_wh - old.energy_wh for number, old in enumerate(facts.stages) if number not in moved)
    beside_wh = max(facts.energy_wh - balance.cook.heat_wh - balance.cook.hold_wh + change_wh, 0.0)
    open_wh = math.hypot(balance.repeats * beside_wh, PROPORTION_SHARE * change_wh)
    energy_wh = grows.heated_wh + beside_wh
    high_wh = made.high if balance.whole and made.high is not None else grows.heated_wh * (1 + balance.repeats)
    above_wh, below_wh = math.hypot(high_wh - grows.heated_wh, open_wh), math.hypot(grows.heated_wh - made.low, open_wh)
    return Estimate(
        standing="estimated",
        energy_wh=energy_wh,
        uncertainty_wh=(above_wh + below_wh) / 2,
        low_wh=max(energy_wh - below_wh, 0.0),
        high_wh=energy_wh + above_wh,
        cooking_s=facts.cooking_s + _longer_s(facts, stages, grows, "cooking"),
        attended_s=facts.attended_s + _longer_s(facts, stages, grows, "attended"),
        total_s=facts.total_s + _longer_s(facts, stages, grows, "all"),
        each_batch=(stages,),
        ladder=_ladder(facts, stages, grows, energy_wh),
        far=_told(facts, balance),
        how="balance",
        at_least=not balance.whole,
    )


@dataclass(frozen=True)
class _Growth:
    """What heating and holding take in a batch [Wh], and by what their energies and the time up to the end grow. [-, s]"""

    heated_wh: float
    heat_by: float
    hold_by: float
    span_by: float
    longer_s: float


def _growth(balance: Balance) -> _Growth:
    """Return how a batch grows; without a marked come-up what it takes more is drawn at the heater's watts.

    Higher up, or where it may not get there, it takes no less time than was measured; of less food, than its share of that.
    """
    cook, made, least_s = balance.cook, balance.made, _least_s(balance)
    heated_wh = made.energy.middle if balance.whole and made.energy.middle is not None else made.energy.low
    if cook.heating_w is not None:
        drawn_wh = _likely(made.energy, balance) - cook.heat_wh
        pressed_s = (balance.asked.hold_longer - 1) * cook.ends[0].hold_s
        all_s = max(cook.heat_s + drawn_wh * 3600 / (cook.power_w * balance.asked.power_share) + pressed_s, least_s)
        by = heated_wh / cook.heat_wh
        return _Growth(heated_wh, by, by, all_s / cook.heat_s, all_s - cook.heat_s)
    climb_s = max(_likely(made.climb, balance), least_s)
    heat_wh = heated_wh * _heating_share(balance)
    hold_by = (heated_wh - heat_wh) / cook.hold_wh if cook.hold_wh > 0 else 1.0
    return _Growth(heated_wh, heat_wh / cook.heat_wh, hold_by, climb_s / cook.heat_s, climb_s - cook.heat_s)


def _least_s(balance: Balance) -> float:
    """Return below which its climb is not said to be shorter; 0 where all is known. [s]"""
    return 0.0 if balance.whole else balance.cook.heat_s * min(balance.k, 1.0)


def _likely(spread: Spread, balance: Balance) -> float:
    """Return the middle where it surely gets there, else the lower end."""
    return spread.middle if balance.gets_there and spread.middle is not None else spread.low


def _heating_share(balance: Balance) -> float:
    """Return how much of heating and holding together is heating, between the least and the greatest end. [-]"""
    there = sorted((end for end in balance.made.ends if math.isfinite(end.heat_s)), key=lambda end: end.energy_wh)
    if not there or there[0].energy_wh + there[-1].energy_wh <= 0:
        return balance.cook.heat_wh / (balance.cook.heat_wh + balance.cook.hold_wh)
    most = there[-1] if balance.whole else there[0]
    return (there[0].heat_wh + most.heat_wh) / (there[0].energy_wh + most.energy_wh)


def _stage(stage: StageEnergy, number: int, split: Split, grows: _Growth, balance: Balance) -> StageEnergy:
    """Return one stage of a batch."""
    made = balance.made.energy
    if number in split.heating:
        by, longer = grows.heat_by, grows.span_by
    elif number in split.holding:
        by, longer = grows.hold_by, balance.minutes_factor
    else:
        by = longer = balance.k if _heats(stage) else 1.0
    half = ((made.high or made.low) - made.low) / 2 / grows.heated_wh if grows.heated_wh > 0 else 0.0
    span_s, energy_wh = stage.span_s * (longer if stage.mean_w > 0 or number in split.holding else 1.0), stage.energy_wh * by
    return replace(
        stage,
        energy_wh=energy_wh,
        span_s=span_s,
        mean_w=energy_wh * 3600 / span_s if span_s > 0 else 0.0,
        uncertainty_wh=max(half, balance.repeats) * energy_wh,
    )


def _heats(stage: StageEnergy) -> bool:
    return stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].heats


def _longer_s(facts: EnergyFacts, stages: Sequence[StageEnergy], grows: _Growth, which: str) -> float:
    """Return by how much the cooking, the attended or the whole time of a batch grows. [s]"""

    def counts(stage: StageEnergy) -> bool:
        if which == "attended":
            return stage.attended
        return which == "all" or stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].cooks

    if not facts.stages:
        return 0.0 if which == "attended" else grows.longer_s
    return sum(new.span_s - old.span_s for old, new in zip(facts.stages, stages, strict=True) if counts(old))


def _ladder(facts: EnergyFacts, stages: Sequence[StageEnergy], grows: _Growth, energy_wh: float) -> tuple[tuple[float, ...], ...]:
    points = [(point[0], point[1]) for point in facts.ladder]
    if stages:
        return refit(points, stage_corners(facts.stages), stage_corners(stages))
    by = energy_wh / facts.energy_wh if facts.energy_wh > 0 else 1.0
    return tuple((at_s * grows.span_by, so_far_wh * by) for at_s, so_far_wh in points)


def _told(facts: EnergyFacts, balance: Balance) -> Said:
    """Return what must be said beside the figure: that it may not get there, holds longer, or is far from what was measured."""
    power_w = balance.cook.power_w * balance.asked.power_share
    if not balance.gets_there:
        code = "does_not_get_there" if balance.made.answer == "no" else "may_not_get_there"
        return remark(code, power_w=power_w, need_w=balance.made.need_w, end_c=balance.now.end_c)
    if balance.longer:
        return remark("holds_longer", altitude_m=balance.now.altitude_m)
    return _far(balance.k, facts.servings)


def _far(k: float, servings: int) -> Said:
    return "" if 0.25 <= k <= 4 else remark("far_from_measured", servings=servings)
