"""From the energy card's meal to what its templates show. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from energy.cards.drawings import Drawings, drawings
from energy.cards.estimated import Estimated, estimated
from energy.cards.means import Compared, compared
from energy.cards.paying import Paid, paid
from energy.cards.source_lines import Supplied, losses_words, supplied
from energy.estimates.domain.meal import MealEnergy
from energy.facts import EnergyFacts, MadeEnergy
from energy.gear.domain.sources import hours_of
from energy.kinds import meter_place
from energy.words import ENGLISH, sentence, words_of
from energy.words.figure_words import capitalized, peak_words, range_wh, times_measured, uncapitalized
from energy.words.figures import about_wh, format_minutes
from energy.words.how_sure import each_words, energy_words, span_words, stage_energy, standing_words
from energy.words.stage_rows import StageWords, stage_words
from kitchen.cards import CardRequest
from kitchen.domain.amounts import format_amount

_LAPTOP_W = 100.0
_LAPTOP_STEPS_MIN = (600, 60, 30, 10, 5)

_WAYS = {
    "counter": ("counter_at_socket", "counter_on_battery"),
    "watts": ("added_from_watts", "added_from_watts"),
    "charge": ("worked_out_from_charge", "worked_out_from_charge"),
}
"""By the method, what is said of a meter at the socket and of one at the battery."""


@dataclass(frozen=True)
class MealFigures:
    """The energy of a meal and of its stages in words; ``far_words`` says where it lies far from what was measured."""

    total: str
    per_serving: str
    total_minutes: str
    peak: str
    batches: int
    stages: tuple[StageWords, ...]
    far_words: str


@dataclass(frozen=True)
class Told:
    """How sure the figures are: how and on what they were measured, what the next cook may need, and what that is like."""

    how: str
    range_words: str
    laptop_words: str
    earlier_words: str
    differs: bool
    runs_url: str


@dataclass(frozen=True)
class EnergyShown:
    """Everything that the card's templates show. Words are whole; drawings are geometry."""

    standing: str
    badge: str
    figures: MealFigures
    drawings: Drawings
    told: Told
    estimated: Estimated
    compared: Compared
    supplied: Supplied
    paid: Paid
    made: tuple[str, ...] = ()


def shown(meal: MealEnergy, request: CardRequest) -> EnergyShown:
    """Return what the card's templates show."""
    return EnergyShown(
        standing=standing_of(meal),
        badge=_badge(meal),
        figures=_figures(meal),
        drawings=drawings(meal),
        told=_how_it_stands(meal, request.path),
        estimated=estimated(meal, request.kit),
        compared=compared(meal, str(request.kit.get("cooker", ""))),
        supplied=supplied(meal, request.kit),
        paid=paid(meal, request.kit),
        made=tuple(_made_words(one, request.factor) for one in meal.facts.made),
    )


def _made_words(made: MadeEnergy, factor: Fraction) -> str:
    """Return what of another recipe was made before, and what its share of that took."""
    if made.share is None or made.energy_wh is None or made.total_s is None:
        return sentence(ENGLISH, "made_unmeasured" if made.energy_wh is None else "made_share_open", title=made.title)
    share = made.share * factor
    return sentence(
        ENGLISH,
        "made_took",
        title=made.title,
        portions=format_amount(share * made.servings),
        servings=made.servings,
        energy=about_wh(made.energy_wh * float(share), made.uncertainty_wh * float(share)),
        whole=about_wh(made.energy_wh, made.uncertainty_wh),
        minutes=format_minutes(made.total_s),
        attended=format_minutes(made.attended_s or 0.0),
    )


def _figures(meal: MealEnergy) -> MealFigures:
    made = meal.estimate
    return MealFigures(
        total=energy_words(meal, ENGLISH),
        per_serving=each_words(meal, ENGLISH),
        total_minutes=minutes_words(meal, made.total_s),
        peak=peak_words(meal.facts.peak_w, meal.facts.peak_seen, ENGLISH),
        batches=meal.batches,
        stages=tuple(stage_words(one, minutes_words(meal, one.span_s), stage_energy(meal, one, ENGLISH)) for one in made.stages),
        far_words=_whole_sentence(words_of(made.far, ENGLISH)),
    )


