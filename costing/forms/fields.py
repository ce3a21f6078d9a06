"""Form fields of the costing pages: a pack, a price, a food by name, the day of a price."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any, TypeVar

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.prices import Price, parse_price
from costing.domain.quotes import shop_key
from costing.queries import FoodNames
from kitchen.domain.money import round_half_up
from kitchen.domain.packs import Pack, parse_pack
from kitchen.domain.typed_quantity import NotUnderstood
from kitchen.domain.units import CannotConvert, convert
from kitchen.words import ENGLISH
from kitchen.words.quantities import quantity_refusal

T = TypeVar("T")


class PackField(forms.CharField):
    """A pack as typed: "2 x 500 g", "1 L", "12"."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(max_length=60, **kwargs)
        self.widget.attrs |= {"autocomplete": "off"}

    def clean(self, value: Any) -> Pack | None:
        """Return the pack, or the sentence that says what is wrong with it."""
        return _read(parse_pack, super().clean(value))


class PriceField(forms.CharField):
    """A price as typed or printed: "3.49", "4.20 CHF", "2.35/kg"; ``country`` is the shop's, where it is known."""

    country = ""

    def __init__(self, *, currency: str, **kwargs: Any) -> None:
        super().__init__(max_length=40, **kwargs)
        self.currency = currency
        self.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}

    def clean(self, value: Any) -> Price | None:
        """Return the price, its currency and what it is for, or the sentence that says what is wrong with it."""
        return _read(lambda typed: parse_price(typed, self.currency, self.country), super().clean(value))


class FoodField(forms.CharField):
    """A food by its name or another of its names, offered from a list; cleaned to its number."""

    def __init__(self, *, foods: FoodNames, **kwargs: Any) -> None:
        super().__init__(max_length=120, **kwargs)
        self.foods = foods
        self.widget.attrs |= {"list": "food-names", "autocomplete": "off"}

    def clean(self, value: Any) -> int | None:
        """Return the food's number, or a sentence with the names that look like what was typed."""
        typed = super().clean(value)
        if not typed:
            return None
        found = self.foods.find(typed)
        if found is None:
            raise ValidationError(_no_such_food(typed, self.foods.like(typed)))
        return found


class SeenOnField(forms.DateField):
    """The day on which a price was seen: not after today where the kitchen is."""

    def __init__(self, *, today: date, **kwargs: Any) -> None:
        super().__init__(widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"), **kwargs)
        self.today = today
        self.error_messages["invalid"] = "This is not a day. Write it like 2026-10-14."

    def clean(self, value: Any) -> date | None:
        """Return the day, or a sentence for one that has not come yet."""
        day: date | None = super().clean(value)
        if day is not None and day > self.today:
            raise ValidationError("This day has not come yet. A price counts from the day it was seen.")
        if day is not None and day.year < 1990:
            raise ValidationError("This day is too long ago for a price. Check the year.")
        return day


def country_of(data: Any, shops: Mapping[str, str]) -> str:
    """Return the country of the shop that was typed, whatever its spaces and capitals; empty where it is not known."""
    wanted = shop_key(str((data or {}).get("shop", "")))
    return next((country for name, country in shops.items() if shop_key(name) == wanted), "")


def whole_price(pack: Pack | None, price: Price) -> tuple[Pack, Decimal]:
    """Return what was bought and what all of it cost: "2 for 3.00" of a pack are two packs, "2.35/kg" is sold by the kilogram.

    Raises
    ------
    ValidationError
        Where the pack is missing, or the price is for another kind of measure.
    """
    if price.per is None:
        if pack is None:
            raise ValidationError("Say what the price buys, like “500 g” or “12”.")
        if price.count > 1 and not pack.unit and pack.amount == price.count:
            raise ValidationError(
                f"Is the price for {price.count} pieces, or for {price.count} packs of {price.count}? Type the price alone, "
                "and here all that it buys."
            )
        return replace(pack, packs=pack.packs * price.count), price.price
    if pack is None or pack.sold:
        return price.per, price.price
    if price.per.unit == "" and pack.unit:  # each pack
        return pack, price.price * pack.packs
    try:
        many = convert(pack.amount * pack.packs, pack.unit, price.per.unit) / price.per.amount
    except CannotConvert:
        raise ValidationError(
            "The price is by another measure than the pack. Leave the pack empty, or type the price of it."
        ) from None
    cost = Fraction(price.price) * many
    exact = round_half_up(cost, 4)
    return (pack, exact) if exact == cost else (price.per, price.price)


def _read(parse: Callable[[str], T], typed: str) -> T | None:
    if not typed:
        return None
    try:
        return parse(typed)
    except NotUnderstood as refused:
        raise ValidationError(quantity_refusal(refused, ENGLISH)) from None
    except ValueError as error:
        raise ValidationError(str(error)) from error


def _no_such_food(typed: str, like: list[str]) -> str:
    if like:
        return f"No food is called “{typed}”. Did you mean {' or '.join(f'“{name}”' for name in like)}?"
    return f"No food is called “{typed}”. Choose one from the list, or add it under Foods first."
