"""Form fields for numbers with a unit and for minutes of a cook, forgiving about how people write them."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.money import UNIT_PRICE_PLACES, round_half_up
from kitchen.domain.typed_quantity import Expected, NotANumber, NotUnderstood, TwoReadings, read_quantity
from kitchen.forms import numbers as kitchen_numbers
from kitchen.forms.numbers import NumberInput, site_habits, tell_understood
from kitchen.words import ENGLISH
from kitchen.words.quantities import quantity_refusal

_LONGEST_S = 7 * 24 * 3600
_PRICE = Expected("", 0, 1000, asked=True)
_MINUTES = Expected("min", -math.inf, math.inf)
_CLOCK = re.compile(r"^(\d{1,3}):([0-5]?\d)(?::([0-5]?\d))?$")


class NumberField(kitchen_numbers.NumberField):
    """A quantity in the field's unit as a float, whole numbers as an int; None when empty."""

    def __init__(self, *, whole: bool = False, **kwargs: Any) -> None:
        super().__init__(places=0 if whole else None, **kwargs)
        self.whole = whole

    def number(self, kept: Fraction) -> float | int:
        return int(kept) if self.whole else float(kept)


class ShareField(NumberField):
    """A percentage typed by a person, kept as a share of one (88 -> 0.88)."""

    def __init__(self, *, low: float, high: float, **kwargs: Any) -> None:
        super().__init__(low=low, high=high, unit="%", **kwargs)

    def clean(self, value: Any) -> Any:
        percent = super().clean(value)
        return None if percent is None else round(percent / 100, 6)

    def prepare_value(self, value: Any) -> Any:
        return f"{value * 100:.6g}" if isinstance(value, float) else value


class PriceField(forms.Field):
    """A price for a kilowatt-hour, exact; a decimal comma is fine."""

    widget = NumberInput

    def to_python(self, value: Any) -> Decimal | None:
        if value in self.empty_values or not str(value).strip():
            return None
        try:
            price = read_quantity(str(value), _PRICE).exact
        except NotANumber:
            raise ValidationError("“%(value)s” is not a price. Type digits, like 0.31.", params={"value": value}) from None
        except TwoReadings as refusal:
            raise ValidationError(quantity_refusal(refusal, ENGLISH)) from None
        except NotUnderstood:
            raise ValidationError("A price from 0 to 1,000 for a kilowatt-hour is needed here, like 0.31.") from None
        return round_half_up(price, UNIT_PRICE_PLACES)

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, Decimal):
            return value
        text = f"{value:f}".rstrip("0")
        return text + "0" * max(0, 2 - len(text.partition(".")[2])) if "." in text else text


class MinuteField(forms.Field):
    """A moment of a cook counted from its start: ``12``, ``12.5`` or ``1:05`` (h:mm). Cleans to seconds."""

    widget = NumberInput(attrs={"inputmode": "text"})
    understood = ""

    def to_python(self, value: Any) -> float | None:
        self.understood = ""
        if value in self.empty_values or not str(value).strip():
            return None
        if clock := _CLOCK.match("".join(str(value).split()).removesuffix("min")):
            hours, minutes, seconds = (int(part or 0) for part in clock.groups())
            return float(hours * 3600 + minutes * 60 + seconds)
        try:
            found = read_quantity(str(value), _MINUTES, site_habits)
        except NotANumber:
            words = "“%(value)s” is not a minute. Type minutes since the start, like 12 or 12.5, or hours and minutes, like 1:05."
            raise ValidationError(words, params={"value": value}) from None
        except NotUnderstood as refusal:
            raise ValidationError(quantity_refusal(refusal, ENGLISH)) from None
        self.understood = tell_understood(str(value), found.words)
        return round(float(found.exact) * 60, 3)

    def prepare_value(self, value: Any) -> Any:
        return as_minutes(value) if isinstance(value, (int, float)) else value

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value is None:
            return
        if value < 0:
            raise ValidationError("A minute before the start: count from the start of the cook, which is minute 0.")
        if not value <= _LONGEST_S:  # what is no number at all is refused here, too
            raise ValidationError("That is more than a week after the start. Type minutes since the start, like 12.")


class OnceField(forms.UUIDField):
    """The hidden name of a form, made when it is shown: sent twice by a double tap, it is kept once. What is no name is none."""

    widget = forms.HiddenInput

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(required=False, initial=uuid4, **kwargs)

    def clean(self, value: Any) -> UUID | None:
        try:
            name: UUID | None = super().clean(value)
        except ValidationError:
            return None
        return name


def as_minutes(span_s: float) -> str:
    """Return seconds from the start as a person types them into a MinuteField."""
    return f"{round(span_s / 60, 4):g}"
