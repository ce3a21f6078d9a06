"""A database field for exact rational amounts, the same on every engine."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

_MOST_DIGITS = 24


class RationalField(models.Field):
    """An exact fraction, kept as text ``numerator/denominator`` in lowest terms; ``None`` where there is no amount.

    Equality works in queries; order does not (text order is not number order), so nothing sorts by it in the database.
    """

    description = "An exact rational number"

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        kwargs["max_length"] = 2 * _MOST_DIGITS + 2
        super().__init__(*args, **kwargs)

    def get_internal_type(self) -> str:
        return "CharField"

    def deconstruct(self) -> Any:
        name, path, args, kwargs = super().deconstruct()
        del kwargs["max_length"]
        return name, path, args, kwargs

    def from_db_value(self, value: str | None, expression: object, connection: object) -> Fraction | None:
        return None if value is None else Fraction(value)

    def to_python(self, value: Any) -> Fraction | None:
        if value is None or isinstance(value, Fraction):
            return value
        try:
            return Fraction(value)
        except (TypeError, ValueError, ZeroDivisionError) as error:
            raise ValidationError("“%(value)s” is not an exact number.", params={"value": value}) from error

    def get_prep_value(self, value: Any) -> str | None:
        exact = self.to_python(value)
        if exact is None:
            return None
        if max(abs(exact.numerator), exact.denominator) >= 10**_MOST_DIGITS:
            raise ValidationError("An amount with more than %(digits)s digits cannot be kept.", params={"digits": _MOST_DIGITS})
        return f"{exact.numerator}/{exact.denominator}"

    def value_to_string(self, obj: models.Model) -> str:
        return self.get_prep_value(self.value_from_object(obj)) or ""
