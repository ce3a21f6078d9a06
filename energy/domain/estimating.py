"""Another cook than the one that was measured: more or less food, colder, higher, in batches. By the calibrated heat balance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from energy.domain.circumstances import Circumstances, Conditions, conditions, food_heat_wh, pressure_minutes, vessel_heat_wh
from energy.domain.facts import EnergyFacts, StageEnergy
from energy.domain.heat import CannotGetThere
from energy.domain.heat_facts import HeatModel
from energy.domain.ladder import refit, stage_corners
from energy.domain.proportion import Estimate, as_measured, in_batches_again, in_proportion
from energy.domain.two_sizes import SizedCook, SizeLine, size_line
from energy.domain.weaker import NoLossFits, climb_at, measured_climb, measured_loss
from kitchen.domain.stages import STAGE_KINDS

VESSEL_SPREAD = 0.30
"""How far the vessel's heat may be off: its mass and material are seldom weighed, and its lid and base are not all as hot."""

START_SPREAD_C, ASSUMED_START_SPREAD_C = 2.0, 5.0
"""How far the food's start may be off where it was noted, and where it was taken from the air."""

BALANCE_SPREAD = 0.05
"""What a balance of this kind leaves open of a change: lids, wind, stirring. From our own comparison with the closed form."""

UNKNOWN_FOOD_SPREAD = 0.20
"""The share of a change that stays open where some of the food is not in the balance."""

HOLD_SPREAD = 0.20
"""How far holding differs with another amount in the same pot, as a share of its energy for each doubling or halving."""

LATER_VESSEL_SPREAD = 0.30
"""A later batch finds the vessel hot, but not as hot as it was: this share of its heat may have to be put in again."""


_NO_MODEL = "It was published before heat balances were kept; its next edition has one."


@dataclass(frozen=True)
class Share:
    """One part of an estimate's range: what it comes from, in words, and its standard-like half width. [Wh]"""

    words: str
    half_wh: float


@dataclass(frozen=True)
class Balance:
    """How an estimate was made: the heats of one batch then and now, and the shares of its range. [Wh]

    ``loss_w_per_k`` is set where the climb was worked out again with the pot's losses (another start, air or height); ``cannot``
    says, where it is so, that this cooker does not get there any more.
    """

    model: HeatModel
    then: Conditions
    now: Conditions
    k: float
    food_then_wh: float
    food_now_wh: float
    vessel_then_wh: float
    vessel_now_wh: float
    heating_then_wh: float
    heating_now_wh: float
    batches: int
    minutes_factor: float
    shares: tuple[Share, ...]
    loss_w_per_k: float | None = None
    cannot: str = ""


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
        What was measured; ``facts.heat`` is its calibrated balance.
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
    Up to the boil: E = phi (k Q + V), Q the heat of the food and V that of the vessel, phi from the measured cook; minutes follow
    at the measured mean power. From another start, in other air or at another height phi does not hold: then the pot's loss is
    solved from the measured climb, and the climb is worked out again at the measured power (``weaker``).

    A later batch finds the vessel hot: V is counted once. Stages that hold keep their energy, times (T_end - T_air) over what it
    was; under pressure they keep their minutes, longer with the altitude. Reducing and baking grow with the food. Resting and
    keeping warm stay.

    Range, in quadrature: meter and repeats; 30 % of the vessel; 2 degrees of the start (5 where it was taken from the air);
    5 % of the change for the balance itself, 20 % where food is missing from it; holding 20 % for each doubling of the food.

    Where cooks of other sizes were measured on the same appliance, a least-squares line through the sizes gives the energy
    instead (one batch, nothing else changed); the balance is still returned, to be shown beside it.
    """
    if servings < 1 or batches < 1 or portion <= 0:
        raise ValueError("A meal is for one serving at least, of some size, in one batch or more.")
    model = facts.heat
    same_food = portion * servings == facts.servings and batches == 1
    if same_food and not other.said:
        return as_measured(facts), None
    if model is None or not model.usable:
        plain = as_measured(facts) if same_food else in_proportion(facts, servings, portion=portion, batches=batches)
        return replace(plain, why=_NO_MODEL if model is None else model.why_not), None
    balance = _balance(facts, model, float(portion * servings / facts.servings / batches), batches, other)
    made = _estimated(facts, balance)
    line = None if other.said or batches > 1 else _line(facts)
    return (made if line is None else _on_the_line(facts, made, line, balance.k)), balance


def _line(facts: EnergyFacts) -> SizeLine | None:
    """Return the line through the sizes that were measured on this appliance, in multiples of the shown cook."""
    sizes = [SizedCook(size.servings / facts.servings, size.energy_wh, size.uncertainty_wh) for size in facts.sizes]
    return size_line(sizes)


def _on_the_line(facts: EnergyFacts, made: Estimate, line: SizeLine, k: float) -> Estimate:
    """Return the estimate with the energy that the line gives; its stages and its climb keep the balance's shape."""
    energy_wh = line.at(k)
    if energy_wh <= 0 or made.energy_wh <= 0:
        return made
    scale = energy_wh / made.energy_wh
    half_wh = line.half_width_wh(k)
    stages = tuple(
        replace(
            stage, energy_wh=stage.energy_wh * scale, mean_w=stage.mean_w * scale, uncertainty_wh=stage.uncertainty_wh * scale
        )
        for stage in made.stages
    )
    next_wh = math.hypot(half_wh, max(facts.next_high_wh - facts.energy_wh, 0.0))
    return replace(
        made,
        energy_wh=energy_wh,
        uncertainty_wh=half_wh,
        low_wh=max(energy_wh - next_wh, 0.0),
        high_wh=energy_wh + next_wh,
        stages=stages,
        ladder=tuple((at_s, so_far_wh * scale) for at_s, so_far_wh in made.ladder),
        how="sizes",
    )


