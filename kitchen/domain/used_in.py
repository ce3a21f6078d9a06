"""In which steps of a method each ingredient is used, found by its words. Pure.

A step uses an ingredient that it names: by its whole name, by the last word of it ("oil" of "rapeseed oil"), or by another word
of it that no other ingredient has. Where nothing names it, no step is said to use it: the whole list stands before the first.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence

from kitchen.domain.nouns import singular
from kitchen.domain.search import fold

_TIMES = re.compile(r"(?:(\d+) h)? ?(?:(\d+(?:\.\d)?) min)?")
_SAYS_NOTHING = frozenset(
    (
        "a",
        "an",
        "and",
        "for",
        "fresh",
        "ground",
        "in",
        "large",
        "little",
        "more",
        "of",
        "or",
        "red",
        "small",
        "the",
        "to",
        "whole",
        "with",
    )
)


def used_in(steps: Sequence[str], names: Sequence[str]) -> list[tuple[int, ...]]:
    """Return for each step which ingredients it names, by their places.

    Examples
    --------
    >>> used_in(["Warm the oil, add the onions.", "Add squash and salt."], ["rapeseed oil", "onions", "butternut squash", "salt"])
    [(0, 1), (2, 3)]
    >>> used_in(["Boil the water."], ["lemon"])
    [()]
    """
    said = [_words(name) for name in names]
    held_by = Counter(word for words in said for word in set(words))
    return [
        tuple(place for place, words in enumerate(said) if words and _names(set(_words(step)), words, held_by)) for step in steps
    ]


def seconds_of(minutes: str) -> int | None:
    """Return a plain length of time in seconds, for a timer; None where it is a range, a guess or nothing. [s]

    Examples
    --------
    >>> seconds_of("8 min"), seconds_of("1 h 20 min"), seconds_of("12 to 16 min"), seconds_of("")
    (480, 4800, None, None)
    """
    found = _TIMES.fullmatch(minutes.replace("\u00a0", " ").strip())
    if found is None or not any(found.groups()):
        return None
    return round(int(found[1] or 0) * 3600 + float(found[2] or 0) * 60)


def _names(step: set[str], words: Sequence[str], held_by: Counter[str]) -> bool:
    return words[-1] in step or any(word in step and held_by[word] == 1 for word in words)


def _words(text: str) -> list[str]:
    return [singular(word) for word in fold(text).split() if word not in _SAYS_NOTHING and not word.isdigit()]
