"""What a meal's electricity costs, what the price is for, and its CO2, in words. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor
from typing import Any

from energy.estimates.domain.meal import MealEnergy
from energy.facts import TariffFacts
from energy.tariffs.domain.prices import format_price
from energy.words import ENGLISH, sentence, words_of
from energy.words.figure_words import capitalized
from energy.words.how_sure import cost_words, sure_wh


@dataclass(frozen=True)
class Paid:
    """The cost with its currency, empty where it is not known; a sentence about the price; the CO2 where a figure was given."""

    cost: str
    cost_words: str
    co2: str


def paid(meal: MealEnergy, kit: Mapping[str, Any]) -> Paid:
    """Return what a meal's electricity costs, at the reader's price or the tariff's."""
    price = meal.price_per_kwh
    cost = "" if price is None else cost_words(meal, meal.draw.wall_wh, price, ENGLISH)
    return Paid(cost, _cost_words(meal, kit), _co2_words(meal))


def _cost_words(meal: MealEnergy, kit: Mapping[str, Any]) -> str:
    facts = meal.facts
    if meal.price_per_kwh is None:
        return sentence(ENGLISH, "cost_unknown", why=words_of(facts.no_price, ENGLISH)) if facts.no_price else ""
    own = kit.get("price_per_kwh") is not None
    whose = "_yours" if own else "_tariff" if facts.tariff else ""
    return sentence(
        ENGLISH,
        f"from_the_wall{whose}",
        wall=capitalized(sure_wh(meal, meal.draw.wall_wh, ENGLISH)),
        price=format_price(meal.price_per_kwh, meal.currency),
        tariff=_tariff_words(facts.tariff) if facts.tariff else "",
    )


def _tariff_words(tariff: TariffFacts) -> str:
    return f"{tariff.name}, {words_of(tariff.words, ENGLISH)}" if tariff.words else tariff.name


def _co2_words(meal: MealEnergy) -> str:
    """Return the CO2 of what it takes at the wall, only where the owner gave a figure for a kilowatt-hour."""
    tariff = meal.facts.tariff
    if tariff is None or tariff.co2_g_per_kwh is None:
        return ""
    grams = tariff.co2_g_per_kwh * meal.draw.wall_wh.value / 1000
    step_g = 10 if grams >= 100 else 1
    at_least = meal.estimate.at_least
    rounded = f"{(floor if at_least else round)(grams / step_g) * step_g}\u00a0g"
    said = capitalized(sentence(ENGLISH, "at_least" if at_least else "about", figure=rounded))
    code = "carbon_after" if tariff.co2_source else "carbon"
    return sentence(ENGLISH, code, grams=said, per_kwh=tariff.co2_g_per_kwh, whose=tariff.co2_source)
