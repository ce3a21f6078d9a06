"""The reader's own circumstances that the energy card understands."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from django import forms

from energy.domain.kinds import APPLIANCE_KINDS
from energy.domain.supply import OWN_RESERVE_PCT
from energy.forms.fields import NumberField, PriceField

PRESETS: tuple[tuple[str, Mapping[str, str]], ...] = (
    ("Small battery, 250 Wh, 300 W", {"battery_wh": "250", "inverter_w": "300"}),
    ("Middling battery, 500 Wh, 600 W", {"battery_wh": "500", "inverter_w": "600"}),
    ("Large battery, 1,000 Wh, 1,000 W", {"battery_wh": "1000", "inverter_w": "1000"}),
    ("Very large battery, 2,000 Wh, 2,000 W", {"battery_wh": "2000", "inverter_w": "2000"}),
)
"""Kits in plain words, by size; common practice for portable batteries, no one's in particular."""


class KitForm(forms.Form):
    """A battery, an inverter, a panel, a price; how high and how cold. Empty: the card answers for the recipe's own kitchen."""

    presets = PRESETS

    battery_wh = NumberField(low=20, high=200_000, unit="Wh", required=False, label="Battery, Wh")
    inverter_w = NumberField(low=20, high=50_000, unit="W", required=False, label="Inverter, W")
    beside_w = NumberField(low=5, high=20_000, unit="W", required=False, label="A cooker beside it, W")
    cooker = forms.ChoiceField(
        choices=[("", "as in the recipe"), *((key, words) for key, words in APPLIANCE_KINDS if key not in ("other", "kettle"))],
        required=False,
        label="Your cooker",
    )
    panel_w = NumberField(low=5, high=20_000, unit="W", required=False, label="Solar panel, W")
    charger_w = NumberField(low=5, high=20_000, unit="W", required=False, label="Charger, W")
    price_per_kwh = PriceField(required=False, label="Price, per kWh")
    altitude_m = NumberField(low=-430, high=5500, unit="m", required=False, label="Altitude, m")
    ambient_c = NumberField(low=-30, high=50, unit="°C", required=False, label="Air, °C")
    food_start_c = NumberField(low=-20, high=60, unit="°C", required=False, label="Food at the start, °C")


def kit_limits(kit: Mapping[str, Any]) -> dict[str, Decimal]:
    """Return what a recipe's figures may be at most for a kit: its peak by the inverter, its draw by one charge."""
    limits = {}
    if kit.get("inverter_w"):
        limits["peak_w"] = Decimal(str(kit["inverter_w"]))
    if kit.get("battery_wh"):
        limits["own_battery_wh"] = Decimal(str(round(kit["battery_wh"] * (1 - OWN_RESERVE_PCT / 100), 4)))
    return limits
