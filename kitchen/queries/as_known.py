"""Shared things as they stood at a moment: read from what was written down of every change."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from copy import copy
from datetime import datetime
from typing import Any, TypeVar

from django.db.models import JSONField, Model, Q

from kitchen.models import Change
from kitchen.shared import kind_of

T = TypeVar("T", bound=Model)


def as_known(rows: Sequence[T], model: type[T], at: datetime | None) -> list[T]:
    """Return rows of one sort as they stood at a moment, those removed since among them; None: as they stand now.

    A row that nobody wrote anything down of (it came in an archive or with the example) stands as it does now: since when is not
    known. At most one query.
    """
    if at is None:
        return list(rows)
    here, kind = {row.pk: row for row in rows}, kind_of(model()).slug
    later = Change.objects.filter(kind=kind, at__gt=at)
    gone = later.filter(done="removed").values("number")
    first: dict[int, Change] = {}
    for change in later.filter(Q(number__in=here) | Q(number__in=gone)).order_by("at", "pk"):
        first.setdefault(change.number, change)
    for number, change in first.items():
        if change.before:
            here[number] = stood(here.get(number) or model(pk=number), change.before)
        else:
            here.pop(number, None)
    return list(here.values())


def columns_of(model: type[Model]) -> list[Any]:
    """Return the columns of which a change keeps how they stood."""
    return [column for column in model._meta.concrete_fields if not column.primary_key]


def stood(thing: T, before: Mapping[str, Any]) -> T:
    """Return a copy of a row with the values of then; a column that is newer keeps what it says now."""
    row = copy(thing)
    for column in columns_of(type(thing)):
        if column.attname in before:
            value = before[column.attname]
            plain = value is None or isinstance(column, JSONField)
            setattr(row, column.attname, value if plain else column.to_python(value))
    return row
