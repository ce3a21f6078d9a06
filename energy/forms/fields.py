"""Form fields for numbers with a unit and for minutes of a cook, forgiving about how people write them."""

from __future__ import annotations

import math
import re
from decimal import Decimal, InvalidOperation
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.core.exceptions import ValidationError

_LONGEST_S = 7 * 24 * 3600
_CLOCK = re.compile(r"^(\d{1,3}):([0-5]?\d)(?::([0-5]?\d))?$")


class NumberInput(forms.TextInput):
    """A text field that brings up the number keys of a phone and never throws away what was typed."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"inputmode": "decimal", "autocomplete": "off", **(attrs or {})})


def _unspaced(value: Any) -> str:
    return re.sub(r"[\s\u00a0\u202f]", "", str(value))


class NumberField(forms.Field):
    """A number with its unit; ``12.5`` and ``12,5`` are the same number. Cleans to a float (None when empty)."""

    widget = NumberInput

    def __init__(self, *, low: float, high: float, unit: str = "", whole: bool = False, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.low, self.high, self.unit, self.whole = low, high, unit, whole

    def to_python(self, value: Any) -> float | int | None:
        if value in self.empty_values or not _unspaced(value):
            return None
        if isinstance(value, (int, float)):
            return value
        try:
            number = float(_unspaced(value).removesuffix(self.unit).replace("−", "-").replace(",", "."))
        except ValueError as error:
            raise ValidationError(
                "“%(value)s” is not a number. Type digits, like 230 or 12.5.", params={"value": value}
            ) from error
        return self._whole(number) if self.whole else number

    def prepare_value(self, value: Any) -> Any:
        return f"{value:.10g}" if isinstance(value, float) else value

    def _whole(self, number: float) -> int:
        if not math.isfinite(number) or number != int(number):
            raise ValidationError("A whole number is needed here.")
        return int(number)

    def validate(self, value: Any) -> None:
        super().validate(value)
        if value is None:
            return
        if not math.isfinite(value) or not self.low <= value <= self.high:
            unit = f" {self.unit}" if self.unit else ""
            raise ValidationError(f"A number from {self.low:,g} to {self.high:,g}{unit} is needed here.")


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
        if value in self.empty_values:
            return None
        try:
            price = Decimal(_unspaced(value).replace(",", "."))
        except InvalidOperation as error:
            raise ValidationError("“%(value)s” is not a price. Type digits, like 0.31.", params={"value": value}) from error
        if not price.is_finite() or not 0 <= price <= 1000:
            raise ValidationError("A price from 0 to 1,000 for a kilowatt-hour is needed here.")
        return price.quantize(Decimal("0.00001"))

    def prepare_value(self, value: Any) -> Any:
        if not isinstance(value, Decimal):
            return value
        text = f"{value:f}".rstrip("0")
        return text + "0" * max(0, 2 - len(text.partition(".")[2])) if "." in text else text


class MinuteField(forms.Field):
    """A moment of a cook counted from its start: ``12``, ``12.5`` or ``1:05`` (h:mm). Cleans to seconds."""

    widget = NumberInput

    def to_python(self, value: Any) -> float | None:
        if value in self.empty_values or not _unspaced(value):
            return None
        text = _unspaced(value).removesuffix("min").replace(",", ".").replace("−", "-")
        if clock := _CLOCK.match(text):
            hours, minutes, seconds = (int(part or 0) for part in clock.groups())
            return float(hours * 3600 + minutes * 60 + seconds)
        try:
            return round(float(text) * 60, 3)
        except ValueError as error:
            raise ValidationError(
                "“%(value)s” is not a minute. Type minutes since the start, like 12 or 12.5, or hours and minutes, like 1:05.",
                params={"value": value},
            ) from error

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
