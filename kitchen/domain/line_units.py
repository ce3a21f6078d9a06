"""Reading a unit out of a line: the longest word of the kitchen's list that begins at a place."""

from __future__ import annotations

import re
from functools import lru_cache

from kitchen.domain.line_counts import skip_space
from kitchen.domain.line_words import NOT_A_UNIT
from kitchen.domain.units import UNITS, Unit, find_unit

_UNIT_WORD = re.compile(r"[^\W\d_]+\.?")
_POUNDS = re.compile(r"\s*#(?=\s*[^\W\d_])")
_FIRST_WORDS = frozenset(
    re.split(r"[ .]", word)[0] for unit in UNITS.values() for word in (*unit.words, unit.plural.lower(), unit.key.lower()) if word
) | {"t"}
CONTAINERS = frozenset(
    {
        "bag",
        "bar",
        "block",
        "bottle",
        "box",
        "can",
        "carton",
        "case",
        "container",
        "jar",
        "loaf",
        "packet",
        "pot",
        "pouch",
        "punnet",
        "sachet",
        "sleeve",
        "tray",
        "tube",
    }
)
# "4 cloves" alone is the spice, "2 heads" alone is nothing: these need a food after them to be a measure.
_NEEDS_FOOD = frozenset(
    {
        "clove",
        "ball",
        "ear",
        "head",
        "bulb",
        "stick",
        "case",
        "cube",
        "fillet",
        "wedge",
        "sheet",
        "pot",
        "bar",
        "loaf",
        "box",
        "leaf",
        "roll",
        "cake",
        "square",
        "pat",
        "log",
        "wheel",
        "pod",
        "spear",
        "floret",
        "strand",
        "part",
        "twist",
        "piece",
        "blade",
        "block",
        "thumb",
        "shot",
        "shake",
        "recipe",
        "batch",
        "quantity",
        "serving",
        "portion",
        "rack",
        "link",
        "slab",
        "slice",
    }
)
_BRACKETED = re.compile(r"\([^()]*\)\s*(?=[^\W\d_])")
_JOINING = re.compile(r"(?:stuck|or|and|to|in|for|with|about|at|cut|from|removed)\b", re.IGNORECASE)


@lru_cache(maxsize=4096)
def _unit_of(phrase: str) -> Unit | None:
    """Look a phrase up once, with and without the points of its abbreviations."""
    return find_unit(phrase) or (find_unit(phrase.replace(".", " ")) if "." in phrase else None)


@lru_cache(maxsize=8192)
def _may_begin_a_unit(word: str) -> bool:
    return word.rstrip(".").lower() in _FIRST_WORDS


def read_unit(text: str, start: int) -> tuple[Unit, int] | None:
    """Return the longest unit (up to three words) that begins at ``start`` and where it ends; "#" is a pound behind its number.

    Examples
    --------
    >>> [read_unit(text, 0)[0].key for text in ("fl. oz. rum", "Tbsp butter", "T sugar", "tins of tuna")]
    ['floz', 'tbsp', 'tbsp', 'can']
    >>> read_unit("pot roast", 0) is None, read_unit("cupboard", 0) is None
    (True, True)
    """
    found = _UNIT_WORD.match(text, start)
    if found is None or not _may_begin_a_unit(found.group()):
        pounds = _POUNDS.match(text, start) if text[start : start + 1] in ("#", " ") else None
        return (UNITS["lb"], pounds.end()) if pounds else None
    ends = [found.end()]
    for _ in range(2):
        found = _UNIT_WORD.match(text, skip_space(text, ends[-1]))
        if found is None:
            break
        ends.append(found.end())
    return _longest(text, start, ends)


def _longest(text: str, start: int, ends: list[int]) -> tuple[Unit, int] | None:
    for end in reversed(ends):
        unit = _unit_of(text[start:end])
        if unit is not None and (text[end - 1] == "." or not text[end : end + 1].isalnum()) and not NOT_A_UNIT.match(text, start):
            return unit, end
    return None


def needs_food(unit: Unit) -> bool:
    """Say whether the word is a unit only in front of a food."""
    return unit.key in _NEEDS_FOOD


def food_follows(text: str, place: int) -> bool:
    """Say whether a food comes next: in "1 stick (8 tbsp) butter" behind the bracket."""
    rest = text[place:].lstrip(" .")
    bracketed = _BRACKETED.match(rest)
    rest = rest[bracketed.end() :] if bracketed else rest
    return bool(rest) and rest[0] not in ",;(:-–" and not _JOINING.match(rest)
