"""Records: frozen dataclasses that travel as plain JSON and come back exact. The one door to cattrs.

Rules
-----
- A fraction travels as ``"3/2"``, a decimal as ``"0.31"``, an instant as RFC 3339, a day as ``"2026-10-14"``: never as a
  binary float that would lose a digit.
- A top record carries ``schema``, the number of its shape. A number newer than this program knows is refused in plain words.
- A field that the program knows and the JSON lacks takes its default; a field that the JSON has and the program does not
  know is ignored only when the schema number is the same or older.
- The JSON may be a stranger's: the first thing that does not fit ends the reading, and nothing is kept that would take more
  than its own length to write out.
"""

from __future__ import annotations

import math
import re
import reprlib
import types
import typing
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import cache
from typing import Any, TypeVar
from uuid import UUID

from cattrs import AttributeValidationNote, ClassValidationError, Converter
from cattrs.gen import make_dict_structure_fn

T = TypeVar("T")
_Reader = Callable[[Any, Any], Any]


class UnreadableRecord(ValueError):
    """The JSON does not hold the record that was asked for; the message says which field and why."""


def write(record: object) -> Any:
    """Return the JSON-able form of a record (or of a value inside one).

    Examples
    --------
    >>> write((Fraction(3, 2), Decimal("0.30"), date(2026, 10, 14), None))
    ['3/2', '0.30', '2026-10-14', None]
    """
    return _CONVERTER.unstructure(record)


def read(shape: type[T], data: Any) -> T:
    """Return the record (or the value inside one) of the given shape that was written as ``data``.

    Raises
    ------
    UnreadableRecord
        If a field is missing, of the wrong kind, or the schema number is newer than ``shape.schema``.

    Examples
    --------
    >>> read(tuple[Fraction, ...], ["3/2", "1/4"])
    (Fraction(3, 2), Fraction(1, 4))
    """
    _refuse_newer(shape, data)
    try:
        return _CONVERTER.structure(data, shape)
    except _Unfit as error:
        raise UnreadableRecord(f"{getattr(shape, '__name__', shape)}{error}") from error


def taken(shape: type[T], source: object, /, **given: Any) -> T:
    """Return the record whose fields are those that a source (a table's row, another record) has under the same names.

    What is not a record's own copy of a name, a relation above all, is given. What a row keeps as JSON is read.

    Raises
    ------
    UnreadableRecord
        If the JSON that a row keeps is not what the field holds.

    Examples
    --------
    >>> from kitchen.domain.facts import AmountFacts
    >>> from types import SimpleNamespace
    >>> taken(AmountFacts, SimpleNamespace(low=Fraction(1), high=Fraction(2), note="about"), unit="g")
    AmountFacts(low=Fraction(1, 1), high=Fraction(2, 1), unit='g')
    """
    own = {name: _plain(hint, getattr(source, name)) for name, hint in _own_fields(typing.cast(Any, shape)) if name not in given}
    return shape(**own, **given)


@cache
def _own_fields(shape: Any) -> list[tuple[str, Any]]:
    hints = typing.get_type_hints(shape)
    return [(field.name, hints[field.name]) for field in fields(shape) if field.name != "schema"]


def _plain(hint: Any, value: Any) -> Any:
    if isinstance(value, (list, dict)):
        return read(hint, value)
    return str(value) if isinstance(value, UUID) else value


def _refuse_newer(shape: type[Any], data: Any) -> None:
    known = getattr(shape, "schema", None)
    found = data.get("schema") if isinstance(data, dict) else None
    if isinstance(known, int) and isinstance(found, int) and found > known:
        raise UnreadableRecord(
            f"{shape.__name__} has schema {found}; this program knows schemas up to {known}. Update the program to read it."
        )


class _Unfit(ValueError):
    """A value is not what its place asks for; the message goes on after the name of that place."""


def _reads_scalar(make: Callable[[Any], Any], kind: str) -> _Reader:
    def read_scalar(value: Any, _: Any) -> Any:
        try:
            return make(value)
        except (TypeError, ValueError, ArithmeticError):
            raise _Unfit(f": {reprlib.repr(value)} is not {kind}") from None

    return read_scalar


def _exactly(shape: type[Any]) -> Callable[[Any], Any]:
    """Return what takes values of one type as they are: ``True`` is no number."""

    def take(value: Any) -> Any:
        if type(value) is not shape:
            raise TypeError
        return value

    return take


def _finite(value: Any) -> float:
    number = float(value)
    if not math.isfinite(number):
        raise ValueError
    return number


def _number_or_text(value: Any) -> float | str:
    return value if isinstance(value, str) else _finite(value)


