"""A published recipe as plain JSON for programs, and the JSON Schema (2020-12) that it follows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from kitchen.cards import shelf_figures
from kitchen.domain.facts import LineFacts
from kitchen.domain.films import Film
from kitchen.page import Page, PageFrame
from kitchen.publish.rights import rights_of
from kitchen.publish.sharing import pictures_of

OPEN_SCHEMA = 1
_NUTRIENTS = ("energy_kcal", "protein_g", "fat_g", "saturated_fat_g", "carbohydrate_g", "sugars_g", "fibre_g", "salt_g")


def open_recipe(page: Page, frame: PageFrame, *, photo_root: str, schema: str) -> dict[str, Any]:
    """Return the recipe as it was published, at the size it was written for; ``schema`` is the whole address of its schema.

    Amounts are exact, as text: "3/2". Units end the names.
    """
    recipe = page.recipe
    return {
        "$schema": schema,
        "schema": OPEN_SCHEMA,
        "url": frame.address,
        "home": frame.home,
        "licence": frame.licence or None,
        "cite_as": rights_of(recipe, frame).cite_as,
        "edition": frame.edition_number,
        "published": frame.published_at.isoformat() if frame.published_at else None,
        "first_published": frame.first_published_at.isoformat() if frame.first_published_at else None,
        "name": recipe.title,
        "summary": recipe.summary,
        "author": recipe.author,
        "tags": list(recipe.tags),
        "servings": recipe.servings,
        "ingredients": [{"part": part.title, "lines": [_line(line) for line in part.lines]} for part in recipe.parts],
        "steps": [
            {
                "number": number,
                "text": step.text,
                "stage": step.stage,
                "minutes": None if step.minutes is None else float(step.minutes),
                "temp_c": None if step.temp_c is None else float(step.temp_c),
            }
            for number, step in enumerate(recipe.steps, start=1)
        ],
        "prep_min": _number(page.prep_min or None),
        "cooking_min": _number(page.figures.get("cooking_min")),
        "total_min": _number(page.whole_min),
        "standing": page.standing,
        "figures": _figures(page),
        "headlines": [{"value": one.value, "unit": one.unit, "words": one.words} for one in page.headlines],
        "allergens": list(page.allergens.keys) if page.allergens else None,
        "allergens_unknown": list(page.allergens.unknown) if page.allergens else None,
        "nutrition_per_serving": _nutrition(page),
        "cautions": [caution.words for caution in page.cautions],
        "film": _film(frame.film),
        "images": [picture.address for picture in pictures_of(page, frame, photo_root=photo_root)],
    }


def _film(film: Film | None) -> dict[str, Any] | None:
    if film is None:
        return None
    chapters = [{"from_s": one.from_s, "to_s": one.to_s, "words": one.words} for one in film.chapters]
    return {"url": film.address, "day": film.day.isoformat() if film.day else None, "chapters": chapters}


def _line(line: LineFacts) -> dict[str, Any]:
    return {
        "low": None if line.low is None else str(line.low),
        "high": None if line.high is None else str(line.high),
        "unit": line.unit,
        "name": line.name,
        "size": line.size,
        "note": line.note,
        "optional": line.optional,
        "to_taste": line.to_taste,
    }


def _figures(page: Page) -> list[dict[str, Any]]:
    """Return the figures that have a unit; what costs money has none, and stands with its currency among the headlines."""
    known = [(one.name, page.figures.get(one.name), one.unit) for one in shelf_figures() if one.unit]
    return [{"name": name, "value": float(value), "unit": unit} for name, value, unit in known if value is not None]


def _nutrition(page: Page) -> dict[str, Any] | None:
    """Return the estimate; ``whole`` is false where something is not in it, so that all is "at least"."""
    held = page.recipe.nutrition
    if held is None or page.nutrition is None or not held.counted:
        return None
    told = {name: value for name in _NUTRIENTS if (value := getattr(held, name)) is not None}
    return {**told, "whole": page.nutrition.whole, "at_least": list(held.at_least)}


def _number(value: Any) -> float | None:
    return None if value is None else float(value)


def recipe_schema(address: str) -> dict[str, Any]:
    """Return the schema of ``open_recipe``, with the whole address where it stands as its name."""
    line = _object(
        {"low": _MAYBE_AMOUNT, "high": _MAYBE_AMOUNT, **dict.fromkeys(("unit", "name", "size", "note"), _TEXT)}
        | dict.fromkeys(("optional", "to_taste"), _EITHER)
    )
    nutrition = _object(
        dict.fromkeys(_NUTRIENTS, _LEAST_0) | {"whole": _EITHER, "at_least": _list_of(_TEXT)},
        required=("energy_kcal", "whole", "at_least"),
    )
    step = {"number": _COUNT, "text": _TEXT, "stage": _TEXT, "minutes": _maybe(_LEAST_0), "temp_c": _maybe({"type": "number"})}
    chapter = _object({"from_s": _WHOLE, "to_s": _maybe(_WHOLE), "words": _TEXT})
    held: dict[str, Any] = {
        "$schema": _ADDRESS,
        "schema": {"const": OPEN_SCHEMA},
        "url": _ADDRESS,
        "home": _ADDRESS,
        "licence": _maybe(_TEXT),
        "cite_as": _TEXT,
        "edition": _COUNT,
        "published": _DAY,
        "first_published": _DAY,
        **dict.fromkeys(("name", "summary", "author"), _TEXT),
        "tags": _list_of(_TEXT),
        "servings": _COUNT,
        "ingredients": _list_of(_object({"part": _TEXT, "lines": _list_of(line)})),
        "steps": _list_of(_object(step)),
        **dict.fromkeys(("prep_min", "cooking_min", "total_min"), _maybe(_LEAST_0)),
        "standing": {"enum": ["", "measured", "estimated", "typed"]},
        "figures": _list_of(_object({"name": _TEXT, "value": {"type": "number"}, "unit": _TEXT})),
        "headlines": _list_of(_object(dict.fromkeys(("value", "unit", "words"), _TEXT))),
        "allergens": _maybe(_list_of(_TEXT)),
        "allergens_unknown": _maybe(_list_of(_TEXT)),
        "nutrition_per_serving": _maybe(nutrition),
        "cautions": _list_of(_TEXT),
        "film": _maybe(_object({"url": _ADDRESS, "day": _maybe(_TEXT), "chapters": _list_of(chapter)})),
        "images": _list_of(_ADDRESS),
    }
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", "$id": address, "title": "Recipe", **_object(held)}


_TEXT = {"type": "string"}
_EITHER = {"type": "boolean"}
_ADDRESS = {"type": "string", "format": "uri"}
_DAY = {"type": "string", "format": "date-time"}
_COUNT = {"type": "integer", "minimum": 1}
_WHOLE = {"type": "integer", "minimum": 0}
_LEAST_0 = {"type": "number", "minimum": 0}
_MAYBE_AMOUNT = {"type": ["string", "null"], "pattern": r"^-?\d+(/[1-9]\d*)?$"}


def _list_of(what: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": what}


def _maybe(what: dict[str, Any]) -> dict[str, Any]:
    return {"anyOf": [what, {"type": "null"}]}


def _object(properties: dict[str, Any], required: Sequence[str] | None = None) -> dict[str, Any]:
    """Return an object that holds these and may later hold more; all are required unless some are named."""
    return {"type": "object", "properties": properties, "required": list(properties if required is None else required)}
