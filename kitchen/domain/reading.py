"""How an ingredient line was read: its amounts and its food, ready for the tables."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from kitchen.domain.lines import parse_line
from kitchen.domain.matching import FoodIndex, best_food
from kitchen.domain.rules import default_rule

SURE_ENOUGH = 0.6
MOST_DIGITS = 24
_LONGEST = {"unit": 24, "name": 160, "note": 200, "size": 60}


@dataclass(frozen=True)
class LineReading:
    """What the cook's words mean; ``food`` is one of the foods that were offered, or None."""

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


def read_line(text: str, foods: Iterable[Any] | FoodIndex[Any]) -> LineReading:
    """Return how a line of text reads, with the food it most likely means.

    Parameters
    ----------
    text : str
        One ingredient line as typed.
    foods : FoodIndex, or foods
        Foods to choose from, each with ``name``, ``aliases`` and ``aisle``; an index where several lines are read.

    Notes
    -----
    A food that matches with less than 60 % confidence is not taken: a line without a food says so on the bench, a line with
    the wrong food says something false on the page. Words longer than the tables hold are cut, and an amount of more digits than
    they hold is no amount; the text as typed is kept whole.
    """
    line = parse_line(text)
    found = best_food(line.name, foods, line.unit) if line.name else None
    food = found[0] if found is not None and found[1] >= SURE_ENOUGH else None
    low, high = (end if end is None or _can_be_kept(end) else None for end in (line.low, line.high))
    words = {key: getattr(line, key)[:longest] for key, longest in _LONGEST.items()}
    return LineReading(
        low=low if high is not None else None,
        high=high if low is not None else None,
        also=tuple(line.also),
        optional=line.optional,
        to_taste=line.to_taste,
        rule=default_rule(line, food),
        food=food,
        **words,
    )


def _can_be_kept(amount: Fraction) -> bool:
    return max(abs(amount.numerator), amount.denominator) < int(10**MOST_DIGITS)
