"""A price in one quick form, and the search above the list."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from django import forms

from costing.domain.packs import pack_words, price_words
from costing.forms.fields import FoodField, PackField, PriceField, SeenOnField
from costing.models import Quote
from costing.operations import SeenPrice
from costing.queries import FoodNames
from kitchen.models import Food

NO_SHOP = "Say where the price was seen. A new name opens a new shop."


class SearchForm(forms.Form):
    """What is looked for in the list of prices."""

    q = forms.CharField(required=False, max_length=100, label="Food or shop", widget=forms.TextInput(attrs={"type": "search"}))
    stale = forms.BooleanField(required=False, label="only prices that are too old")


class QuoteForm(forms.Form):
    """One price: the food, the pack, the price, the shop and the day."""

    shop = forms.CharField(max_length=80, error_messages={"required": NO_SHOP})
    note = forms.CharField(max_length=200, required=False)

    def __init__(
        self, data: Any = None, *, foods: FoodNames, shops: Sequence[str], currency: str, today: date, **kwargs: Any
    ) -> None:
        super().__init__(data, **kwargs)
        self.food_names, self.shop_names = foods.names, shops
        self.fields["food"] = FoodField(foods=foods, error_messages={"required": "Say which food this is the price of."})
        self.fields["pack"] = PackField(
            help_text="500 g, 2 x 400 g, 1 L, or a number of pieces",
            error_messages={"required": "Say what the price buys, like “500 g” or “12”."},
        )
        self.fields["price"] = PriceField(
            currency=currency, help_text="for all of it", error_messages={"required": "Type the price in figures, like “3.49”."}
        )
        self.fields["day"] = SeenOnField(today=today, initial=today)
        self.fields["shop"].widget.attrs |= {"list": "shop-names", "autocomplete": "off"}
        self.order_fields(["food", "pack", "price", "shop", "day", "note"])

    def seen(self) -> SeenPrice:
        """Return the price that was typed; only after ``is_valid``."""
        price, currency = self.cleaned_data["price"]
        return SeenPrice(
            food=Food(pk=self.cleaned_data["food"]),
            pack=self.cleaned_data["pack"],
            price=price,
            currency=currency,
            shop_name=self.cleaned_data["shop"],
            day=self.cleaned_data["day"],
            note=self.cleaned_data["note"],
        )


def typed_quote(quote: Quote, currency: str) -> dict[str, Any]:
    """Return what a person would have typed for this quote."""
    return {
        "food": quote.food.name,
        "pack": pack_words(quote.pack_amount, quote.pack_unit, quote.packs),
        "price": price_words(quote.price, quote.currency, currency),
        "shop": quote.shop.name,
        "day": quote.day,
        "note": quote.note,
    }
