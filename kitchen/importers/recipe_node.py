"""A recipe node, from linked data or from marked elements, as the recipe that it describes.

Names are those of schema.org's type Recipe (release 28.1), in small letters; older names of the same stand beside them.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from kitchen.importers.durations import read_times
from kitchen.importers.found import ReadRecipe
from kitchen.importers.ingredients import read_parts
from kitchen.importers.instructions import read_steps
from kitchen.importers.properties import first_of, listed, properties, scalars, texts
from kitchen.importers.wording import one_line
from kitchen.importers.yields import read_yield

_TITLES = ("name", "fn", "headline", "title")
_INGREDIENTS = ("recipeingredient", "recipeingredients", "ingredients", "ingredient", "supply")
_STEPS = ("recipeinstructions", "recipeinstruction", "instructions", "instruction", "method", "steps", "step", "directions")
_YIELDS = ("recipeyield", "yield", "yields", "servings", "recipeservings")
MOST_TAGS = 8
LONGEST_TAG = 30
_ADDRESS = re.compile(r"https?://[^\s<>\"']{4,190}$", re.IGNORECASE)
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_NO_TAG = re.compile(r"recipes?$|https?:|[<>{}]", re.IGNORECASE)


def read_node(node: Mapping[str, Any], source: str) -> ReadRecipe:
    """Return the recipe that a node describes; what the node does not say stays empty.

    Examples
    --------
    >>> recipe = read_node({"name": "Soup", "recipeYield": ["4", "4 bowls"], "cookTime": "PT20M"}, "json-ld")
    >>> recipe.title, recipe.makes.number, recipe.times.total_min
    ('Soup', 4, 20)
    """
    held = properties(node)
    return ReadRecipe(
        title=next(iter(texts(first_of(held, _TITLES))), ""),
        summary=next(iter(texts(first_of(held, ("description", "summary")))), ""),
        parts=max((read_parts(_as_lines(held[name])) for name in _INGREDIENTS if name in held), key=_lines_in, default=()),
        steps=max((read_steps(_joined_texts(held[name])) for name in _STEPS if name in held), key=len, default=()),
        makes=read_yield(value for name in _YIELDS if name in held for value in scalars(held[name])),
        times=_times(held),
        tags=read_tags(*(held.get(name) for name in ("recipecategory", "recipecuisine", "keywords"))),
        author=", ".join(dict.fromkeys(texts(held.get("author"), ("name", "@value", "text"))))[:120],
        home_url=_address(first_of(held, ("url", "mainentityofpage", "@id"))),
        image_url=_address(first_of(held, ("image", "photo", "thumbnailurl"))),
        published=_day(first_of(held, ("datepublished", "datecreated"))),
        source=source,
    )


def _lines_in(parts: Iterable[Any]) -> int:
    return sum(len(part.lines) for part in parts)


def _as_lines(value: Any) -> Any:
    """Return the ingredients of marked elements each on one line: only a single element holds the whole list."""
    if isinstance(value, list) and len(value) > 1 and all(isinstance(each, str) for each in value):
        return [each if "<" in each else each.replace("\n", " ") for each in value]
    return value


def _joined_texts(value: Any) -> Any:
    return value[0] if isinstance(value, list) and len(value) == 1 else value


def _times(held: Mapping[str, Any]) -> Any:
    def said(*names: str) -> list[Any]:
        return [value for name in names if name in held for value in _spans(held[name])]

    return read_times(said("preptime"), said("cooktime", "performtime"), said("totaltime", "duration", "time"))


def _spans(value: Any) -> list[Any]:
    """Return lengths of time; of a node the longest that it gives."""
    found: list[Any] = []
    for each in listed(value):
        if isinstance(each, Mapping):
            inner = properties(each)
            found += listed(first_of(inner, ("maxvalue", "value", "@value", "duration", "name", "text")))
        else:
            found.append(each)
    return found


def read_tags(*values: Any) -> tuple[str, ...]:
    """Return the first few words that a page files its recipe under, each once.

    Examples
    --------
    >>> read_tags("Soup", ["Nordic"], "soup, one pot, recipe, a very long phrase for search engines alone")
    ('soup', 'nordic', 'one pot')
    """
    words = (piece.strip(" #.").lower() for value in values for text in texts(value) for piece in re.split(r"[,;|/]|\s&\s", text))
    kept = (word for word in words if 2 <= len(word) <= LONGEST_TAG and not _NO_TAG.match(word))
    return tuple(dict.fromkeys(kept))[:MOST_TAGS]


def _address(value: Any) -> str:
    """Return the first whole web address in a value."""
    for each in listed(value):
        said = each
        if isinstance(each, Mapping):
            said = next(iter(listed(first_of(properties(each), ("url", "contenturl", "@id")))), "")
        if isinstance(said, str) and _ADDRESS.match(plain := one_line(said)):
            return plain
    return ""


def _day(value: Any) -> str:
    found = _DAY.match(next(iter(texts(value)), ""))
    return found.group() if found else ""
