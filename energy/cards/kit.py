"""The reader's own circumstances that the energy card understands."""

from __future__ import annotations

from django import forms

from energy.forms.fields import NumberField, PriceField


class KitForm(forms.Form):
    """A battery, an inverter and a price. Empty: the card answers for the sources of the recipe's own kitchen."""

    battery_wh = NumberField(low=20, high=200_000, unit="Wh", required=False, label="Battery, Wh")
    inverter_w = NumberField(low=20, high=50_000, unit="W", required=False, label="Inverter, W")
    price_per_kwh = PriceField(required=False, label="Price, per kWh")