def _whole_sentence(words: str) -> str:
    """Return words as a sentence: it begins with a capital and ends with one stop; nothing stays nothing."""
    return f"{capitalized(words).removesuffix('.')}." if words else ""


def _how_it_stands(meal: MealEnergy, path: str) -> Told:
    return Told(
        how=_how_words(meal),
        range_words=_range_words(meal),
        laptop_words=_laptop_words(meal),
        earlier_words=_earlier_words(meal.facts),
        differs=meal.facts.on_other_food,
        runs_url=f"{path}runs/" if path else "",
    )


def minutes_words(meal: MealEnergy, span_s: float) -> str:
    """Return a span of a meal: as timed, or rounded where it is estimated, "at least" so long where it may not get there."""
    return format_minutes(span_s) if meal.measured else span_words(meal, span_s, ENGLISH)


def standing_of(meal: MealEnergy) -> str:
    """Return how sure the figures are: what was measured on other food is an estimate for this one."""
    return "estimated" if meal.facts.on_other_food else meal.estimate.standing


def _badge(meal: MealEnergy) -> str:
    facts = meal.facts
    if not meal.measured:
        return sentence(ENGLISH, "estimated")
    if facts.on_other_food:
        return sentence(ENGLISH, "measured_on_revision", revision=facts.earlier_revision or 0)
    return times_measured(facts.counted_runs, ENGLISH)


def _range_words(meal: MealEnergy) -> str:
    """Return what the next cook may need; of an estimate, which is a range already, its middle."""
    made = meal.estimate
    if not meal.measured:
        middle = about_wh(made.energy_wh, made.uncertainty_wh)
        return sentence(ENGLISH, "least_drawn" if made.at_least else "in_the_middle", energy=middle)
    code = "spread_next_usual" if meal.facts.counted_runs == 1 else "spread_next"
    return sentence(ENGLISH, code, spread=range_wh(made.low_wh, made.high_wh, ENGLISH))


def _how_words(meal: MealEnergy) -> str:
    if not meal.measured:
        return _whole_sentence(standing_words(meal, ENGLISH))
    facts = meal.facts
    counted = [run for run in facts.runs if run.counts]
    methods = {run.method for run in counted}
    if len(methods) != 1 or not methods <= _WAYS.keys():
        return sentence(ENGLISH, "measured_in_more_ways")
    if methods == {"counter"} and len({run.meter for run in counted}) > 1:
        return sentence(ENGLISH, "more_than_one_counter")
    at_socket, on_battery = _WAYS[methods.pop()]
    code = at_socket if meter_place(facts.meter.place).at_socket else on_battery
    return f"{sentence(ENGLISH, code, step_wh=facts.meter.resolution_wh)} {_socket_words(facts)}".strip()


def _socket_words(facts: EnergyFacts) -> str:
    """Return how an energy out of the battery became one at the socket; empty where it was measured there."""
    by_charge = any(run.counts and run.method == "charge" for run in facts.runs)
    if meter_place(facts.meter.place).at_socket and not by_charge:
        return ""
    return sentence(ENGLISH, "socket_worked_out", losses=uncapitalized(losses_words(facts.source)))


def _earlier_words(facts: EnergyFacts) -> str:
    if facts.earlier_revision is None:
        return ""
    code = "earlier_changed" if facts.changed_since is None else "earlier_since" if facts.changed_since else "earlier_same"
    return sentence(ENGLISH, code, revision=facts.earlier_revision, changed=facts.changed_since or "")


def _laptop_words(meal: MealEnergy) -> str:
    """Return the comparison with a laptop, its time no finer than the energy is known; none with the least of more."""
    if meal.estimate.at_least:
        return ""
    minutes = hours_of(meal.estimate.energy_wh, _LAPTOP_W) * 60
    unsure_min = hours_of(meal.estimate.uncertainty_wh, _LAPTOP_W) * 60
    step_min = next((step for step in _LAPTOP_STEPS_MIN if step <= unsure_min), 1)
    span_s = max(round(minutes / step_min), 1) * step_min * 60
    return sentence(ENGLISH, "like_a_laptop", laptop_w=_LAPTOP_W, span_s=span_s)