def _decimal(value: Any) -> Decimal:
    """Return a decimal whose exact fraction is no longer than a line of text."""
    if isinstance(value, str) and len(value) > _MOST_EXPONENT:
        raise ValueError
    number = Decimal(value)
    if not number.is_finite() or abs(number.adjusted()) > _MOST_EXPONENT:
        raise ValueError
    return number


def _fraction(value: Any) -> Fraction:
    """Return an exact fraction; ``1e999999999`` would take all memory to write out."""
    if isinstance(value, str):
        if value.count("/") == 1:  # as it was written: thrice as fast as to let Fraction look for every other spelling
            numerator, denominator = value.split("/")
            return Fraction(int(numerator), int(denominator))
        if _GIANT.search(value):
            raise ValueError
    return Fraction(value)


_MOST_EXPONENT = 99
_GIANT = re.compile(r"[eE][-+]?[0-9_]{3,}")


def _reads_class(shape: type[Any]) -> _Reader:
    fill = make_dict_structure_fn(shape, _CONVERTER)

    def read_class(value: Any, _: Any) -> Any:
        if not isinstance(value, dict):
            raise _Unfit(" should be an object")
        try:
            return fill(value, shape)
        except ClassValidationError as error:
            raise _Unfit(_first_in(error.exceptions[0])) from None

    return read_class


def _reads_class_or_text(shape: Any) -> _Reader:
    """Return what reads a record where plain text may stand in its place."""
    named = next(one for one in typing.get_args(shape) if one is not str)
    read_named = _CONVERTER.get_structure_hook(named)

    def read_class_or_text(value: Any, _: Any) -> Any:
        return value if isinstance(value, str) else read_named(value, named)

    return read_class_or_text


def _first_in(error: Exception) -> str:
    names = [note.name for note in getattr(error, "__notes__", ()) if isinstance(note, AttributeValidationNote)]
    place = "".join(f".{name}" for name in names)
    if isinstance(error, KeyError):
        return f"{place} is missing"
    return f"{place}{error}" if isinstance(error, _Unfit) else f"{place}: {error}"


def _reads_many(shape: Any) -> _Reader:
    """Return what reads a tuple's or a dict's values; the first that does not fit ends the reading."""
    is_dict = typing.get_origin(shape) is dict
    inner = typing.get_args(shape)[is_dict]
    kind: Any = dict if is_dict else (list, tuple)  # a tuple where a row was made and not fetched yet
    read_item = _CONVERTER.get_structure_hook(inner)

    def read_many(value: Any, _: Any) -> Any:
        if not isinstance(value, kind):
            raise _Unfit(f" should be {'an object' if is_dict else 'a list'}")
        found: dict[Any, Any] = {}
        for place, item in value.items() if is_dict else enumerate(value):
            try:
                found[place] = read_item(item, inner)
            except _Unfit as error:
                raise _Unfit(f"[{reprlib.repr(place)}]{error}") from None
        return found if is_dict else tuple(found.values())

    return read_many


def _spelled(value: Any) -> Any:
    """Return an exact value as text. What a field holds counts, not what it was declared as."""
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    if isinstance(value, Decimal):
        return str(value)
    return value.isoformat() if isinstance(value, date) else value


def _is_many(shape: Any) -> bool:
    return typing.get_origin(shape) in (tuple, dict)


def _is_class_or_text(shape: Any) -> bool:
    one, *others = typing.get_args(shape) or (None,)
    return typing.get_origin(shape) in (types.UnionType, typing.Union) and others == [str] and is_dataclass(one)


_CONVERTER = Converter(unstruct_collection_overrides={tuple: list})
_SCALARS: dict[Any, tuple[Callable[[Any], Any], str]] = {
    str: (_exactly(str), "text"),
    int: (_exactly(int), "a whole number"),
    bool: (_exactly(bool), "true or false"),
    float: (_finite, "a number"),
    float | str: (_number_or_text, "a number or text"),
    Fraction: (_fraction, "an exact amount"),
    Fraction | Decimal | int: (_fraction, "an exact amount"),
    Decimal: (_decimal, "a decimal number"),
    datetime: (datetime.fromisoformat, "a moment"),
    date: (date.fromisoformat, "a day"),
}
for _shape, _making in _SCALARS.items():
    _CONVERTER.register_structure_hook(_shape, _reads_scalar(*_making))
for _shape in (Fraction, Decimal, datetime, date):
    _CONVERTER.register_unstructure_hook(_shape, _spelled)
_CONVERTER.register_structure_hook_factory(is_dataclass, _reads_class)
_CONVERTER.register_structure_hook_factory(_is_many, _reads_many)
_CONVERTER.register_structure_hook_factory(_is_class_or_text, _reads_class_or_text)
