"""Corrected lines that were taken out of a draft: kept with it, so that cutting a line, or undoing, loses no correction."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from kitchen.models import Edition, Food, Line
from kitchen.queries.reading import READ_FIELDS

MOST_PUT_BY = 60
_AMOUNTS = ("low", "high")
_AS_THEY_ARE = (
    "text",
    "also",
    "answered",
    "food_id",
    "corrected",
    "made_of_id",
    "made_now",
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
    """Return the kept lines of these texts, not saved yet. At most two queries; a food or an edition that is gone is left out."""
    wanted = set(texts)
    found = [one for one in held if one["text"] in wanted]
    here = {"food_id": _there(Food, "food_id", found), "made_of_id": _there(Edition, "made_of_id", found)}
    return {
        one["text"]: Line(**{**one, **{name: one.get(name) if one.get(name) in pks else None for name, pks in here.items()}})
        for one in reversed(found)
    }


def _there(model: type[Food | Edition], name: str, found: Sequence[Mapping[str, Any]]) -> set[int]:
    wanted = {one[name] for one in found if one.get(name)}
    return set(model._default_manager.filter(pk__in=wanted).values_list("pk", flat=True)) if wanted else set()
