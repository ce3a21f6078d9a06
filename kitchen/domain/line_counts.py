"""Reading how many: a number in figures or in words, such as "2½", "one and a half", "half a dozen"."""

from __future__ import annotations

import re
from fractions import Fraction

from kitchen.domain.amounts import read_number
from kitchen.domain.line_words import ARTICLES, FIGURES, GROUPS, NUMBER_WORDS, PART_WORDS

_SPACE = re.compile(r"\s*")
_WORD = re.compile(r"[^\W\d_]+(?:-[^\W\d_]+)*")
_OF = re.compile(r"\s*(?:of\s+){1,2}(?:(?:a|an|the)\s+)?", re.IGNORECASE)
_AND_PART = re.compile(
    r"\s+and\s+(?:(?:a|one)[\s-]+)?(half|quarter|third|fourth)\b|\s+and\s+(?:three)[\s-]+(quarters|fourths)\b", re.IGNORECASE
)
_DOZEN = re.compile(r"\s+(?:a\s+)?doz(?:en\b|\b\.?)", re.IGNORECASE)
_FIGURE = frozenset(FIGURES)


def skip_space(text: str, start: int) -> int:
    """Return the first place at or after ``start`` that is no white space."""
    found = _SPACE.match(text, start)
    return found.end() if found else start


def after_of(text: str, end: int) -> int:
    """Return the place behind "of", "of a" or "of the" where one follows and something comes after it."""
    found = _OF.match(text, end)
    return found.end() if found and found.end() < len(text) else end


def read_count(text: str, start: int) -> tuple[Fraction, int] | None:
    """Return a number in figures or in words and where it ends, or None.

    Examples
    --------
    >>> [str(read_count(text, 0)[0]) for text in ("2½", "one and a half", "half a dozen", "2 and a half", "three-fourths")]
    ['5/2', '3/2', '6', '5/2', '3/4']
    """
    first = text[start : start + 1]
    if first.isalpha():
        return _read_words(text, start)
    if not (first.isdecimal() or first in _FIGURE or first == "."):
        return None
    found = read_number(text, start)
    return None if found is None else _and_a_half(text, *found)


def is_article(text: str, start: int, end: int) -> bool:
    """Say whether the number is only "a" or "an"."""
    return text[start:end].lower() in ARTICLES


def _read_words(text: str, start: int) -> tuple[Fraction, int] | None:
    found = _WORD.match(text, start)
    word = found.group().lower() if found else ""
    if found is None or word not in NUMBER_WORDS:
        return None
    value, end = NUMBER_WORDS[word], found.end()
    following = _WORD.match(text, skip_space(text, end))
    next_word = following.group().lower() if following else ""
    if following and next_word in PART_WORDS and (word not in PART_WORDS or next_word in GROUPS):
        value, end, word = value * PART_WORDS[next_word], following.end(), next_word
    elif following and word == "half" and next_word in ARTICLES:
        dozen = _DOZEN.match(text, following.end())
        value, end = (value * 12, dozen.end()) if dozen else (value, following.end())
    elif word in ("a", "an", "one", "two") and next_word in NUMBER_WORDS and next_word not in ARTICLES and following:
        value, end = value * NUMBER_WORDS[next_word] if NUMBER_WORDS[next_word] < 1 else NUMBER_WORDS[next_word], following.end()
    if word in GROUPS:
        end = _after_group(text, end)
    return _and_a_half(text, value, end)


def _after_group(text: str, end: int) -> int:
    return after_of(text, end + 1 if text[end : end + 1] == "." else end)


def _and_a_half(text: str, value: Fraction, end: int) -> tuple[Fraction, int]:
    found = _AND_PART.match(text, end) if value >= 1 else None
    if found is None:
        return value, end
    part = PART_WORDS[found[1].lower()] if found[1] else Fraction(3, 4)
    return value + part, found.end()