def _balance(facts: EnergyFacts, model: HeatModel, k: float, batches: int, other: Circumstances) -> Balance:
    then, now = conditions(model, Circumstances()), conditions(model, other)
    food_now_wh, vessel_now_wh = food_heat_wh(model, k, now), vessel_heat_wh(model, now)
    heating_wh, loss, cannot = _up_to_the_boil(facts, model, k, batches, other)
    balance = Balance(
        model=model,
        then=then,
        now=now,
        k=k,
        food_then_wh=food_heat_wh(model, 1.0, then),
        food_now_wh=food_now_wh,
        vessel_then_wh=vessel_heat_wh(model, then),
        vessel_now_wh=vessel_now_wh,
        heating_then_wh=sum(stage.energy_wh for stage in facts.stages[: model.until]),
        heating_now_wh=heating_wh,
        batches=batches,
        minutes_factor=pressure_minutes(now.altitude_m) / pressure_minutes(then.altitude_m) if model.pressure_kpa > 0 else 1.0,
        shares=(),
        loss_w_per_k=loss,
        cannot=cannot,
    )
    return replace(balance, shares=_shares(facts, balance, other))


def _up_to_the_boil(
    facts: EnergyFacts, model: HeatModel, k: float, batches: int, other: Circumstances
) -> tuple[float, float | None, str]:
    """Return what a mean batch takes up to the boil [Wh], the loss that it was worked out with, and why it cannot get there."""
    now = conditions(model, other)
    by_phi_wh = model.phi * (food_heat_wh(model, k, now) + vessel_heat_wh(model, now) / batches)
    if not other.said:
        return by_phi_wh, None, ""
    try:
        loss, power_w = measured_loss(facts), measured_climb(facts).power_w
        first = climb_at(model, power_w, loss=loss, k=k, other=other)
        later_wh = climb_at(model, power_w, loss=loss, k=k, other=other, hot_pot=True).energy_wh if batches > 1 else 0.0
    except NoLossFits:
        return by_phi_wh, None, ""
    except CannotGetThere as stops:
        return by_phi_wh, None, f"{str(stops)[:1].upper()}{str(stops)[1:]}."
    return (first.energy_wh + (batches - 1) * later_wh) / batches, loss, ""


def _estimated(facts: EnergyFacts, balance: Balance) -> Estimate:
    """Return the estimate of all batches; its stages are those of a mean one."""
    stages = tuple(_stage(stage, number, balance) for number, stage in enumerate(facts.stages))
    before = sum(stage.energy_wh for stage in facts.stages)
    energy_wh = facts.energy_wh + sum(stage.energy_wh for stage in stages) - before
    half_wh = math.hypot(*(share.half_wh for share in balance.shares)) / balance.batches
    repeats_wh = max(facts.next_high_wh - facts.energy_wh, facts.uncertainty_wh) * max(1.0, energy_wh / facts.energy_wh)
    own_wh = facts.uncertainty_wh * max(1.0, energy_wh / facts.energy_wh)
    next_wh = math.hypot(math.sqrt(max(half_wh**2 - own_wh**2, 0.0)), repeats_wh)
    one = Estimate(
        standing="estimated",
        energy_wh=energy_wh,
        uncertainty_wh=half_wh,
        low_wh=max(energy_wh - next_wh, 0.0),
        high_wh=energy_wh + next_wh,
        cooking_s=facts.cooking_s + _longer_s(facts.stages, stages, "cooking"),
        attended_s=facts.attended_s + _longer_s(facts.stages, stages, "attended"),
        total_s=facts.total_s + _longer_s(facts.stages, stages, "all"),
        stages=stages,
        ladder=refit([(p[0], p[1]) for p in facts.ladder], stage_corners(facts.stages), stage_corners(stages)),
        far_words=_far_words(balance, facts.servings),
        how="balance",
    )
    return one if balance.batches == 1 else in_batches_again(one, balance.batches)


def _stage(stage: StageEnergy, number: int, balance: Balance) -> StageEnergy:
    """Return one stage of a mean batch."""
    grows = _growth(stage, number, balance)
    longer = balance.minutes_factor if stage.kind == "hold" else grows if _heats(stage) or number < balance.model.until else 1.0
    share = UNKNOWN_FOOD_SPREAD if balance.model.left_out else BALANCE_SPREAD
    return replace(
        stage,
        energy_wh=stage.energy_wh * grows,
        span_s=stage.span_s * (longer if stage.mean_w > 0 else balance.minutes_factor if stage.kind == "hold" else 1.0),
        uncertainty_wh=math.hypot(stage.uncertainty_wh * max(grows, 1.0), share * abs(grows - 1) * stage.energy_wh),
    )


