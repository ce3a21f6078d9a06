"""What the energy card gives to other programs: its pictures by address, and cooker and electricity as linked data."""

from __future__ import annotations

from math import ceil, floor
from typing import Any

from energy.estimates.domain.meal import MealEnergy
from energy.words import ENGLISH, sentence
from energy.words.how_sure import energy_words
from energy.words.titles import what_costs_what
from kitchen.cards import CardPicture

SHAPES_PX = ((1200, 630), (1200, 1200), (1200, 900), (1920, 1080), (1000, 1500))
"""For those who link to the page; the three ratios that search engines ask for: 1:1, 4:3, 16:9; and an upright one."""

_WATT_HOUR = "WHR"  # UNECE Recommendation 20


def card_pictures(meal: MealEnergy) -> tuple[CardPicture, ...]:
    """Return where the picture of the card stands, in each of its shapes."""
    words = sentence(
        ENGLISH, "picture_shows", energy=energy_words(meal, ENGLISH), contrast=what_costs_what(meal.estimate.stages, ENGLISH)
    )
    return tuple(CardPicture(f"card.png?size={across}x{down}", across, down, words) for across, down in SHAPES_PX)


def linked_energy(meal: MealEnergy) -> dict[str, Any]:
    """Return ``tool`` and ``supply`` of a schema.org HowTo, of which a Recipe is one kind."""
    told: dict[str, Any] = {"tool": [{"@type": "HowToTool", "name": meal.facts.appliance.name}]}
    if not meal.estimate.at_least:
        made = meal.estimate
        value = {"value": round(made.energy_wh)}
        if not meal.measured:
            value = {"minValue": floor(made.low_wh), "maxValue": ceil(made.high_wh)}
        amount = {"@type": "QuantitativeValue", **value, "unitCode": _WATT_HOUR, "unitText": "Wh"}
        told["supply"] = [{"@type": "HowToSupply", "name": "electricity", "requiredQuantity": amount}]
    return told
