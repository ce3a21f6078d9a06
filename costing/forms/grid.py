"""The prices that a recipe lacks, typed in one grid: a pack and a price for each food, one shop and one day for all."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField

from costing.domain.quotes import Offer
from costing.forms.fields import PackField, PriceField, SeenOnField, country_of, whole_price
from costing.forms.prices import NO_SHOP
from costing.operations import SeenPrice
from costing.queries import MissingPrice
from kitchen.models import Food


@dataclass(frozen=True)
class GridRow:
    """One row of the grid: the food, the lines that need it, and its two fields."""

    missing: MissingPrice
    pack: BoundField
    price: BoundField


class PriceGrid(forms.Form):
    """The missing prices of one recipe; rows may stay empty, a row that is begun must be whole."""

    shop = forms.CharField(max_length=80, error_messages={"required": NO_SHOP})

    def __init__(
        self,
        data: Any = None,
        *,
        missing: Sequence[MissingPrice],
        shops: Mapping[str, str],
        currency: str,
        today: date,
        **kwargs: Any,
    ) -> None:
        super().__init__(data, **kwargs)
        self.missing, self.today = missing, today
        self.fields["shop"].widget.attrs |= {"list": "shop-names", "autocomplete": "off"}
        self.fields["day"] = SeenOnField(today=today, initial=today)
        for item in missing:
            self.fields[f"pack_{item.food_pk}"] = PackField(required=False, label=f"Pack of {item.food}")
            price = PriceField(required=False, currency=currency, label=f"Price of {item.food}")
            price.country = country_of(data, shops)
            self.fields[f"price_{item.food_pk}"] = price

    def rows(self) -> list[GridRow]:
        """Return the rows as the page draws them."""
        return [GridRow(item, self[f"pack_{item.food_pk}"], self[f"price_{item.food_pk}"]) for item in self.missing]

    def clean(self) -> dict[str, Any]:
        """Ask for the other half of every row that was begun, for a shop, and for something at all."""
        values = super().clean() or {}
        for item in self.missing:
            self._ask_for_both(item.food_pk)
        if not self.errors and not self._whole_rows():
            self.add_error(None, "Nothing was typed yet: fill in at least one pack and its price.")
        return values

    def seen(self) -> list[SeenPrice]:
        """Return the prices that were typed; only after ``is_valid``."""
        shop, day = self.cleaned_data["shop"], self.cleaned_data["day"]
        return [self._typed_price(item.food_pk, shop, day) for item in self._whole_rows()]

    def typed(self) -> dict[int, Offer]:
        """Return the rows that are whole already as offers of today by the number of their food: what a look takes."""
        self.is_valid()
        shop, day = self.cleaned_data.get("shop") or "", self.cleaned_data.get("day") or self.today
        return {item.food_pk: self._offer(item.food_pk, shop, day) for item in self._whole_rows()}

    def _offer(self, food_pk: int, shop: str, day: date) -> Offer:
        (pack, price), currency = self.cleaned_data[f"whole_{food_pk}"], self.cleaned_data[f"price_{food_pk}"].currency
        known = {"sold": pack.sold or "pack", "container": pack.container, "drained_g": pack.drained_g}
        return Offer(shop, day, price, pack.amount, pack.unit, pack.packs, currency, **known)

    def _whole_rows(self) -> list[MissingPrice]:
        return [item for item in self.missing if self.cleaned_data.get(f"whole_{item.food_pk}")]

    def _ask_for_both(self, food_pk: int) -> None:
        pack, price, held = f"pack_{food_pk}", f"price_{food_pk}", self.cleaned_data
        if pack in self.errors or price in self.errors:
            return
        if held.get(price):
            try:
                held[f"whole_{food_pk}"] = whole_price(held.get(pack), held[price])
            except ValidationError as refused:
                self.add_error(pack, refused)
        elif held.get(pack):
            self.add_error(price, "Type its price, like “3.49”.")

    def _typed_price(self, food_pk: int, shop: str, day: date) -> SeenPrice:
        pack, price = self.cleaned_data[f"whole_{food_pk}"]
        currency = self.cleaned_data[f"price_{food_pk}"].currency
        return SeenPrice(food=Food(pk=food_pk), pack=pack, price=price, currency=currency, shop_name=shop, day=day)
