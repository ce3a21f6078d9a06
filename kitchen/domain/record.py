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
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache, partial
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
    return _reader(shape)(data, place)


_Reader = Callable[[Any, str], Any]


@cache
def _reader(shape: Any) -> _Reader:
    """Return what reads values of a type. Kept, because looking into the type takes longer than reading the value."""
    origin = typing.get_origin(shape)
    if origin in (typing.Union, types.UnionType):
        inner = next(arg for arg in typing.get_args(shape) if arg is not type(None))
        return partial(_read_optional, _reader(inner))
    if origin is tuple:
        return partial(_read_tuple, _reader(typing.get_args(shape)[0]))
    if origin is dict:
        return partial(_read_dict, _reader(typing.get_args(shape)[1]))
    return partial(_read_dataclass if is_dataclass(shape) else _read_scalar, shape)


def _read_optional(read_inner: _Reader, data: Any, place: str) -> Any:
    return None if data is None else read_inner(data, place)


def _read_tuple(read_item: _Reader, data: Any, place: str) -> Any:
    if not isinstance(data, list):
        raise UnreadableRecord(f"{place} should be a list")
    return tuple(read_item(item, f"{place}[{index}]") for index, item in enumerate(data))


def _read_dict(read_item: _Reader, data: Any, place: str) -> Any:
    if not isinstance(data, dict):
        raise UnreadableRecord(f"{place} should be an object")
    return {key: read_item(value, f"{place}.{key}") for key, value in data.items()}


@cache
def _fields(shape: type[Any]) -> tuple[tuple[str, Any, _Reader], ...]:
    """Return each field's name, its type and what reads it."""
    hints = typing.get_type_hints(shape)
    return tuple((field.name, hints[field.name], _reader(hints[field.name])) for field in fields(shape))


_AS_IT_IS = frozenset({str, int, bool})


def _read_dataclass(shape: Any, data: Any, place: str) -> Any:
    if not isinstance(data, dict):
        raise UnreadableRecord(f"{place} should be an object")
    values = {}
    for name, hint, read_field in _fields(shape):
        if name not in data:
            continue
        value = data[name]
        # Words and counts need no second look; they are most of a record.
        values[name] = value if hint in _AS_IT_IS and type(value) is hint else read_field(value, f"{place}.{name}")
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
