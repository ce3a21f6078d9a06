"""What would be otherwise: another food, pack, shop, price of the kilowatt-hour or group."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.quotes import Offer
from costing.forms.fields import FoodField, PackField, PriceField, whole_price
from costing.models import Shop
from costing.queries import FoodNames
from costing.queries.what_if import Asked, only_at
from kitchen.models import Food, Line


class WhatIfForm(forms.Form):
    """Every field may stay empty; a line is needed only where another food or pack is asked for."""

    line = forms.ChoiceField(required=False, label="Instead of")
    shop = forms.ModelChoiceField(Shop.objects.all(), required=False, label="All from", empty_label="as now")
    per_kwh = forms.DecimalField(
        required=False,
        min_value=Decimal(0),
        max_value=Decimal(1000),
        decimal_places=5,
        label="Price of a kilowatt-hour",
        error_messages={"min_value": "0 is the least.", "max_value": "1000 is the most.", "invalid": "Type it like 0.31."},
    )
    servings = forms.IntegerField(
        required=False,
        min_value=1,
        max_value=500,
        label="Servings",
        error_messages={"min_value": "1 is the least.", "max_value": "500 is the most.", "invalid": "Type a number, like 11."},
    )

    def __init__(self, data: Any = None, *, lines: Sequence[Line], foods: FoodNames, currency: str, today: date) -> None:
        super().__init__(data)
        self.lines, self.food_names, self.today = {str(line.pk): line for line in lines if line.food}, foods.names, today
        told = [(pk, line.text) for pk, line in self.lines.items()]
        cast("forms.ChoiceField", self.fields["line"]).choices = [("", "nothing"), *told]
        self.fields["food"] = FoodField(foods=foods, required=False, label="this food")
        self.fields["pack"] = PackField(required=False, label="or this pack", help_text="750 g")
        self.fields["price"] = PriceField(required=False, currency=currency, label="at this price", help_text="2.49, or 3.32/kg")
        self.order_fields(["line", "food", "pack", "price", "shop", "per_kwh", "servings"])

    def clean(self) -> dict[str, Any]:
        """Ask which line is meant, and for the price of a pack."""
        values = super().clean() or {}
        wanted = [name for name in ("food", "pack", "price") if values.get(name)]
        if wanted and not values.get("line") and "line" not in self.errors:
            self.add_error("line", "Choose the line that it would stand for.")
        if values.get("pack") and not values.get("price") and "price" not in self.errors:
            self.add_error("price", "Type what this pack costs, like “3.49”.")
        if values.get("price") and "pack" not in self.errors:
            try:
                values["whole"] = whole_price(values.get("pack"), values["price"])
            except ValidationError as refused:
                self.add_error("pack", refused)
        return values

    def asked(self) -> Asked:
        """Return what was asked; only after ``is_valid``."""
        held = self.cleaned_data
        line = self.lines.get(held["line"])
        food = None if not held["food"] else Food.objects.get(pk=held["food"])
        ask, meant = only_at(held["shop"]), food or (None if line is None else line.food)
        if held.get("whole") and meant is not None:
            ask = replace(ask, typed={meant.pk: self._offer(*held["whole"])})
        return Asked(None if line is None else line.pk, food, ask, held["per_kwh"], held["servings"])

    def _offer(self, pack: Any, price: Decimal) -> Offer:
        known = {"sold": pack.sold or "pack", "container": pack.container, "drained_g": pack.drained_g}
        currency = self.cleaned_data["price"].currency
        return Offer("", self.today, price, pack.amount, pack.unit, pack.packs, currency, **known)
