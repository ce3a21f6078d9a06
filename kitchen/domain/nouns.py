"""Singular and plural of kitchen nouns: enough to write "2 onions" and to find "onion" under it."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import lru_cache

_IRREGULAR = {
    "leaves": "leaf",
    "loaves": "loaf",
    "halves": "half",
    "calves": "calf",
    "knives": "knife",
    "potatoes": "potato",
    "tomatoes": "tomato",
    "mangoes": "mango",
    "avocadoes": "avocado",
    "chilies": "chilli",
    "chillies": "chilli",
    "chiles": "chilli",
    "chile": "chilli",
    "chili": "chilli",
    "chilis": "chilli",
    "olives": "olive",
    "cloves": "clove",
    "chives": "chive",
    "anchovies": "anchovy",
    "radishes": "radish",
    "peaches": "peach",
    "squashes": "squash",
    "sandwiches": "sandwich",
    "bunches": "bunch",
    "pinches": "pinch",
    "yoghurt": "yogurt",
    "yoghurts": "yogurt",
    "cookies": "cookie",
    "pies": "pie",
    "brownies": "brownie",
    "veggies": "veggie",
    "fries": "fry",
    "geese": "goose",
}
_SAME = frozenset(
    {"asparagus", "couscous", "hummus", "houmous", "molasses", "swiss", "citrus", "bass", "brussels", "grits", "glass", "gas"}
)
_PLURALS = {
    "leaf": "leaves",
    "loaf": "loaves",
    "half": "halves",
    "calf": "calves",
    "knife": "knives",
    "potato": "potatoes",
    "tomato": "tomatoes",
    "mango": "mangoes",
    "chilli": "chillies",
}
# Words that name a stuff rather than things: "3 butternut squash", "2 broccoli".
_NO_PLURAL = frozenset(
    re.findall(
        r"\w+",
        """
        squash broccoli garlic ginger celery fennel spinach kale rice flour sugar salt oil butter milk water cream
        stock broth fish salmon cod trout bread cheese ham bacon beef pork lamb parsley basil coriander cilantro anise garni
        thyme rosemary mint dill corn sweetcorn zest juice pasta couscous asparagus watercress cress hummus yogurt
        """,
    )
)


@lru_cache(maxsize=4096)
def singular(word: str) -> str:
    """Return the singular of a lower-case word; a word that is none already comes back unchanged.

    Examples
    --------
    >>> [singular(w) for w in ("tomatoes", "berries", "leaves", "radishes", "couscous", "carrots", "lentils", "cress")]
    ['tomato', 'berry', 'leaf', 'radish', 'couscous', 'carrot', 'lentil', 'cress']
    """
    if word in _IRREGULAR:
        return _IRREGULAR[word]
    if len(word) < 4 or word in _SAME or not word.endswith("s") or word.endswith(("ss", "us", "is")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "xes", "sses", "zes")):
        return word[:-2]
    return word[:-1]


_TAIL = re.compile(r"(?<=\w) (?:of|on|in|with) .*$")


def plural(word: str) -> str:
    """Return the plural of a singular name, as printed after a number above one; what follows "on" or "of" is left alone.

    Examples
    --------
    >>> [plural(w) for w in ("onion", "tomato", "berry", "radish", "leaf", "butternut squash", "red chilli", "leg of lamb")]
    ['onions', 'tomatoes', 'berries', 'radishes', 'leaves', 'butternut squash', 'red chillies', 'legs of lamb']
    """
    tail = _TAIL.search(word)
    if tail:
        return plural(word[: tail.start()]) + tail.group()
    head, space, last = word.rpartition(" ")
    return head + space + _plural_of_last(last)


def _plural_of_last(word: str) -> str:
    lower = word.lower()
    if lower in _PLURALS:
        return _PLURALS[lower]
    if lower in _NO_PLURAL or singular(lower) != lower or not lower.isalpha():
        return word
    if lower.endswith("y") and lower[-2:-1] not in "aeiou":
        return word[:-1] + "ies"
    return word + ("es" if lower.endswith(("ch", "sh", "x", "s", "z")) else "s")


def agree(name: str, written: Fraction | int, shown: Fraction | int) -> str:
    """Return the name in the number that goes with ``shown`` when it was written for ``written``; both are amounts.

    Only the change from "one" to "several" or back touches the name, so that the cook's own words stay as they are.

    Examples
    --------
    >>> agree("onion", 1, 3), agree("eggs", 4, 1), agree("onions", 2, 6), agree("ears of corn", 2, 1)
    ('onions', 'egg', 'onions', 'ear of corn')
    """
    was_one, is_one = written <= 1, shown <= 1
    if was_one == is_one or not name:
        return name
    if not is_one:
        return plural(name)
    tail = _TAIL.search(name)
    head, space, last = name[: tail.start() if tail else None].rpartition(" ")
    return head + space + (singular(last) if last.islower() else last) + (tail.group() if tail else "")
