"""Corrected lines that were taken out of a draft: kept with it, so that cutting a line, or undoing, loses no correction."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from kitchen.models import Food, Line
from kitchen.queries.reading import READ_FIELDS

MOST_PUT_BY = 60
_AMOUNTS = ("low", "high")
_AS_THEY_ARE = (
    "text",
    "also",
    "answered",
    "food_id",
    "corrected",
    *(name for name in READ_FIELDS if name not in (*_AMOUNTS, "food")),
)


def put_by(lines: Iterable[Line], before: Sequence[Mapping[str, Any]]) -> list[dict[str, Any]]:
    """Return what is kept of lines that went, the last gone first: only those with a cook's word, and at most sixty."""
    gone = [
        {name: getattr(line, name) for name in _AS_THEY_ARE}
        | {name: None if getattr(line, name) is None else str(getattr(line, name)) for name in _AMOUNTS}
        for line in lines
        if line.corrected or line.answered
    ]
    texts = {held["text"] for held in gone}
    return [*gone, *(dict(held) for held in before if held["text"] not in texts)][:MOST_PUT_BY]


def taken_up(texts: Iterable[str], held: Sequence[Mapping[str, Any]]) -> dict[str, Line]:
    """Return the kept lines of these texts, not saved yet. At most one query; a food that is gone meanwhile is left out."""
    wanted = set(texts)
    found = [one for one in held if one["text"] in wanted]
    foods = {one["food_id"] for one in found if one["food_id"]}
    there = set(Food.objects.filter(pk__in=foods).values_list("pk", flat=True)) if foods else set()
    return {
        one["text"]: Line(**{**one, "food_id": one["food_id"] if one["food_id"] in there else None}) for one in reversed(found)
    }
