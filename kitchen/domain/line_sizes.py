"""Reading the size of one piece or pack: "14-oz", "(400 g/14 oz)", "3- to 4-pound", "5 cm", "thumb-sized"."""

from __future__ import annotations

import re
from dataclasses import dataclass

from kitchen.domain.amounts import read_number
from kitchen.domain.line_counts import read_count, skip_space
from kitchen.domain.line_units import read_unit
from kitchen.domain.units import UNITS

_LENGTH_UNIT = re.compile(
    r"\s?-?\s?(?:cm|mm|centimet(?:er|re)s?|inch(?:es)?|ins?\b\.?(?!\s+(?:a|the|oil|water|brine|juice|syrup)\b)|[\"”″]|'')"
    r"(?:[\s-]*(?:thick|long|wide|square|round|diameter)\b)?",
    re.IGNORECASE,
)
_THUMB = re.compile(
    r"thumb(?:[-\s]?(?:nail)?[-\s]?sized?|-length)\b|walnut[-\s]?sized?\b|golf[-\s]?ball[-\s]?sized?\b|"
    r"egg[-\s]?sized?\b",
    re.IGNORECASE,
)
_RANGE = re.compile(r"(?:-?\s*(?:to|or)\s+|-to-(?=\d)|\s*[-–—]\s*|\s*x\s*(?=\d))", re.IGNORECASE)
_BRACKET = re.compile(r"[(\[]\s*(?:about|approx(?:\.|imately)?|each|or|around|roughly|[~≈])?\s*", re.IGNORECASE)
_CLOSE = re.compile(r"(?:\s+(?:each|total|size|apiece|in\s+total))?\s*[)\]]", re.IGNORECASE)
_SECOND = re.compile(r"\s*(?:/|;|,|\||=|\bor\b|\()\s*(?=[\d½¼¾⅓⅔⅛])", re.IGNORECASE)
_OUNCES = re.compile(r"\s?\d{1,2}(?:\s?[½¼¾])?\s?(?:oz\b\.?|ounces?\b)", re.IGNORECASE)
_CAN_NUMBER = re.compile(r"(?:#|no\.?|number)\s?\d{1,3}(?:\s?½|\s1/2)?(?:\s+size)?", re.IGNORECASE)


@dataclass(frozen=True)
class Size:
    """A size as printed, where it ends, and how it was written."""

    words: str
    end: int
    bracketed: bool = False
    hyphened: bool = False
    is_length: bool = False


def read_size(text: str, start: int) -> Size | None:
    """Return the size that begins at ``start``, or None: a mass, a volume or a length, in brackets or bare.

    Examples
    --------
    >>> [read_size(text, 0).words for text in ("(14 1/2-ounce) can", "3- to 4-pound chicken", "5cm/2in piece")]
    ['14 1/2-ounce', '3- to 4-pound', '5cm']
    """
    first = text[start : start + 1]
    if first in ("(", "["):
        return _in_bracket(text, start)
    return _bare(text, start)


def _in_bracket(text: str, start: int) -> Size | None:
    opened = _BRACKET.match(text, start)
    inner = _bare(text, opened.end()) or _number_of_can(text, opened.end()) if opened else None
    if inner is None:
        return None
    closed = _CLOSE.match(text, inner.end)
    if closed is None:
        return None
    return Size(inner.words, skip_space(text, closed.end()), True, inner.hyphened, inner.is_length)


def _number_of_can(text: str, start: int) -> Size | None:
    found = _CAN_NUMBER.match(text, start)
    return Size(found.group(), found.end()) if found else None


def _bare(text: str, start: int) -> Size | None:
    """Read one size, and step over the same size in other units behind a slash."""
    size = _one(text, start)
    for _ in range(2):
        second = _SECOND.match(text, size.end) if size else None
        if size is None or second is None or "(" in second.group():
            break
        other = _one(text, second.end())
        if other is None:
            break
        size = Size(size.words, other.end, False, size.hyphened, size.is_length)
    return size


def _one(text: str, start: int) -> Size | None:
    counted = read_number(text, start)
    if counted is None:
        thumb = _THUMB.match(text, start)
        return Size(thumb.group(), skip_space(text, thumb.end()), False, True, True) if thumb else None
    end = counted[1]
    ranged = _RANGE.match(text, end)
    upper = read_count(text, ranged.end()) if ranged else None
    end = upper[1] if upper and ranged and text[ranged.end() : upper[1]] not in ("a", "an") else end
    length = _LENGTH_UNIT.match(text, end)
    if length:
        return _sized_by(text, start, length.end(), is_length=True)
    joint = end
    while joint < len(text) and text[joint] in " -":
        joint += 1
    unit = read_unit(text, joint) if joint - end <= 2 else None
    if unit is None or UNITS[unit[0].key].dimension == "count" or unit[0].key in ("pinch", "dash"):
        return None
    ounces = _OUNCES.match(text, unit[1]) if unit[0].key == "lb" else None
    return _sized_by(text, start, ounces.end() if ounces else unit[1], hyphened="-" in text[end:joint])


def _sized_by(text: str, start: int, end: int, *, hyphened: bool = False, is_length: bool = False) -> Size:
    words = text[start:end].strip(" -")
    place = skip_space(text, end)
    place = skip_space(text, place + 1) if text[place : place + 1] == "-" and text[end : end + 1] in "- " else place
    return Size(words, place if place > end and text[place : place + 1].isalpha() else end, False, hyphened, is_length)
