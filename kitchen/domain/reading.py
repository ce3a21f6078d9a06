"""How an ingredient line was read: its amounts and its food, ready for the tables."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from kitchen.domain.lines import ParsedLine, parse_line
from kitchen.domain.matching import SURE_ENOUGH, FoodIndex, best_food
from kitchen.domain.rules import default_rule
from kitchen.domain.systems import meant_at

MOST_DIGITS = 24
_LONGEST = {"unit": 24, "name": 160, "note": 200, "size": 60}


@dataclass(frozen=True)
class LineReading:
    """What the cook's words mean; ``food`` is one of the foods that were offered, or None.

    ``sure`` is how sure the link to the food is, from 0 to 1; None where there is none, and where the cook chose.
    ``evaporated_ml`` is what boils off of a simmering liquid in one batch; only the cook says it.
    """

    low: Fraction | None = None
    high: Fraction | None = None
    unit: str = ""
    name: str = ""
    note: str = ""
    size: str = ""
    also: tuple[Any, ...] = ()
    rule: str = "proportional"
    optional: bool = False
    to_taste: bool = False
    food: Any = None
    sure: float | None = None
    evaporated_ml: float | None = None


def read_line(text: str, foods: Iterable[Any] | FoodIndex[Any], home: str = "written") -> LineReading:
    """Return how a line of text reads, with the food it most likely means.

    Parameters
    ----------
    text : str
        One ingredient line as typed.
    foods : FoodIndex, or foods
        Foods to choose from, each with ``name``, ``aliases`` and ``aisle``; an index where several lines are read.
    home : str
        The measures of the kitchen where it was typed: an Australian tablespoon and a British pint are larger.

    Notes
    -----
    A food that matches with less than 60 % confidence is not taken: a line without a food says so on the bench, a line with
    the wrong food says something false on the page. Words longer than the tables hold are cut, and an amount of more digits than
    they hold is no amount; the text as typed is kept whole.
    """
    line = _at_home(parse_line(text), home)
    found = best_food(line.name, foods, line.unit, line.note) if line.name and not line.heading else None
    food, sure = found if found is not None and found[1] >= SURE_ENOUGH else (None, None)
    low, high = (end if end is None or _can_be_kept(end) else None for end in (line.low, line.high))
    words = {key: getattr(line, key)[:longest] for key, longest in _LONGEST.items()}
    return LineReading(
        low=low if high is not None else None,
        high=high if low is not None else None,
        also=tuple(line.also),
        optional=line.optional,
        to_taste=line.to_taste,
        rule=default_rule(line, getattr(food, "aisle", "") if food is not None else None),
        food=food,
        sure=sure,
        **words,
    )


# "2 US pints": the cook said whose.
_SAYS_WHOSE = re.compile(r"\b(?:U\.?S\.?A?|american)\s+(?:cup|fl|gal|pint|pt|table|tbs)", re.IGNORECASE)


def _at_home(line: ParsedLine, home: str) -> ParsedLine:
    if _SAYS_WHOSE.search(line.text):
        return line
    also = tuple(replace(other, unit=meant_at(home, other.unit)) for other in line.also)
    return replace(line, unit=meant_at(home, line.unit), also=also)


def _can_be_kept(amount: Fraction) -> bool:
    return max(abs(amount.numerator), amount.denominator) < int(10**MOST_DIGITS)
