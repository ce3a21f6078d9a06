"""Lengths of time as recipe pages give them: ISO 8601 durations, right and wrong ones, and words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from kitchen.importers.found import ReadTimes
from kitchen.importers.wording import one_line

LONGEST_MIN = 60 * 24 * 60
_N = r"(\d{1,9}(?:[.,]\d{1,9})?)"
# ISO 8601: P, then years, months, weeks and days, then T and hours, minutes, seconds. "T30M" and "P30M" stand on pages as well.
_ISO = re.compile(
    rf"-?P?(?:{_N}Y)?(?:{_N}M(?=.*T))?(?:{_N}W)?(?:{_N}D)?\s*(?:T?\s*(?:{_N}H)?\s*(?:{_N}M)?\s*(?:{_N}S)?)?$", re.IGNORECASE
)
_ISO_MIN = (525_600, 43_200, 10_080, 1440, 60, 1, 1 / 60)
_CLOCK = re.compile(r"(\d{1,3}):(\d{2})(?::\d{2})?$")
_WORD = re.compile(
    r"(?P<number>\d{1,6}(?:[.,]\d{1,4})?(?:\s+\d/\d{1,2}|\s?[½¼¾⅓⅔])?|\d/\d{1,2}|[½¼¾⅓⅔]|\b(?:an?|one|two|three"
    r"|four|five|six|half\s+an)\b)"
    r"(?:\s*(?:-|–|—|to|or)\s*(?P<high>\d{1,6}(?:[.,]\d{1,4})?(?:\s?[½¼¾⅓⅔])?))?"
    r"\s*\+?\s*-?\s*(?P<unit>weeks?|days?|d\b|hours?|hrs?(?=\b|\d)|h(?=\b|\d)|stunden?|std\b|heures?|horas?"
    r"|ore\b|or[ae]\b|uur|minut\w*|mins?\b|m(?=\b|\d)"
    r"|min\b|seconds?|secs?\b|s\b)",
    re.IGNORECASE,
)
_SIGNS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3}
_NUMBERS = {"a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0}
_LONGEST_READ = 200
_ASIDE = re.compile(r"\([^()]*\)")
_ISO_RANGE = re.compile(r"\s*[-–/]\s*(?=PT?\d)", re.IGNORECASE)
_BARE_END = re.compile(r"(?:(?<=h)|(?<=hr)|(?<=PT))\s?\d{1,3}$", re.IGNORECASE)


def read_minutes(value: Any) -> int | None:
    """Return a length of time in whole minutes, or None for what is none.

    Parameters
    ----------
    value : str, int or float
        An ISO 8601 duration, words ("1 hr 20 mins"), a clock ("1:20") or a number, which counts minutes.

    Notes
    -----
    Of a range the longer end is taken: who plans a meal needs that. More than 60 days is nobody's recipe and no time.
    Durations as in ISO 8601-1:2019, section 5.5.2.

    Examples
    --------
    >>> [read_minutes(each) for each in ("PT1H30M", "P0DT0H45M", "PT1.5H", "pt90m", "T30M", "1 hr and 20 mins", "20-25 min", 30)]
    [90, 45, 90, 90, 30, 80, 25, 30]
    >>> [read_minutes(each) for each in ("P0Y0M0DT0H35M0.000S", "PT0S", "overnight", "")]
    [35, 0, None, None]
    """
    if isinstance(value, bool) or value is None:
        return None
    if isinstance(value, int | float):
        return _whole(float(value)) if abs(value) < 1e9 else None
    text = one_line(str(value)[:_LONGEST_READ]).strip(" .,;~")
    text = _tidied(text)
    if not text:
        return None
    if re.fullmatch(r"\d{1,5}(?:[.,]\d{1,3})?", text):
        return _whole(float(text.replace(",", ".")))
    for read in (_iso, _clock, _summed_units):
        minutes = read(text)
        if minutes is not None:
            return _whole(minutes)
    return None


def _tidied(text: str) -> str:
    """Return a length without its asides in brackets, the longer end of a range of durations, and "1h30" with its "m"."""
    text = _ASIDE.sub(" ", text).strip() or text
    text = _ISO_RANGE.split(text)[-1]
    return _BARE_END.sub(r"\g<0>m", text)


def _whole(minutes: float) -> int | None:
    return round(minutes) if 0 <= minutes <= LONGEST_MIN else None


def _iso(text: str) -> float | None:
    found = _ISO.match(text)
    if found is None or not any(found.groups()) or not text.lstrip("-").upper().startswith(("P", "T")):
        return None
    return sum(float(number.replace(",", ".")) * size for number, size in zip(found.groups(), _ISO_MIN, strict=True) if number)


def _clock(text: str) -> float | None:
    found = _CLOCK.match(text)
    return float(found[1]) * 60 + float(found[2]) if found else None


def _summed_units(text: str) -> float | None:
    """Return the sum of the numbers that have a unit of time: "1 hour and 10 minutes"."""
    found = list(_WORD.finditer(text))
    if not found:
        return None
    return sum(_counted(match["high"] or match["number"]) * _unit_min(match["unit"].lower()) for match in found)


def is_only_a_length(text: str) -> bool:
    """Say whether a text is a length of time and nothing else.

    Examples
    --------
    >>> [is_only_a_length(text) for text in ("about 1 hour and 10 min", "35 minutes, then cool", "soon")]
    [True, False, False]
    """
    rest, found = _WORD.subn("", text)
    return bool(found) and not re.sub(r"about|approx\.?|around|and|[\s,.~+]", "", rest, flags=re.IGNORECASE)


def _counted(words: str) -> float:
    words = words.lower().strip()
    if words in _NUMBERS:
        return _NUMBERS[words]
    if words.startswith("half"):
        return 0.5
    total = 0.0
    for piece in re.findall(r"\d+/\d+|\d+(?:[.,]\d+)?|[½¼¾⅓⅔]", words):
        if "/" in piece:
            over, under = piece.split("/")
            total += float(over) / float(under) if float(under) else 0
        else:
            total += _SIGNS.get(piece) or float(piece.replace(",", "."))
    return total


def _unit_min(unit: str) -> float:
    if unit.startswith(("week", "day")) or unit == "d":
        return 10_080 if unit.startswith("week") else 1440
    if unit.startswith(("sec",)) or unit == "s":
        return 1 / 60
    return 60 if unit.startswith(("h", "st", "or", "u")) else 1


def read_times(prep: Iterable[Any], cook: Iterable[Any], total: Iterable[Any]) -> ReadTimes:
    """Return a recipe's times; a total that is missing, or zero, is the sum of the others.

    Where all say zero nobody filled them in, and they count as not said.
    """
    prep_min, cook_min, total_min = _first(map(_without_rest, prep)), _first(map(_without_rest, cook)), _first(total)
    if not any((prep_min, cook_min, total_min)):
        return ReadTimes()
    if total_min:
        return ReadTimes(prep_min, cook_min, total_min)
    return ReadTimes(prep_min, cook_min, (prep_min or 0) + (cook_min or 0), summed=True)


_REST = re.compile(
    r"\s*(?:\bplus\b|\+|\band\b|[,;])\s*[^,;+]{0,60}\b(?:rest|chill|marinat|soak|cool|prov|ris|freez|stand|overnight)\w*.*$",
    re.IGNORECASE,
)


def _without_rest(value: Any) -> Any:
    """Return a length without the waiting that is told behind it: "20 min plus 10 hours resting" is twenty minutes' work."""
    shorter = _REST.sub("", value[:_LONGEST_READ]) if isinstance(value, str) else value
    return shorter if read_minutes(shorter) else value


def _first(values: Iterable[Any]) -> int | None:
    """Return the first length of time above zero, else zero where one said so."""
    found = [minutes for minutes in map(read_minutes, values) if minutes is not None]
    return next((minutes for minutes in found if minutes), found[0] if found else None)