def _growth(stage: StageEnergy, number: int, balance: Balance) -> float:
    """Return by what a stage's energy is multiplied in a mean batch."""
    if number < balance.model.until:
        return balance.heating_now_wh / balance.heating_then_wh if balance.heating_then_wh > 0 else 1.0
    if stage.kind == "hold":
        return _warmer(balance) * balance.minutes_factor
    return balance.k if _heats(stage) else 1.0


def _warmer(balance: Balance) -> float:
    """Return by what the losses of a hot pot are multiplied: its height above the air, now over then."""
    return (balance.now.end_c - balance.now.ambient_c) / max(balance.then.end_c - balance.then.ambient_c, 1.0)


def _heats(stage: StageEnergy) -> bool:
    return stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].heats


def _shares(facts: EnergyFacts, balance: Balance, other: Circumstances) -> tuple[Share, ...]:
    """Return what the range of all batches is made of."""
    model, n = balance.model, balance.batches
    larger = max(1.0, balance.heating_now_wh / balance.heating_then_wh) if balance.heating_then_wh else 1.0
    now_wh = n * balance.heating_now_wh
    held_wh = n * sum(stage.energy_wh for stage in facts.stages[model.until :])
    change_wh = abs(now_wh - n * balance.heating_then_wh) + n * _changed_later_wh(facts, balance)
    open_share = UNKNOWN_FOOD_SPREAD if model.left_out else BALANCE_SPREAD
    doublings = abs(math.log2(balance.k)) if balance.k > 0 else 0.0
    shares = [
        Share("the meter and how much one cook differs from the next", n * facts.uncertainty_wh * larger),
        Share("the vessel’s heat", _vessel_share_wh(balance)),
        Share("the food’s temperature at the start", _start_share_wh(balance, other)),
        Share("food that is not in the balance" if model.left_out else "the balance itself", open_share * change_wh),
        Share("holding with another amount", HOLD_SPREAD * min(doublings, 2.0) * held_wh),
        Share("how hot the vessel still is for a later batch", (n - 1) * LATER_VESSEL_SPREAD * model.phi * balance.vessel_now_wh),
    ]
    return tuple(share for share in shares if share.half_wh > 0)


def _changed_later_wh(facts: EnergyFacts, balance: Balance) -> float:
    """Return by how much the stages after the boil change in one batch. [Wh]"""
    later = list(enumerate(facts.stages))[balance.model.until :]
    return sum(abs(_growth(stage, number, balance) - 1) * stage.energy_wh for number, stage in later)


def _vessel_share_wh(balance: Balance) -> float:
    """Return what 30 % of the vessel's heat makes of the estimate, calibration and all; nothing for the same food."""
    then_wh = balance.food_then_wh + balance.vessel_then_wh
    all_now_wh = balance.batches * balance.food_now_wh + balance.vessel_now_wh
    slope = balance.vessel_now_wh / then_wh - all_now_wh * balance.vessel_then_wh / then_wh**2
    return abs(VESSEL_SPREAD * slope * balance.heating_then_wh)


def _start_share_wh(balance: Balance, other: Circumstances) -> float:
    """Return what the start's spread makes of the estimate: twice where the reader's start is not the cook's. [Wh]"""
    spread_c = START_SPREAD_C if balance.model.start_noted else ASSUMED_START_SPREAD_C
    span_then_c = max(balance.then.end_c - balance.then.food_start_c, 1.0)
    span_now_c = max(balance.now.end_c - balance.now.food_start_c, 1.0)
    then_wh = balance.food_then_wh + balance.vessel_then_wh
    all_now_wh = balance.batches * balance.food_now_wh + balance.vessel_now_wh
    calibration = all_now_wh * balance.food_then_wh / span_then_c / then_wh**2
    own = balance.batches * balance.food_now_wh / span_now_c / then_wh
    apart = other.food_start_c is not None
    slope = math.hypot(calibration * spread_c, own * START_SPREAD_C) if apart else abs(own - calibration) * spread_c
    return slope * balance.heating_then_wh


def _longer_s(before: Sequence[StageEnergy], after: Sequence[StageEnergy], which: str) -> float:
    """Return by how much the cooking, the attended or the whole time of a batch grows. [s]"""

    def counts(stage: StageEnergy) -> bool:
        if which == "attended":
            return stage.attended
        return which == "all" or stage.kind not in STAGE_KINDS or STAGE_KINDS[stage.kind].cooks

    return sum(new.span_s - old.span_s for old, new in zip(before, after, strict=True) if counts(old))


def _far_words(balance: Balance, servings: int) -> str:
    if balance.cannot:
        return balance.cannot
    if 0.25 <= balance.k <= 4:
        return ""
    return f"Far from what was measured ({servings} servings): take this as a first guess, and measure."
