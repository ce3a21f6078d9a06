"""What a reader asks under a recipe, answered: how long to put it back, what if the cooker is turned down. Pure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from energy.estimates.domain import turning_down
from energy.estimates.domain.batches import WORST
from energy.estimates.domain.meal import MealEnergy, circumstances_of
from energy.facts import EnergyFacts
from energy.gear.domain.recovery import PANEL_DERATE, charging_wh_per_hour, panel_wh_per_hour
from energy.gear.domain.side_by_side import side_by_side, source_limit_w
from energy.gear.domain.sources import Verdict
from energy.gear.domain.supply import OWN_CHARGE_EFFICIENCY
from energy.words.figure_words import least_wh, range_wh
from energy.words.how_sure import cost_words, minutes_range, span_words
from energy.words.remarks import Language, sentence, words_of

_TURNED_DOWN_TO = 0.9
"""A cooker on a weak inverter is turned down to this share of what the inverter gives: no pass without a margin."""


def beside_another(facts: EnergyFacts, kit: Mapping[str, Any], language: Language) -> str:
    """Return whether the reader's other cooker runs at the same time; empty where none is named."""
    if not kit.get("beside_w"):
        return ""
    limit_w, name = source_limit_w(facts.source, kit.get("inverter_w"))
    called = words_of(name, language)
    return " ".join(words_of(one, language, name=called) for one in side_by_side(facts, kit["beside_w"], limit_w))


def verdict_words(verdict: Verdict, language: Language) -> str:
    """Return whether a source runs a cooker, and whether it would at the cooker's full power."""
    runs = words_of(verdict.said, language, name=words_of(verdict.name, language))
    if verdict.turned_up_w is None:
        return runs
    return f"{runs} {sentence(language, 'turned_up', rated_w=verdict.turned_up_w)}"


def putting_it_back(meal: MealEnergy, kit: Mapping[str, Any], language: Language) -> tuple[str, ...]:
    """Return how long a panel and a charger take to put back what the meal took; empty where neither is known.

    The reader's own come first; without them those of the source that it was measured on, unless the battery is the reader's.
    """
    if meal.draw.battery_wh is None or not meal.draw.battery_wh.value:
        return ()
    battery_wh = meal.draw.battery_wh.value
    own = None if meal.draw.supply.own else meal.facts.source
    panel_w, charger_w = kit.get("panel_w"), kit.get("charger_w")
    said = []
    if panel_w or (own and own.panel_w):
        said.append(_by_the_sun(meal, battery_wh, panel_w or (own and own.panel_w) or 0.0, language, yours=bool(panel_w)))
    if own and own.panel_w and own.wear_per_kwh is not None:
        wear = cost_words(meal, meal.draw.battery_wh, own.wear_per_kwh, language)
        said.append(sentence(language, "sun_costs_wear", wear=wear))
    if charger_w or (own and own.charge_w):
        watts = charger_w or (own and own.charge_w) or 0.0
        share = OWN_CHARGE_EFFICIENCY if own is None else own.charge_efficiency
        span = span_words(meal, battery_wh / charging_wh_per_hour(watts, share) * 3600, language)
        code = "back_by_your_charger" if charger_w else "back_by_its_charger"
        said.append(sentence(language, code, charger_w=watts, span=span))
    return tuple(said)


def _by_the_sun(meal: MealEnergy, battery_wh: float, panel_w: float, language: Language, *, yours: bool) -> str:
    span = span_words(meal, battery_wh / panel_wh_per_hour(panel_w) * 3600, language)
    code = "back_by_your_panel" if yours else "back_by_its_panel"
    return sentence(language, code, panel_w=panel_w, span=span, derate_pct=PANEL_DERATE * 100)


def turned_down(meal: MealEnergy, kit: Mapping[str, Any], language: Language) -> str:
    """Return what happens if the cooker is turned down to what the reader's inverter gives; empty where it runs as it is.

    Notes
    -----
    By the same three ends as every estimate, at less power: it gets there, may not, or does not; minutes and energy are ranges,
    the minutes those of each batch, the energy that of all of them.
    """
    facts, inverter_w = meal.facts, kit.get("inverter_w")
    if not inverter_w or facts.peak_w is None or meal.draw.supply.verdict.word != "no":
        return ""
    if meal.balance is None and not meal.measured:
        return _turned_down_unknown(meal, language)
    power_w = _TURNED_DOWN_TO * inverter_w
    k = meal.balance.k if meal.balance else 1.0
    each = turning_down.turned_down(facts, k, power_w, circumstances_of(kit), batches=meal.batches)
    answer = min((one.answer for one in each), key=WORST.index)
    if answer == "unknown":
        return _turned_down_unknown(meal, language)
    low_wh, high_wh = sum(one.energy.low for one in each), _summed(one.energy.high for one in each)
    figures: dict[str, float | str] = {
        "power_w": power_w,
        "need_w": max(one.need_w for one in each),
        "least_wh": low_wh,
    }
    slowest_s = _summed(one.climb.high for one in each)
    if answer != "yes" or slowest_s is None:
        return sentence(language, "turned_down_stops" if answer == "no" else "turned_down_may_not", **figures)
    span = minutes_range(min(one.climb.low for one in each), max(one.climb.high or 0.0 for one in each), language)
    energy = least_wh(low_wh, 0.0, language) if high_wh is None else range_wh(low_wh, high_wh, language)
    code = "turned_down_boils" if meal.batches == 1 else "turned_down_boils_each"
    return sentence(language, code, **figures, span=span, energy=energy, batches=meal.batches)


def _turned_down_unknown(meal: MealEnergy, language: Language) -> str:
    """Return that nothing can be said, and why; empty where nobody knows why."""
    why = words_of(meal.facts.heat.why_not, language) if meal.facts.heat else ""
    return f"{sentence(language, 'turned_down_unknown')} {why}" if why else ""


def _summed(ends: Iterable[float | None]) -> float | None:
    """Return the sum of upper ends; None where one is not known."""
    known = list(ends)
    return None if None in known else sum(one for one in known if one is not None)
