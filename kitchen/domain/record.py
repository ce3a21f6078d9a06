"""Records: frozen dataclasses that travel as plain JSON and come back exact.

Rules
-----
- A fraction travels as ``"3/2"``, a decimal as ``"0.31"``, an instant as RFC 3339, a day as ``"2026-10-14"``: never as a
  binary float that would lose a digit.
- A top record carries ``schema``, the number of its shape. A number newer than this program knows is refused in plain words.
- A field that the program knows and the JSON lacks takes its default; a field that the JSON has and the program does not
  know is ignored only when the schema number is the same or older.
"""

from __future__ import annotations

import math
import re
import types
import typing
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any, TypeVar

T = TypeVar("T")


class UnreadableRecord(ValueError):
    """The JSON does not hold the record that was asked for; the message says which field and why."""


def write(record: object) -> Any:
    """Return the JSON-able form of a record (or of a value inside one).

    Examples
    --------
    >>> write((Fraction(3, 2), Decimal("0.30"), date(2026, 10, 14), None))
    ['3/2', '0.30', '2026-10-14', None]
    """
    if record is None or isinstance(record, (bool, int, float, str)):
        return record
    if isinstance(record, Fraction):
        return f"{record.numerator}/{record.denominator}"
    if isinstance(record, Decimal):
        return str(record)
    if isinstance(record, (datetime, date)):
        return record.isoformat()
    if isinstance(record, (tuple, list)):
        return [write(item) for item in record]
    if isinstance(record, dict):
        return {str(key): write(value) for key, value in record.items()}
    if is_dataclass(record) and not isinstance(record, type):
        return {field.name: write(getattr(record, field.name)) for field in fields(record)}
    raise TypeError(f"a record cannot hold {type(record).__name__}")


def read(shape: type[T], data: Any) -> T:
    """Return the record of the given shape that was written as ``data``.

    Raises
    ------
    UnreadableRecord
        If a field is missing, of the wrong kind, or the schema number is newer than ``shape.schema``.
    """
    _refuse_newer(shape, data)
    return typing.cast(T, _read_value(shape, data, shape.__name__))


def _refuse_newer(shape: type[Any], data: Any) -> None:
    known = getattr(shape, "schema", None)
    found = data.get("schema") if isinstance(data, dict) else None
    if isinstance(known, int) and isinstance(found, int) and found > known:
        raise UnreadableRecord(
            f"{shape.__name__} has schema {found}; this program knows schemas up to {known}. Update the program to read it."
        )


def _read_value(shape: Any, data: Any, place: str) -> Any:
    origin = typing.get_origin(shape)
    if origin in (typing.Union, types.UnionType):
        if data is None:
            return None
        inner = [arg for arg in typing.get_args(shape) if arg is not type(None)]
        return _read_value(inner[0], data, place)
    if origin is tuple:
        if not isinstance(data, list):
            raise UnreadableRecord(f"{place} should be a list")
        item_shape = typing.get_args(shape)[0]
        return tuple(_read_value(item_shape, item, f"{place}[{index}]") for index, item in enumerate(data))
    if origin is dict:
        if not isinstance(data, dict):
            raise UnreadableRecord(f"{place} should be an object")
        value_shape = typing.get_args(shape)[1]
        return {key: _read_value(value_shape, value, f"{place}.{key}") for key, value in data.items()}
    if is_dataclass(shape):
        return _read_dataclass(shape, data, place)
    return _read_scalar(shape, data, place)


@cache
def _hints(shape: type[Any]) -> dict[str, Any]:
    """Return the types of a record's fields. Kept, because working them out takes longer than reading the record."""
    hints = typing.get_type_hints(shape)
    return {field.name: hints[field.name] for field in fields(shape)}


def _read_dataclass(shape: Any, data: Any, place: str) -> Any:
    if not isinstance(data, dict):
        raise UnreadableRecord(f"{place} should be an object")
    hints = _hints(shape)
    values = {name: _read_value(hint, data[name], f"{place}.{name}") for name, hint in hints.items() if name in data}
    try:
        return shape(**values)
    except TypeError as error:
        raise UnreadableRecord(f"{place}: {error}") from error


def _float(data: Any) -> float:
    number = float(data)
    if not math.isfinite(number):
        raise ValueError(data)
    return number


def _decimal(data: Any) -> Decimal:
    number = Decimal(data)
    if not number.is_finite() or abs(number.adjusted()) > _MOST_EXPONENT:
        raise ValueError(data)
    return number


def _fraction(data: Any) -> Fraction:
    """Return an exact fraction; a record may come from a stranger, and ``1e999999999`` would take all memory to write out."""
    if isinstance(data, str) and _GIANT.search(data):
        raise ValueError(data)
    return Fraction(data)


_MOST_EXPONENT = 99
_GIANT = re.compile(r"[eE][-+]?[0-9_]{3,}")
_SCALARS: dict[Any, Any] = {
    Fraction: _fraction,
    Decimal: _decimal,
    datetime: datetime.fromisoformat,
    date: date.fromisoformat,
    float: _float,
}


def _read_scalar(shape: Any, data: Any, place: str) -> Any:
    if shape is Any:
        return data
    if shape in _SCALARS:
        try:
            return _SCALARS[shape](data)
        except (TypeError, ValueError, ArithmeticError) as error:
            raise UnreadableRecord(f"{place}: {data!r} is not a {shape.__name__}") from error
    if isinstance(data, shape) and not (shape is int and isinstance(data, bool)):
        return data
    raise UnreadableRecord(f"{place}: {data!r} is not a {shape.__name__}")
