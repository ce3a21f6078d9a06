"""What the energy card answers to "on your battery?": whether it runs, and for how many meals; what may fail first. Pure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from energy.cards.source_lines import SourceLine, charge_words, source_line
from energy.estimates.domain.meal import MealEnergy
from energy.kinds import appliance_kind
from energy.words import ENGLISH, sentence
from energy.words.answers import beside_another, turned_down
from energy.words.figures import format_watts, format_wh
from kitchen.cards import Answer


def battery_answer(meal: MealEnergy, kit: Mapping[str, Any]) -> Answer:
    """Return the answer for the source that it was measured on, or for the reader's kit in its place."""
    line = source_line(meal.facts.source, meal.draw, meal)
    runs = (line.verdict_words, turned_down(meal, kit, ENGLISH), beside_another(meal.facts, kit, ENGLISH))
    charge = (charge_words(line), _changing(meal, line))
    fails = line.verdict is not None and line.verdict.word == "no"
    said = (*runs, *charge) if fails or not line.beyond else (*charge, *runs)
    return Answer(tuple(words for words in said if words), sound=not (fails or line.beyond), kit=kit_name(kit))


def kit_name(kit: Mapping[str, Any]) -> str:
    """Return what a reader's kit is called beside figures: its battery and its inverter; empty without a kit.

    Examples
    --------
    >>> kit_name({"battery_wh": 250, "inverter_w": 300}).replace(chr(160), " "), kit_name({"altitude_m": 900}), kit_name({})
    ('your 250 Wh battery, 300 W inverter', 'your kit', '')
    """
    told = []
    if kit.get("battery_wh"):
        told.append(sentence(ENGLISH, "battery_of", capacity=format_wh(kit["battery_wh"])))
    if kit.get("inverter_w"):
        told.append(sentence(ENGLISH, "inverter_of", power=format_watts(kit["inverter_w"])))
    if told and not kit.get("battery_wh"):
        told[0] = sentence(ENGLISH, "your_own", thing=told[0])
    return ", ".join(told) or (sentence(ENGLISH, "your_kit") if kit else "")


def _changing(meal: MealEnergy, line: SourceLine) -> str:
    """Return when not to change batteries, where one charge may not suffice under pressure."""
    under_pressure = line.may_need_more and appliance_kind(meal.facts.appliance.kind).pressed
    return sentence(ENGLISH, "changing_under_pressure") if under_pressure else ""
