"""The reader's own circumstances that the energy card understands."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from energy.form_fields import NumberField, PriceField
from energy.gear.domain.supply import OWN_RESERVE_PCT
from energy.kinds import COOKERS_OF_READERS
from energy.words import ENGLISH, sentence

PRESETS: tuple[tuple[str, Mapping[str, str]], ...] = (
    ("Small battery, 250 Wh, 300 W", {"battery_wh": "250", "inverter_w": "300"}),
    ("Middle-sized battery, 500 Wh, 600 W", {"battery_wh": "500", "inverter_w": "600"}),
    ("Large battery, 1,000 Wh, 1,000 W", {"battery_wh": "1000", "inverter_w": "1000"}),
)
"""Kits in plain words, by size; common practice for portable batteries, no one's in particular."""


_ON_PAPER = ("battery_wh", "inverter_w", "price_per_kwh", "altitude_m", "ambient_c", "food_start_c")


class KitForm(forms.Form):
    """A battery, an inverter, a panel, a price; how high and how cold. Empty: the card answers for the recipe's own kitchen."""

    presets = PRESETS
    leading = ("battery_wh", "inverter_w")
    question = sentence(ENGLISH, "kit_question")
    holds = sentence(ENGLISH, "kit_holds")

    battery_wh = NumberField(low=20, high=200_000, unit="Wh", required=False, label="Battery, Wh")
    inverter_w = NumberField(low=20, high=50_000, unit="W", required=False, label="Inverter, W")
    beside_w = NumberField(low=5, high=20_000, unit="W", required=False, label="A cooker beside it, W")
    cooker = forms.ChoiceField(
        choices=[("", "as in the recipe"), *COOKERS_OF_READERS],
        required=False,
        label="Your cooker",
    )
    panel_w = NumberField(low=5, high=20_000, unit="W", required=False, label="Solar panel, W")
    charger_w = NumberField(low=5, high=20_000, unit="W", required=False, label="Charger, W")
    price_per_kwh = PriceField(required=False, label="Price, per kWh")
    altitude_m = NumberField(low=-430, high=5500, unit="m", required=False, label="Altitude, m")
    ambient_c = NumberField(low=-30, high=50, unit="°C", required=False, label="Air, °C")
    food_start_c = NumberField(low=-20, high=60, unit="°C", required=False, label="Food at the start, °C")


def kit_words(kit: Mapping[str, Any]) -> str:
    """Return what of a kit changes a printed card, in few words.

    Examples
    --------
    >>> kit_words({"battery_wh": 500, "altitude_m": 2000, "panel_w": 100}).replace(chr(160), " ")
    'for your kit: battery 500 Wh, height 2,000 m'
    """
    told = [sentence(ENGLISH, f"kit_{name}", value=kit[name]) for name in _ON_PAPER if kit.get(name) is not None]
    return sentence(ENGLISH, "for_your_kit", things=", ".join(told)) if told else ""


def kit_limits(kit: Mapping[str, Any]) -> dict[str, Decimal]:
    """Return what a recipe's figures may be at most for a kit: its peak by the inverter, its draw by one charge."""
    limits = {}
    if kit.get("inverter_w"):
        limits["peak_w"] = Decimal(str(kit["inverter_w"]))
    if kit.get("battery_wh"):
        limits["own_battery_wh"] = Decimal(str(round(kit["battery_wh"] * (1 - OWN_RESERVE_PCT / 100), 4)))
    return limits
