"""Fields for numbers and amounts, forgiving about how people write them and plain about what is wrong."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.amounts import format_amount, parse_amount


class NumberInput(forms.TextInput):
    """A text field that brings up a phone's number keys and never throws away what was typed, as a number field would."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"inputmode": "decimal", "autocomplete": "off", "size": "8", **(attrs or {})})


class NumberField(forms.Field):
    """A decimal number between two ends; ``12.5`` and ``12,5`` are the same. Cleans to a Decimal, None when empty."""

    widget = NumberInput

    def __init__(self, *, low: int, high: int, places: int = 1, above_low: bool = False, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.low, self.high, self.places, self.above_low = low, high, places, above_low

    def to_python(self, value: Any) -> Decimal | None:
        if value is None or not str(value).strip():
            return None
        try:
            number = Decimal("".join(str(value).split()).replace(",", ".").replace("−", "-"))
        except InvalidOperation:
            raise ValidationError(f"“{_short(value)}” is not a number. Type digits, like 8 or 2.5.") from None
        return self._checked(number)

    def _checked(self, number: Decimal) -> Decimal:
        if not number.is_finite() or not self.low <= number <= self.high or (self.above_low and number == self.low):
            start = "above" if self.above_low else "from"
            raise ValidationError(
                f"A number {start} {self.low:,} {'up ' if self.above_low else ''}to {self.high:,} is needed here."
            )
        if number != round(number, self.places):
            places = "a whole number" if self.places == 0 else f"at most {self.places} digits after the point"
            raise ValidationError(f"Type {places}.")
        return number

    def prepare_value(self, value: Any) -> Any:
        return f"{value:.10g}" if isinstance(value, float) else value


class AmountField(forms.Field):
    """An exact amount above zero as cooks write them: ``1 1/2``, ``1½``, ``0.75``. Cleans to a Fraction, None when empty."""

    widget = NumberInput

    def to_python(self, value: Any) -> Fraction | None:
        if value is None or not str(value).strip():
            return None
        if isinstance(value, Fraction):
            return value
        try:
            amount = parse_amount(str(value))
        except ValueError as error:
            raise ValidationError(str(error)) from None
        if amount <= 0:
            raise ValidationError("Type an amount above zero, or leave this empty.")
        return amount

    def prepare_value(self, value: Any) -> Any:
        return format_amount(value) if isinstance(value, Fraction) else value


def _short(value: Any) -> str:
    text = str(value).strip()
    return text if len(text) <= 30 else f"{text[:29]}…"
