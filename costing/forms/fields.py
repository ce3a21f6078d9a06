"""Form fields of the costing pages: a pack, a price, a food by name, the day of a price."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from typing import Any, TypeVar

from django import forms
from django.core.exceptions import ValidationError

from costing.domain.packs import Pack, parse_pack, parse_price
from costing.queries import FoodNames
from kitchen.domain.typed_quantity import NotUnderstood
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
    """A price as typed: "3.49", or "4.20 CHF" where it is not in the kitchen's currency."""

    def __init__(self, *, currency: str, **kwargs: Any) -> None:
        super().__init__(max_length=40, **kwargs)
        self.currency = currency
        self.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}

    def clean(self, value: Any) -> tuple[Decimal, str] | None:
        """Return the price and its currency, or the sentence that says what is wrong with it."""
        return _read(lambda typed: parse_price(typed, self.currency), super().clean(value))


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
    """The day on which a price was seen: not after today (a day's grace for other time zones)."""

    def __init__(self, *, today: date, **kwargs: Any) -> None:
        super().__init__(widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"), **kwargs)
        self.today = today
        self.error_messages["invalid"] = "This is not a day. Write it like 2026-10-14."

    def clean(self, value: Any) -> date | None:
        """Return the day, or a sentence for one that has not come yet."""
        day: date | None = super().clean(value)
        if day is not None and day > self.today + timedelta(days=1):
            raise ValidationError("This day has not come yet. A price counts from the day it was seen.")
        if day is not None and day.year < 1990:
            raise ValidationError("This day is too long ago for a price. Check the year.")
        return day


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
