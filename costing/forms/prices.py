"""A price in one quick form, and the search above the list."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.prices import price_words
from costing.forms.fields import FoodField, PackField, PriceField, SeenOnField, country_of, whole_price
from costing.models import Quote
from costing.operations import SeenPrice
from costing.queries import FoodNames, item_words
from kitchen.models import Food

NO_SHOP = "Say where the price was seen. A new name opens a new shop."


class SearchForm(forms.Form):
    """What is looked for in the list of prices."""

    q = forms.CharField(required=False, max_length=100, label="Food or shop", widget=forms.TextInput(attrs={"type": "search"}))
    stale = forms.BooleanField(required=False, label="only prices that are too old")


class QuoteForm(forms.Form):
    """One price: the food, the pack, the price, the shop and the day; a brand, and the last day of a sale."""

    shop = forms.CharField(max_length=80, error_messages={"required": NO_SHOP})
    note = forms.CharField(max_length=200, required=False)
    brand = forms.CharField(max_length=80, required=False, help_text="where one food has several")

    def __init__(
        self, data: Any = None, *, foods: FoodNames, shops: Mapping[str, str], currency: str, today: date, **kwargs: Any
    ) -> None:
        super().__init__(data, **kwargs)
        self.food_names, self.shop_names = foods.names, list(shops)
        price = PriceField(
            currency=currency,
            help_text="for all of it, or 2.35/kg, 2 for 3.00",
            error_messages={"required": "Type the price in figures, like “3.49”."},
        )
        price.country = country_of(data, shops)
        self.fields["food"] = FoodField(foods=foods, error_messages={"required": "Say which food this is the price of."})
        self.fields["pack"] = PackField(required=False, help_text="500 g, 6 x 400 g tins, 1 dozen; nothing for a price by the kg")
        self.fields["price"] = price
        self.fields["day"] = SeenOnField(today=today, initial=today)
        self.fields["last_day"] = forms.DateField(
            required=False,
            label="Sale until",
            help_text="the last day of a sale price",
            widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
            error_messages={"invalid": "This is not a day. Write it like 2026-10-14."},
        )
        self.fields["shop"].widget.attrs |= {"list": "shop-names", "autocomplete": "off"}
        self.order_fields(["food", "pack", "price", "shop", "day", "last_day", "brand", "note"])

    def clean(self) -> dict[str, Any]:
        """Bring pack and price together, and ask for a sale that ends before it begins."""
        values = super().clean() or {}
        if not {"pack", "price"} & set(self.errors):
            try:
                values["pack"], values["amount"] = whole_price(values.get("pack"), values["price"])
            except ValidationError as refused:
                self.add_error("pack", refused)
        if values.get("last_day") and values.get("day") and values["last_day"] < values["day"]:
            self.add_error("last_day", "A sale ends on the day of the price or later.")
        return values

    def seen(self) -> SeenPrice:
        """Return the price that was typed; only after ``is_valid``."""
        held = self.cleaned_data
        rest = {name: held[name] for name in ("pack", "day", "note", "brand", "last_day")}
        return SeenPrice(
            food=Food(pk=held["food"]), price=held["amount"], currency=held["price"].currency, shop_name=held["shop"], **rest
        )


def typed_quote(quote: Quote, currency: str) -> dict[str, Any]:
    """Return what a person would have typed for this quote."""
    return {
        "food": quote.food.name,
        "pack": item_words(quote.item),
        "price": price_words(quote.price, quote.currency, currency),
        "shop": quote.shop.name,
        "day": quote.day,
        "last_day": quote.last_day,
        "brand": quote.item.brand,
        "note": quote.note,
    }
