"""Reading one measure out of a line: a number or a range, its unit, and measures put together."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain import line_words
from kitchen.domain.amounts import read_number
from kitchen.domain.units import UNITS, CannotConvert, Unit, convert, find_unit

_SPACE = re.compile(r"\s*")
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_TO = re.compile(r"\s*(?:[-–—−‐‑~]|to\b|or\b)\s*", re.IGNORECASE)
_PLUS = re.compile(r"\s*(?:\+|plus\b|and\b|&)\s*", re.IGNORECASE)
_MINUS = re.compile(r"\s*(?:minus|less)\s+", re.IGNORECASE)
_OF_THESE = re.compile(r"\s*[x×]\s+(?=[^\W\d_])", re.IGNORECASE)
_TIMES = re.compile(r"\s*[x×*]\s*(?=[\d½¼¾⅓⅔])", re.IGNORECASE)
_UNIT_WORD = re.compile(r"[^\W\d_]+\.?")
_OF = re.compile(r"\s*of\s+(?:(?:a|an|the)\s+)?", re.IGNORECASE)
_JOIN = re.compile(r"\s*-?\s*")
_LETTER_AFTER = re.compile(r"[-'’]?[^\W\d_]|:\d|/")


@dataclass(frozen=True)
class Measure:
    """An amount with its unit, as it stands between two places of a text."""

    low: Fraction
    high: Fraction
    unit: str
    end: int
    size: str = ""
    hedge: str = ""


def skip_space(text: str, start: int) -> int:
    """Return the first place at or after ``start`` that is no white space."""
    found = _SPACE.match(text, start)
    return found.end() if found else start


def read_count(text: str, start: int) -> tuple[Fraction, int] | None:
    """Return a number in figures or in words and where it ends."""
    return read_number(text, start) or _read_words(text, start)


def _read_words(text: str, start: int) -> tuple[Fraction, int] | None:
    first = _number_word(text, start)
    if first is None:
        return None
    value, end, word = first
    following = _WORD.match(text, skip_space(text, end))
    next_word = following.group().lower() if following else ""
    if following and next_word in line_words.PART_WORDS and (word not in line_words.PART_WORDS or next_word in line_words.GROUPS):
        value, end, word = value * line_words.PART_WORDS[next_word], following.end(), next_word
    elif following and word == "half" and next_word in ("a", "an"):
        end = following.end()
        dozen = re.compile(r"\s+dozen\b", re.IGNORECASE).match(text, end)
        value, end = (value * 12, dozen.end()) if dozen else (value, end)
    if word in line_words.GROUPS:
        end = _after_of(text, end)
    return _and_a_half(text, value, end)


def _number_word(text: str, start: int) -> tuple[Fraction, int, str] | None:
    found = _WORD.match(text, start)
    if found is None:
        return None
    word = found.group().lower()
    value = line_words.NUMBER_WORDS.get(word)
    if value is not None:
        return value, found.end(), word
    return (Fraction(6), found.end(), "dozen") if word == "half-dozen" else None


_AND_PART = re.compile(r"\s+and\s+(?:(?:a|one)\s+)?(half|quarter|third)\b", re.IGNORECASE)


def _and_a_half(text: str, value: Fraction, end: int) -> tuple[Fraction, int]:
    found = _AND_PART.match(text, end)
    return (value + line_words.PART_WORDS[found[1].lower()], found.end()) if found else (value, end)


def read_unit(text: str, start: int) -> tuple[Unit, int] | None:
    """Return the longest unit (up to three words) that begins at ``start`` and where it ends."""
    ends: list[int] = []
    place = start
    for _ in range(3):
        found = _UNIT_WORD.match(text, place)
        if found is None:
            break
        ends.append(found.end())
        place = skip_space(text, found.end())
    for end in reversed(ends):
        unit = find_unit(text[start:end])
        if unit is not None and not text[end : end + 1].isalnum():
            return unit, end
    return None


def read_measure(text: str, start: int = 0) -> Measure | None:
    """Return the measure that begins at ``start``: ``1 lb 4 oz``, ``2-3 cups``, ``2 x 400 g tins``, ``a pinch``; or None."""
    measure = _simple(text, start)
    return None if measure is None else _together(text, measure)


def _simple(text: str, start: int) -> Measure | None:
    counted = read_count(text, start)
    if counted is None or counted[0] <= 0:
        return None
    low, end = _counted_out(text, *counted)
    times = _TIMES.match(text, end)
    if times:
        packed = _packs(text, low, times.end())
        if packed:
            return packed
    low, high, end = _up_to(text, low, end)
    times = _TIMES.match(text, end) if high != low else None
    packed = _packs(text, low, times.end()) if times else None
    if packed and packed.size:
        return replace(packed, high=high)
    of_these = _OF_THESE.match(text, end)
    end = of_these.end() if of_these else end
    sized = _sized(text, low, high, end)
    if sized:
        return sized
    return _one_pack(text, start, _with_unit(text, start, Measure(low, high, "", end)))


_OF_A = re.compile(r"\s+(?:of\s+)?an?\s+(?=\S)", re.IGNORECASE)
_DOZEN = re.compile(r"\s*dozen\b", re.IGNORECASE)


def _counted_out(text: str, number: Fraction, end: int) -> tuple[Fraction, int]:
    """Take in what belongs to the number: ``2 dozen``, ``1/2 a``, ``three quarters of a``."""
    dozen = _DOZEN.match(text, end)
    if dozen:
        return number * 12, dozen.end()
    of_a = _OF_A.match(text, end) if number < 1 else None
    return number, of_a.end() if of_a else end


def _one_pack(text: str, start: int, measure: Measure) -> Measure:
    """Read ``400 g tin`` as one tin of that size."""
    if not measure.unit or measure.low != measure.high or UNITS[measure.unit].dimension == "count":
        return measure
    held = read_unit(text, _join(text, measure.end))
    if held is None or held[0].key not in CONTAINERS or not _food_follows(text, held[1]):
        return measure
    size = text[start : measure.end].strip(" -")
    return Measure(Fraction(1), Fraction(1), held[0].key, _after_of(text, held[1]), size=size)


def read_bare_unit(text: str, start: int) -> Measure | None:
    """Read "pinch of salt" and "heaped tablespoon of flour" as one of them."""
    fill = line_words.FILL.match(text, start)
    sized = None if fill else line_words.SIZES.match(text, start)
    place = fill.end() if fill else sized.end() if sized else start
    if not line_words.BARE_UNIT.match(text, place):
        return None
    one = _with_unit(text, start, Measure(Fraction(1), Fraction(1), "", start))
    return one if one.unit else None


def _up_to(text: str, low: Fraction, end: int) -> tuple[Fraction, Fraction, int]:
    """Read the high end of a range such as ``2-3`` or ``2 to 3``."""
    dash = _TO.match(text, end)
    upper = read_count(text, dash.end()) if dash else None
    if upper is None or upper[0] <= 0 or _is_article(text, dash.end() if dash else 0, upper[1]):
        return low, low, end
    return min(low, upper[0]), max(low, upper[0]), upper[1]


def _is_article(text: str, start: int, end: int) -> bool:
    return text[start:end].lower() in line_words.ARTICLES


def _packs(text: str, count: Fraction, start: int) -> Measure | None:
    """Read what follows ``2 x``: a pack size and its container, or just a number."""
    each = _simple(text, start)
    if each is None:
        return None
    if not each.unit or each.size or UNITS[each.unit].dimension == "count":
        return replace(each, low=count * each.low, high=count * each.high)
    size = text[start : each.end].strip()
    other = _SAME_SIZE.match(text, each.end)
    place = other.end() if other else each.end
    held = _with_unit(text, start, Measure(count, count, "", place))
    unit = held.unit if UNITS[held.unit or "each"].dimension == "count" else ""
    return Measure(count, count, unit, held.end if unit else each.end, size=size)


_SAME_SIZE = re.compile(r"\s*/\s*\d[\d.,½¼¾]*\s*[^\W\d_]{1,6}\b")
_BRACKET = re.compile(r"\s*\(\s*(?P<hedge>about|approx\.?|each)?\s*(?P<inside>[^()]{1,40}?)(?:\s+each)?\s*\)\s*", re.IGNORECASE)


def _sized(text: str, low: Fraction, high: Fraction, start: int) -> Measure | None:
    """Read ``1 (14 oz) can``, ``1 14-oz can`` and ``2 400g tins``: a count, the size of one, and the container."""
    bracket = _BRACKET.match(text, start)
    if bracket:
        size = re.split(r"\s*[/;]\s*", bracket["inside"])[0]
        inner, end = _plain(size, 0), bracket.end()
        if inner is None or inner.end != len(size):
            return None
    else:
        place = skip_space(text, start)
        if place == start and not text[start - 1].isspace():
            return None
        inner = _plain(text, place)
        if inner is None:
            return None
        size, end = text[place : inner.end], skip_space(text, inner.end)
    if not inner.unit or UNITS[inner.unit].dimension == "count":
        return None
    held = read_unit(text, skip_space(text, end + (text[end : end + 1] == "-")))
    if held is None or held[0].dimension != "count":
        return None
    return Measure(low, high, held[0].key, _after_of(text, held[1]), size=size.strip())


def _plain(text: str, start: int) -> Measure | None:
    """Read one number in figures and its unit, nothing more."""
    counted = read_number(text, start)
    if counted is None:
        return None
    unit = read_unit(text, _join(text, counted[1]))
    return None if unit is None else Measure(counted[0], counted[0], unit[0].key, unit[1])


def _join(text: str, start: int) -> int:
    found = _JOIN.match(text, start)
    return found.end() if found else start


def _with_unit(text: str, start: int, measure: Measure) -> Measure:
    """Add the unit and the hedge before it (``2 heaped tbsp``, ``3 large sprigs``), when there is one."""
    place = _join(text, measure.end)
    fill = line_words.FILL.match(text, place)
    sized = None if fill else line_words.SIZES.match(text, place)
    unit = read_unit(text, fill.end() if fill else sized.end() if sized else place)
    if unit is None or (unit[0].key in _NEEDS_FOOD and not _food_follows(text, unit[1])):
        return replace(measure, end=_after_of(text, measure.end))
    if unit[0].key == "each":
        return replace(measure, end=unit[1])
    return replace(
        measure,
        unit=unit[0].key,
        end=_after_of(text, unit[1]),
        hedge=fill.group().strip() if fill else "",
        size=measure.size or (sized["size"] if sized else ""),
    )


CONTAINERS = frozenset(
    {"bag", "bar", "block", "bottle", "box", "can", "carton", "jar", "loaf", "packet", "pot", "punnet", "sachet", "tube"}
)
# "4 cloves" alone is the spice, "2 heads" alone is nothing: these need a food after them to be a measure.
_NEEDS_FOOD = frozenset(
    {"clove", "ball", "ear", "head", "bulb", "stick", "cube", "fillet", "wedge", "sheet", "pot", "bar", "loaf", "box"}
)


_BRACKETED = re.compile(r"\([^()]*\)\s*(?=[^\W\d_])")


def _food_follows(text: str, place: int) -> bool:
    """Say whether a food comes next: in "1 stick (8 tbsp) butter" behind the bracket."""
    rest = text[place:].lstrip(" .")
    bracketed = _BRACKETED.match(rest)
    rest = rest[bracketed.end() :] if bracketed else rest
    return bool(rest) and rest[0] not in ",;(" and not rest.lower().startswith(("or ", "and "))


def _after_of(text: str, end: int) -> int:
    found = _OF.match(text, end)
    return found.end() if found and found.end() < len(text) else end


def _together(text: str, measure: Measure) -> Measure:
    """Add what is joined on: ``1 lb 4 oz``, ``2 cups plus 2 tbsp``, ``1 cup minus 1 tbsp``, ``200 g - 250 g``."""
    for _ in range(4):
        joined = _range_of_measures(text, measure) or _sum_of_measures(text, measure)
        if joined is None:
            return measure
        measure = joined
    return measure


def _range_of_measures(text: str, measure: Measure) -> Measure | None:
    dash = _TO.match(text, measure.end)
    if dash is None or not measure.unit or measure.low != measure.high:
        return None
    other = _simple(text, dash.end())
    if other is None or not other.unit or other.size:
        return None
    try:
        high = convert(other.high, other.unit, measure.unit)
    except CannotConvert:
        return None
    return replace(measure, low=min(measure.low, high), high=max(measure.low, high), end=other.end)


def _sum_of_measures(text: str, measure: Measure) -> Measure | None:
    if not measure.unit or UNITS[measure.unit].per_base is None:
        return None
    plus, minus = _PLUS.match(text, measure.end), _MINUS.match(text, measure.end)
    sign = -1 if minus else 1
    start = minus.end() if minus else plus.end() if plus else skip_space(text, measure.end)
    other = _simple(text, start)
    if other is None or not other.unit or other.unit == measure.unit:
        return None
    return _added(measure, other, sign)


def _added(measure: Measure, other: Measure, sign: int) -> Measure | None:
    try:
        low = measure.low + sign * convert(other.low, other.unit, measure.unit)
        high = measure.high + sign * convert(other.high, other.unit, measure.unit)
    except CannotConvert:
        return None
    return replace(measure, low=low, high=high, end=other.end) if low > 0 else None


def stands_alone(text: str, start: int, measure: Measure) -> bool:
    """Say whether the number is an amount at all: "5-spice", "1:1 syrup" and "half-fat" are names."""
    if measure.unit or measure.size:
        return True
    following = _LETTER_AFTER.match(text, measure.end)
    glued = measure.end > start and text[measure.end - 1 : measure.end].strip() != ""
    return not (following and glued)
