"""From an archive's document to a row: every value is checked as a form's would be, and a wrong one is named."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import fields
from datetime import datetime
from typing import Any, TypeVar, cast

from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone

from kitchen.archivists import Account, ArchiveRefused, Desk
from kitchen.domain import record
from kitchen.queries.packed import name_of

Row = TypeVar("Row", bound=models.Model)
_EARLIEST, _LATEST = 1900, 2200


def row_from(model: type[Row], document: Any, *, place: str, **given: Any) -> Row:
    """Return an unsaved row with a document's values, and with what is given beside them.

    Raises
    ------
    ArchiveRefused
        If a value makes no sense in its column; ``place`` says where in the archive it stands.
    """
    own = {name: value for name, value in vars(document).items() if name not in given}
    columns = {field.name: field for field in model._meta.concrete_fields}
    values = {name: _spelled(columns[name], value) for name, value in own.items() if name in columns}
    row = model(**values, **given)
    try:
        for name, value in values.items():
            _refuse_strange_moment(name, value)
        row.clean_fields(exclude={name for name in columns if name not in values})
        for name in values:
            columns[name].get_prep_value(getattr(row, name))
    except ValidationError as error:
        raise ArchiveRefused(f"{place}: {_complaints(error)}") from None
    return row


def refused(place: str, words: str) -> ArchiveRefused:
    """Return the refusal of what stands at a place of the archive."""
    return ArchiveRefused(f"{place}: {words}.")


def person_of(name: str, desk: Desk) -> Any:
    """Return who an archive means: whom its name was said to mean, or whoever unpacks; names alone are no accounts."""
    return desk.cooks.get(name) or (desk.by if name and name == name_of(desk.by) else None)


def _spelled(column: Any, value: Any) -> Any:
    """Return a value as its column takes it: JSON columns hold records in their plain form."""
    return record.write(value if value is not None else {}) if isinstance(column, models.JSONField) else value


def _refuse_strange_moment(name: str, value: Any) -> None:
    if isinstance(value, datetime) and (timezone.is_naive(value) or not _EARLIEST <= value.year <= _LATEST):
        raise ValidationError({name: f"“{value.isoformat()}” is no moment with an offset between 1900 and 2200."})


def _complaints(error: ValidationError) -> str:
    if not hasattr(error, "error_dict"):
        return " ".join(error.messages)
    return "; ".join(f"{name}: {' '.join(words)}" for name, words in sorted(error.message_dict.items()))


def says_the_same(row: models.Model, document: Any, leave: Collection[str] = ()) -> bool:
    """Whether a row says what a document says, in every column that both have."""
    columns = {field.name: field for field in row._meta.concrete_fields}
    return all(
        _spelled(columns[field.name], getattr(document, field.name)) == getattr(row, field.name)
        for field in fields(document)
        if field.name in columns and field.name not in leave
    )


def keep_named(model: type[Row], document: Any, account: Account, *, kind: str, place: str, **given: Any) -> Row:
    """Return the row of this name that says the same, or add it; where one of that name differs, as "name (2)" beside it.

    ``given`` are columns that point to other rows; they count as said, too.
    """
    for name in _names(document.name, cast("models.CharField[Any, Any]", model._meta.get_field("name")).max_length):
        here = model._default_manager.filter(name=name).first()
        if here is None:
            row = row_from(model, document, place=place, **given)
            setattr(row, "name", name)  # noqa: B010  (every kind of gear has a name, which no common class says)
            row.save()
            account.added[kind] += 1
            if name != document.name:
                account.said.append(f"{document.name} is here already and differs, so the archive’s is kept as “{name}”.")
            return row
        if says_the_same(here, document, {"name", *given}) and all(getattr(here, key) == value for key, value in given.items()):
            account.same[kind] += 1
            return here
    raise AssertionError("names never end")


def _names(name: str, most: int | None) -> Any:
    yield name
    number = 2
    while True:
        ending = f" ({number})"
        yield name[: (most or 80) - len(ending)] + ending
        number += 1
