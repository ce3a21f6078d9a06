"""Fields for numbers and amounts, forgiving about how people write them and plain about what is wrong."""

from __future__ import annotations

from contextvars import ContextVar
from decimal import Decimal
from fractions import Fraction
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.amounts import format_amount, parse_amount
from kitchen.domain.remark import Refused
from kitchen.domain.typed_quantity import Expected, Habits, NotUnderstood, read_quantity
from kitchen.queries import the_site
from kitchen.words import ENGLISH, refusal_words, sentence
from kitchen.words.quantities import quantity_refusal

UNDERSTOOD: ContextVar[dict[str, None] | None] = ContextVar("understood", default=None)
"""What the fields of one request understood otherwise than it was typed, for the page that comes after it."""

_COUNTED = ("", "%", "days", "months")


class NumberInput(forms.TextInput):
    """A text field that never throws away what was typed, as a number field would. It brings up a phone's number keys."""

    def __init__(self, attrs: dict[str, Any] | None = None) -> None:
        super().__init__({"inputmode": "decimal", "autocomplete": "off", "size": "8", **(attrs or {})})


class NumberField(forms.Field):
    """A quantity between two ends, typed in any unit of its kind; ``typed_quantity.py`` says how. Cleans to a Decimal, or None.

    ``unit`` is what a bare number means; ``asked`` says that money depends on it, so that no comma is guessed.
    """

    widget = NumberInput

    def __init__(
        self,
        *,
        low: float,
        high: float,
        unit: str = "",
        places: int | None = 1,
        above_low: bool = False,
        asked: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(**kwargs)
        self.unit, self.understood = unit, ""
        self.expected = Expected(unit, low, high, places, above_low, asked)
        if unit not in _COUNTED:  # number keys have no letters
            self.widget.attrs["inputmode"] = "text"

    def to_python(self, value: Any) -> Any:
        """Return the quantity in the field's unit, and keep what was understood for whoever shows the field again."""
        self.understood = ""
        if value is None or not str(value).strip():
            return None
        try:
            found = read_quantity(str(value), self.expected, site_habits)
        except NotUnderstood as refusal:
            raise ValidationError(quantity_refusal(refusal, ENGLISH)) from None
        self.understood = tell_understood(str(value), found.words)
        return self.number(found.kept)

    def number(self, kept: Fraction) -> Any:
        """Return a quantity as the form's owner works with it."""
        return Decimal(kept.numerator) / Decimal(kept.denominator)

    def prepare_value(self, value: Any) -> Any:
        return f"{value:.10g}" if isinstance(value, float) else value


def site_habits() -> Habits:
    """Return how this kitchen writes numbers and whose pints it means."""
    site = the_site()
    return Habits(comma_parts=site.comma != "decimal", home=site.measures)


def tell_understood(typed: str, words: str) -> str:
    """Return what was understood, and note it for the page that follows; nothing where nothing was converted."""
    told = UNDERSTOOD.get()
    if words and told is not None:
        told[sentence(ENGLISH, "understood_as", typed=" ".join(typed.split()), words=words)] = None
    return words


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
        except Refused as refused:
            raise ValidationError(refusal_words(refused, ENGLISH)) from None
        if amount <= 0:
            raise ValidationError("Type an amount above zero, or leave this empty.")
        return amount

    def prepare_value(self, value: Any) -> Any:
        return format_amount(value) if isinstance(value, Fraction) else value
