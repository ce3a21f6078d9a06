"""Reading one measure out of a line: a number or a range, its unit, the size of a pack, and measures put together."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from kitchen.domain import line_words
from kitchen.domain.facts import AmountFacts
from kitchen.domain.line_counts import after_of, is_article, read_count, skip_space
from kitchen.domain.line_sizes import read_size
from kitchen.domain.line_units import CONTAINERS, food_follows, needs_food, read_unit
from kitchen.domain.units import UNITS, CannotConvert, convert

_F = line_words.FIGURES
_TO = re.compile(r"\s*(?:-?\s*(?:to|or|and/or)\b|[-–—−‐‑~]\s*(?:to\b)?)\s*", re.IGNORECASE)
_AND = re.compile(r"\s*(?:and|&|to)\s+", re.IGNORECASE)
_BETWEEN = re.compile(r"between\s+$", re.IGNORECASE)
_PLUS = re.compile(
    r"\s*(?:\+|,?\s*plus\b|and\b|&|,(?=\s*\d+\s*(?:oz|ounces?|tbsp|tsp|tablespoons?|"
    r"teaspoons?)\b))\s*",
    re.IGNORECASE,
)
_MINUS = re.compile(r"\s*(?:minus|less)\s+", re.IGNORECASE)
_OF_THESE = re.compile(r"\s*[x×]\s+(?=[^\W\d_])", re.IGNORECASE)
_TIMES = re.compile(rf"\s*[x×*]\s*(?=[\d{_F}])", re.IGNORECASE)
_JOIN = re.compile(r"\s*-?\s*")
_LETTER_AFTER = re.compile(r"[-'’]?[^\W\d_]|:\d|/|-\d+[-\s]?(?:grain|spice|ply)", re.IGNORECASE)
_AGAIN = re.compile(r"(\d{1,2})\s+\1\s+(?=[^\W\d])")
_OR_TWO = re.compile(r"\s+or\s+(two|three|so)\b(?=\s*(?:of\b|,|$|\())", re.IGNORECASE)
_OR_MORE = re.compile(r"\s+or\s+(?:more|so|less)(?=\s+\S)", re.IGNORECASE)
_OF_A = re.compile(r"\s+(?:of\s+)?an?\s+(?=\S)", re.IGNORECASE)
_DOZEN = re.compile(r"\s*(?P<baker>bakers?['’]?s?\s+)?doz(?:ens?\b|\b\.?)(?:\s+of\b)?", re.IGNORECASE)
_LENGTH_AHEAD = re.compile(
    rf"[\d{_F}][\d\s{_F}./,⁄-]{{0,9}}?(?:(?:to|or)\s[\d{_F}/]{{1,4}})?[\s-]?(?:cm\b|mm\b|centim|inch|in\b|[\"”″])|thumb|"
    rf"walnut|golf",
    re.IGNORECASE,
)
_CUT_FROM = re.compile(
    r"(?:of\s+)?(?:(?:fresh|young|peeled|grated|root|raw|whole)\s+)*(?:ginger|galangal|turmeric|"
    r"horseradish|root)\b",
    re.IGNORECASE,
)


@dataclass(frozen=True)
class Measure:
    """An amount with its unit, as it stands between two places of a text.

    ``word`` is the unit as printed ("tins"), ``parts`` the measures that a sum was made of, in their order; ``also``
    the same amount in another unit.
    """

    low: Fraction
    high: Fraction
    unit: str
    end: int
    size: str = ""
    hedge: str = ""
    word: str = ""
    parts: tuple[AmountFacts, ...] = ()
    also: tuple[AmountFacts, ...] = ()


def read_measure(text: str, start: int = 0) -> Measure | None:
    """Return the measure that begins at ``start``: ``1 lb 4 oz``, ``2-3 cups``, ``2 x 400 g tins``, ``a pinch``; or None."""
    measure = _length(text, start) or _simple(text, start)
    return None if measure is None else _or_two(text, _together(text, measure))


def _length(text: str, start: int) -> Measure | None:
    """Read "5 cm piece of ginger", "5 cm ginger" and "1-inch cinnamon stick": one thing, the length is its size."""
    size = read_size(text, start) if _LENGTH_AHEAD.match(text, start) else None
    if size is None or not size.is_length:
        return None
    one = Fraction(1)
    held = _with_unit(text, Measure(one, one, "", size.end, size=size.words))
    if not held.unit and _CUT_FROM.match(text, held.end):
        return replace(held, unit="piece")
    return held if not held.unit or UNITS[held.unit].dimension == "count" else None


def read_bare_unit(text: str, start: int) -> Measure | None:
    """Read "pinch of salt" and "heaped tablespoon of flour" as one of them."""
    fill = line_words.FILL.match(text, start)
    sized = None if fill else line_words.SIZES.match(text, start)
    fill = line_words.FILL.match(text, sized.end()) if sized else fill
    place = fill.end() if fill else sized.end() if sized else start
    if not line_words.BARE_UNIT.match(text, place):
        return None
    begin = sized.end() if sized and fill else start
    one = _with_unit(text, Measure(Fraction(1), Fraction(1), "", begin))
    return _or_two(text, one) if one.unit and food_follows(text, one.end) else None


def _simple(text: str, start: int) -> Measure | None:
    counted = read_count(text, start)
    if counted is None or counted[0] <= 0:
        return None
    low, end = _counted_out(text, *counted)
    packed = _times(text, low, low, end)
    if packed:
        return packed
    number_end = end
    low, high, end = _up_to(text, start, low, end)
    if high != low:
        packed = _times(text, low, high, end) or _dashed_pack(text, start, number_end, low, high)
        if packed:
            return packed
    or_more = _OR_MORE.match(text, end)
    end = or_more.end() if or_more else end
    of_these = _OF_THESE.match(text, end)
    end = of_these.end() if of_these else end
    sized = _sized(text, low, high, end)
    if sized:
        return sized
    again = _AGAIN.match(text, start)
    end = again.end() if again else end
    return _one_pack(text, start, _with_unit(text, Measure(low, high, "", end)))


def _counted_out(text: str, number: Fraction, end: int) -> tuple[Fraction, int]:
    """Take in what belongs to the number: ``2 dozen``, ``1/2 a``, ``three quarters of a``."""
    dozen = _DOZEN.match(text, end)
    if dozen:
        return number * (13 if dozen["baker"] else 12), dozen.end()
    of_a = _OF_A.match(text, end) if number < 1 else None
    return number, of_a.end() if of_a else end


def _times(text: str, low: Fraction, high: Fraction, end: int) -> Measure | None:
    times = _TIMES.match(text, end)
    packed = _packs(text, low, times.end()) if times else None
    if packed is None or low == high:
        return packed
    return replace(packed, high=high) if packed.size else None


def _packs(text: str, count: Fraction, start: int) -> Measure | None:
    """Read what follows ``2 x``: a pack size and its container, or just a number."""
    size = read_size(text, start)
    if size is not None:
        held = _with_unit(text, Measure(count, count, "", size.end, size=size.words))
        counts = UNITS[held.unit or "each"].dimension == "count"
        return held if counts else Measure(count, count, "", size.end, size=size.words)
    each = read_count(text, start)
    if each is None or each[0] <= 0 or _TIMES.match(text, each[1]):
        return None
    return _with_unit(text, Measure(count * each[0], count * each[0], "", each[1]))


def _up_to(text: str, start: int, low: Fraction, end: int) -> tuple[Fraction, Fraction, int]:
    """Read the high end of a range such as ``2-3`` or ``2 to 3``, or ``between 2 and 3``."""
    dash = _TO.match(text, end) or (_AND.match(text, end) if _BETWEEN.search(text, max(0, start - 9), start) else None)
    upper = read_count(text, dash.end()) if dash else None
    if dash is None or upper is None or upper[0] <= 0 or is_article(text, dash.end(), upper[1]):
        return low, low, end
    dozen = _DOZEN.match(text, upper[1])
    if dozen:
        return low * 12, max(low, upper[0]) * 12, dozen.end()
    if text[upper[1] : upper[1] + 2] == "-s" or text[upper[1] : upper[1] + 1] == "%":
        return low, low, end
    return min(low, upper[0]), max(low, upper[0]), upper[1]


def _dashed_pack(text: str, start: int, number_end: int, low: Fraction, high: Fraction) -> Measure | None:
    """Read ``1-15 oz can`` and ``2 - 8 oz pkgs``: what looks like a range is a count and the size of one."""
    dash = re.compile(r"\s*[-–—]\s*").match(text, number_end)
    size = read_size(text, dash.end()) if dash else None
    if size is None or low.denominator != 1 or start == number_end:
        return None
    held = read_unit(text, skip_space(text, size.end))
    if held is None or held[0].key not in CONTAINERS:
        return None
    several = text[skip_space(text, size.end) : held[1]].rstrip(".").lower().endswith("s")
    if low != 1 and not several:
        return None
    return Measure(low, low, held[0].key, after_of(text, held[1]), size=size.words, word=_word(text, size.end, held[1]))


def _sized(text: str, low: Fraction, high: Fraction, start: int) -> Measure | None:
    """Read ``1 (14 oz) can``, ``2 400g tins`` and ``1 3-pound chicken``: how many, the size of one, what holds it."""
    place = skip_space(text, start)
    if place == start and text[start - 1 : start] != " " and text[start : start + 1] != "(":
        return None
    size = read_size(text, place)
    if size is None:
        return None
    measure = Measure(low, high, "", size.end, size=size.words)
    held = _with_unit(text, measure)
    if held.unit and UNITS[held.unit].dimension == "count":
        return held
    if held.unit and size.bracketed:
        return replace(held, size="", also=_amount_of(size.words))
    alone = size.bracketed or size.hyphened or size.is_length or (low == high and _ONE_WEIGHS.match(text, start))
    return replace(measure, end=after_of(text, size.end)) if alone and food_follows(text, size.end) and not held.unit else None


# "2 8 oz steaks", "1 2½-3 lb chicken": not "1 250 g", which may be one thousand two hundred and fifty.
_ONE_WEIGHS = re.compile(rf"\s(?!\d{{3}}\b)[\d{_F}][\d{_F}\s./–-]{{0,9}}\s?(?:lbs?|pounds?|oz|ounces?|kg)\b", re.IGNORECASE)


def _amount_of(words: str) -> tuple[AmountFacts, ...]:
    """Return the same amount in another unit, as it stood in a bracket before the first one: "1 (240 ml) cup"."""
    other = _simple(words, 0)
    return (AmountFacts(other.low, other.high, other.unit),) if other is not None and other.unit else ()


_ONE_OF_A_SIZE = CONTAINERS | {"ball", "bunch", "stick", "log", "piece", "sheet"}


def _one_pack(text: str, start: int, measure: Measure) -> Measure:
    """Read ``400 g tin`` as one tin of that size."""
    if not measure.unit or UNITS[measure.unit].dimension == "count":
        return measure
    size = read_size(text, start)
    if size is None or size.bracketed or size.end < measure.end:
        return measure
    place = skip_space(text, size.end)
    again = read_size(text, place) if text[place : place + 1] == "(" else None
    place = again.end if again else place
    held = read_unit(text, place + (text[place : place + 1] == "-"))
    if held is None or held[0].key not in _ONE_OF_A_SIZE or not food_follows(text, held[1]):
        return measure
    one = Fraction(1)
    return Measure(one, one, held[0].key, after_of(text, held[1]), size=size.words, word=_word(text, place, held[1]))


def _with_unit(text: str, measure: Measure) -> Measure:
    """Add the unit and the hedge before it (``2 heaped tbsp``, ``3 large sprigs``), when there is one."""
    joined = _JOIN.match(text, measure.end)
    place = joined.end() if joined else measure.end
    number = line_words.CAN_NUMBER.match(text, place)
    place = number.end() if number else place
    fill = line_words.FILL.match(text, place)
    after_fill = fill.end() if fill else place
    sized = line_words.SIZES.match(text, after_fill)
    place = sized.end() if sized else after_fill
    filled = line_words.FILL.match(text, place) if sized else None
    place = filled.end() if filled else place
    unit = read_unit(text, place)
    if unit is None or (needs_food(unit[0]) and not food_follows(text, unit[1])):
        return replace(measure, end=after_of(text, measure.end))
    if unit[0].key == "each":
        return replace(measure, end=unit[1])
    twice = read_unit(text, skip_space(text, unit[1]))
    end = twice[1] if twice is not None and twice[0] is unit[0] and food_follows(text, twice[1]) else unit[1]
    size = number["size"] if number else sized["size"] if sized else ""
    return replace(
        measure,
        unit=unit[0].key,
        end=after_of(text, end),
        hedge=", ".join(found.group().strip(" ,") for found in (fill, filled) if found),
        size=measure.size or size,
        word=_word(text, place, unit[1]),
    )


def _word(text: str, start: int, end: int) -> str:
    return text[start:end].strip(" -")


def _or_two(text: str, measure: Measure) -> Measure:
    """Read "a pinch or two of sugar" as one to two."""
    found = _OR_TWO.match(text, measure.end) if measure.unit and measure.low == measure.high == 1 else None
    if found is None:
        return measure
    high = {"two": 2, "three": 3}.get(found[1].lower(), 1)
    return replace(measure, high=Fraction(high), end=after_of(text, found.end()))


def _together(text: str, measure: Measure) -> Measure:
    """Add what is joined on: ``1 lb 4 oz``, ``2 cups plus 2 tbsp``, ``1 cup minus 1 tbsp``, ``200 g - 250 g``."""
    for _ in range(4):
        if not measure.unit or UNITS[measure.unit].per_base is None:
            return measure
        joined = _range_of_measures(text, measure) or _sum_of_measures(text, measure)
        if joined is None:
            return measure
        measure = joined
    return measure


def _range_of_measures(text: str, measure: Measure) -> Measure | None:
    """Read "200 g - 250 g"; "2 tbsp or 30 ml" says the same twice, and is no range."""
    dash = _TO.match(text, measure.end)
    other = _simple(text, dash.end()) if dash and measure.low == measure.high else None
    if other is None or not other.unit or other.size:
        return None
    try:
        high = convert(other.high, other.unit, measure.unit)
    except CannotConvert:
        return None
    if other.unit != measure.unit and abs(high - measure.low) * 8 < measure.low:
        return None
    return replace(measure, low=min(measure.low, high), high=max(measure.low, high), end=other.end)


def _sum_of_measures(text: str, measure: Measure) -> Measure | None:
    plus, minus = _PLUS.match(text, measure.end), _MINUS.match(text, measure.end)
    start = minus.end() if minus else plus.end() if plus else skip_space(text, measure.end)
    other = _simple(text, start)
    if other is None or not other.unit or other.size:
        return None
    if other.unit == measure.unit and not (plus or minus):
        return replace(measure, end=other.end) if (other.low, other.high) == (measure.low, measure.high) else None
    return _added(measure, other, -1 if minus else 1)


def _added(measure: Measure, other: Measure, sign: int) -> Measure | None:
    try:
        low = measure.low + sign * convert(other.low, other.unit, measure.unit)
        high = measure.high + sign * convert(other.high, other.unit, measure.unit)
    except CannotConvert:
        return None
    parts = measure.parts or (AmountFacts(measure.low, measure.high, measure.unit),)
    added = AmountFacts(sign * other.low, sign * other.high, other.unit)
    return replace(measure, low=low, high=high, end=other.end, parts=(*parts, added)) if low > 0 else None


def stands_alone(text: str, start: int, measure: Measure) -> bool:
    """Say whether the number is an amount at all: "5-spice", "1:1 syrup" and "half-fat" are names."""
    if measure.unit or measure.size:
        return True
    following = _LETTER_AFTER.match(text, measure.end)
    glued = measure.end > start and text[measure.end - 1 : measure.end].strip() != ""
    return not (following and glued)
