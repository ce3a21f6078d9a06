"""What a recipe makes, as pages say it: "4", "Serves 4-6", "Makes 12 muffins", "one loaf"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from kitchen.importers.found import ReadYield
from kitchen.importers.wording import one_line

MOST_SERVINGS = 500
_LONGEST_READ = 200
_SHOWN = 80
_LABEL = re.compile(
    r"^(?:recipe\s+)?(?:yields?|servings?|serves|makes|portions?|for|number\s+of\s+(?:servings|portions)|quantity)\s*[:=–-]\s*",
    re.IGNORECASE,
)
_WORD_NUMBERS = {
    **{
        "a": 1,
        "an": 1,
        "one": 1,
        "two": 2,
        "three": 3,
        "four": 4,
        "five": 5,
        "six": 6,
        "seven": 7,
        "eight": 8,
        "nine": 9,
        "ten": 10,
    },
    **{"eleven": 11, "twelve": 12, "dozen": 12, "sixteen": 16, "eighteen": 18, "twenty": 20, "twenty-four": 24},
}
_NUMBER = re.compile(
    r"(?<![\d/.,])(?P<digits>\d{1,4}(?:[.,]\d{1,2})?)(?![\d/])|\b(?P<word>"
    + "|".join(sorted(_WORD_NUMBERS, key=len, reverse=True))
    + r")\b",
    re.IGNORECASE,
)
_SERVING = re.compile(r"serv|portion|people|person|pers\b|guest|diner|adult|child", re.IGNORECASE)
_COUNTED_SERVINGS = re.compile(
    r"(?:serv(?:es|ings?(?:\s+size)?)|feeds|portions?(?:\s+for)?|for)\s*:?\s*(?:about|around|approx\.?"
    r"|up\s+to)?\s*(?P<after>\d{1,3})\b"
    r"|(?<![\d/.,])(?P<before>\d{1,3})(?:\s*(?:-|–|—|to)\s*\d{1,3})?\s*(?:\+\s*)?(?:\w+\s+)?(?:servings?"
    r"|portions?|people|persons?|pers\b|guests?|adults?)",
    re.IGNORECASE,
)
# One of these feeds several: as a number of servings it would be wrong.
_WHOLE = re.compile(
    r"\b(?:loaf|loaves|cakes?|pies?|tarts?|batch(?:es)?|cups?|lit(?:er|re)s?|quarts?|pints?|gallons?|jars?"
    r"|bottles?|pans?|trays?|tins?|dish(?:es)?"
    r"|casseroles?|pizzas?|bundts?|cheesecakes?|ml|g|kg|oz|ounces?|grams?|lbs?|pounds?|tablespoons?|tbsp"
    r"|teaspoons?|inch(?:es)?|cm)\b",
    re.IGNORECASE,
)


def read_yield(values: Iterable[Any]) -> ReadYield:
    """Return what a recipe makes, from the ways in which its page says it.

    The number of servings is preferred to a number of other things; of a range ("4-6") the first is taken, as everywhere.

    Examples
    --------
    >>> read_yield(["4", "4 servings"])
    ReadYield(number=4, words='4 servings')
    >>> [read_yield([each]).number for each in ("Serves 4-6", "Makes 12 muffins", "Yield: 6", "four", "1 loaf", 8)]
    [4, 12, 6, 4, 1, 8]
    """
    said = [(_plain_words(value), value) for value in values]
    worded = [words for words, _ in said if words]
    if not worded:
        return ReadYield()
    number = next((found for words in worded if (found := _servings(words)) is not None), None)
    if number is None:
        number = next((found for words in worded if (found := _count(words)) is not None), None)
    telling = [words for words in worded if re.search(r"[^\W\d_]", words)]
    return ReadYield(number, (telling or worded)[0])


def _plain_words(value: Any) -> str:
    if isinstance(value, bool) or value is None:
        return ""
    if isinstance(value, float):
        value = f"{value:g}" if abs(value) < 1e6 else ""
    text = _LABEL.sub("", one_line(str(value)[:_LONGEST_READ])).strip(" .,;:")
    return text if len(text) <= _SHOWN else f"{text[: _SHOWN - 1].rstrip()}…"


def _servings(words: str) -> int | None:
    found = _COUNTED_SERVINGS.search(words)
    return _fitting(float(found["after"] or found["before"])) if found else None


def _count(words: str) -> int | None:
    for found in _NUMBER.finditer(words):
        word = (found["word"] or "").lower()
        if word in ("a", "an") and found.start() > 12:
            continue
        number = _fitting(float(_WORD_NUMBERS[word]) if word else float(found["digits"].replace(",", ".")))
        if number is not None:
            if words[found.end() :].lower().startswith(" dozen"):
                return _fitting(float(number * 12))
            return number
    return None


def _fitting(number: float) -> int | None:
    return int(number) if 1 <= number <= MOST_SERVINGS else None


def makes_wholes(makes: ReadYield) -> bool:
    """Say whether the number counts loaves, cakes or cups, each of which may feed several people.

    Examples
    --------
    >>> [makes_wholes(ReadYield(1, words)) for words in ("1 loaf", "one pot", "1 serving")]
    [True, True, False]
    """
    if _SERVING.search(makes.words):
        return False
    return bool(_WHOLE.search(makes.words)) or (makes.number == 1 and any(map(str.isalpha, makes.words)))
