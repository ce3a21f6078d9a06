"""How sure a meal's figures are: what was measured, or what they are estimated from; an estimate's energy reads as a range."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from energy.estimates.domain.drawn import Between
from energy.estimates.domain.meal import MealEnergy
from energy.facts import StageEnergy
from energy.tariffs.domain.prices import electricity_cost
from energy.words.figure_words import drawn_wh, least_wh, money_between, range_percent, range_wh, times_measured
from energy.words.figures import (
    NOTHING_WH,
    about_minutes,
    at_step,
    down_to,
    each_step,
    each_wh,
    format_percent,
    format_wh,
    place_down,
    rounded_down,
    uncertainty_step,
)
from energy.words.remarks import Language, sentence
from kitchen.domain.money import format_money

_ESTIMATED = {"balance": "estimated_by_balance", "proportion": "estimated_in_proportion"}


def standing_words(meal: MealEnergy, language: Language) -> str:
    """Return what was measured, or what it is estimated from, to stand in a sentence."""
    counted, facts = meal.facts.counted_runs, meal.facts
    if meal.measured:
        return times_measured(counted, language)
    together = sentence(language, "in_batches", batches=meal.batches) if meal.batches > 1 else ""
    if meal.estimate.how == "sizes":
        sizes = sentence(language, "and").join(f"{size.servings}" for size in facts.sizes)
        return sentence(language, "estimated_from_sizes", sizes=sizes, together=together)
    runs = sentence(language, "one_run" if counted == 1 else "several_runs", runs=counted)
    return sentence(language, _ESTIMATED[meal.estimate.how], runs=runs, servings=facts.servings, together=together)


def energy_words(meal: MealEnergy, language: Language) -> str:
    """Return the energy of a meal: measured with its ±, estimated as a range or "at least"."""
    made = meal.estimate
    if meal.measured:
        return format_wh(made.energy_wh, made.uncertainty_wh)
    if made.at_least:
        return least_wh(made.low_wh, made.uncertainty_wh, language)
    return range_wh(made.low_wh, made.high_wh, language)


def each_words(meal: MealEnergy, language: Language) -> str:
    """Return the energy of one serving, measured without its ±, which is the whole's, estimated as a range or "at least".

    What is no range is as fine as it takes for all of them to make the total as it is printed.
    """
    made, n = meal.estimate, meal.servings
    if meal.measured:
        return each_wh(made.energy_wh, made.uncertainty_wh, n)
    if made.at_least:
        whole = place_down(made.low_wh, uncertainty_step(made.uncertainty_wh) if made.uncertainty_wh > 0 else 0.0)
        step = each_step([made.low_wh], whole, n, place_down(made.low_wh / n, whole / n), down=True)
        return sentence(language, "at_least", figure=at_step(down_to(made.low_wh / n, step), step))
    return range_wh(made.low_wh / n, made.high_wh / n, language)


def stage_energy(meal: MealEnergy, stage: StageEnergy, language: Language) -> str:
    """Return the energy of one stage of a meal: measured with its ±, estimated as a range or "at least"."""
    if meal.measured or stage.energy_wh < NOTHING_WH:
        return drawn_wh(stage.energy_wh, stage.uncertainty_wh, language)
    if meal.estimate.at_least:
        return least_wh(stage.energy_wh, stage.uncertainty_wh, language)
    return range_wh(max(stage.energy_wh - stage.uncertainty_wh, 0.0), stage.energy_wh + stage.uncertainty_wh, language)


def sure_wh(meal: MealEnergy, energy_wh: Between, language: Language) -> str:
    """Return an energy that follows from a meal's: between which two it lies, or at least how much it is."""
    if meal.estimate.at_least:
        return least_wh(energy_wh.low, energy_wh.half_width, language)
    return range_wh(energy_wh.low, energy_wh.high, language)


def sure_share(meal: MealEnergy, share_pct: Between, language: Language) -> str:
    """Return a share that follows from a meal's energy: between which two it lies, or at least how much it is."""
    if meal.estimate.at_least:
        return sentence(language, "at_least", figure=format_percent(rounded_down(share_pct.low)))
    return range_percent(share_pct.low, share_pct.high, language)


def span_words(meal: MealEnergy, span_s: float, language: Language) -> str:
    """Return a span that follows from a meal's energy, rounded; "at least" so long where that takes at least so much."""
    if meal.estimate.at_least:
        return sentence(language, "at_least", figure=about_minutes(span_s, at_least=True))
    return about_minutes(span_s)


def cost_words(meal: MealEnergy, energy_wh: Between, price_per_kwh: Decimal | Fraction, language: Language) -> str:
    """Return what an energy that follows from a meal's costs: between which two sums, or at least how much."""
    low, high = (electricity_cost(one, price_per_kwh) for one in (energy_wh.low, energy_wh.high))
    if meal.estimate.at_least:
        return sentence(language, "at_least", figure=format_money(low, meal.currency, bound="least"))
    return money_between(low, high, meal.currency, language)


def minutes_range(low_s: float, high_s: float, language: Language) -> str:
    """Return a range of minutes; one figure where both ends are rounded to the same, one unit where both have the same.

    Examples
    --------
    >>> [minutes_range(*ends, "en").replace(chr(160), " ") for ends in ((1180, 1790), (600, 610), (3300, 3900))]
    ['20 to 30 min', '10 min', '55 min to 1 h 5 min']
    """
    low, high = about_minutes(low_s), about_minutes(high_s)
    (least, *unit), (_, *other) = low.split("\u00a0"), high.split("\u00a0")
    return low if low == high else sentence(language, "from_to", least=least if unit == other else low, most=high)
