"""A fruit of which only a part goes into the food: the juice of a lemon, the zest of an orange."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from kitchen.domain.facts import LineFacts
from kitchen.domain.reference import ReferenceFood

_JUICE = re.compile(r"\bjuice[ds]?\b", re.IGNORECASE)
_ZEST = re.compile(r"\b(?:zest(?:ed)?|rind|(?:grated|pared) peel|peel of)\b", re.IGNORECASE)
_PULP = re.compile(r"\b(?:pulp|seeds only)\b", re.IGNORECASE)
_BESIDE_IT = re.compile(r"\b(?:with|in)\s+(?:(?:its|their|the|own)\s+)*juices?\b", re.IGNORECASE)
_WHOLE_ONES = frozenset({"", "each", "piece"})


def part_meant(line: LineFacts) -> str:
    """Return which part of whole fruit a line means: ``"juice"``, ``"zest"``, ``"zest and juice"``, ``"pulp"``, or nothing.

    Notes
    -----
    Where the line is linked to the part itself ("lemon juice"), or gives a weight or a spoon, the whole of it is meant.

    Examples
    --------
    >>> [part_meant(LineFacts("", name="lemons", note=note)) for note in ("juice", "zested and juiced", "zest only", "sliced")]
    ['juice', 'zest and juice', 'zest', '']
    >>> part_meant(LineFacts("", name="tomatoes", note="with their juice"))
    ''
    >>> part_meant(LineFacts("", unit="tbsp", name="lemon juice"))
    ''
    """
    if line.unit not in _WHOLE_ONES or (
        line.food is not None and (_JUICE.search(line.food.name) or _ZEST.search(line.food.name))
    ):
        return ""
    words = _BESIDE_IT.sub("", f"{line.name}, {line.note}")
    if _PULP.search(words):
        return "pulp"
    return " and ".join(part for part, pattern in (("zest", _ZEST), ("juice", _JUICE)) if pattern.search(words))


def juice_row(line: LineFacts, reference: Iterable[ReferenceFood]) -> ReferenceFood | None:
    """Return the reference food that the fruit's juice is, where the table tells what one fruit yields.

    References
    ----------
    USDA SR28: a lemon yields 48 g of juice (9152), a lime 44 g (9160), an orange 86 g (9206).

    Examples
    --------
    >>> from kitchen.domain.facts import FoodFacts
    >>> from kitchen.reference import load_reference
    >>> lemon = juice_row(LineFacts("1 lemon, juice", food=FoodFacts("lemon")), load_reference())
    >>> (lemon.name, lemon.g_per_each), juice_row(LineFacts("1 apple, juice", food=FoodFacts("apple")), load_reference())
    (('lemon juice', 48.0), None)
    """
    wanted = None if line.food is None else f"{line.food.name} juice"
    return next((row for row in reference if row.name == wanted and row.g_per_each), None)


def as_juice(line: LineFacts, row: ReferenceFood) -> LineFacts:
    """Return the line as one of so many fruits' worth of juice."""
    return replace(line, food=row.facts(), unit="", size="", also=())
