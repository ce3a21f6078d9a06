"""How a serving's cost moves when a price does, and when something else is bought, or more people eat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.causes import Cause, causes
from costing.domain.priced import bought_lines
from costing.domain.sheet import ServingCost, Sheet

STEP = Fraction(1, 10)


@dataclass(frozen=True)
class Pull:
    """By how much a serving's cost moves when the price of one thing moves by a tenth; an empty name is electricity."""

    food: str
    each: Fraction


@dataclass(frozen=True)
class WhatIf:
    """What a serving costs on two sheets, and the causes that add up exactly to the difference."""

    before: ServingCost
    after: ServingCost
    why: tuple[Cause, ...]


def pulls(sheet: Sheet) -> tuple[Pull, ...]:
    """Return how a serving moves with each price, the strongest first; seasoning follows the ingredients.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from costing.domain.electricity import UNCOOKED
    >>> from costing.domain.facts import CostFacts, CostLine
    >>> from costing.domain.sheet import make_sheet
    >>> lines = tuple(CostLine(food, food=food, cost=Fraction(cost), low=Fraction(1)) for food, cost in (("oil", 1), ("rice", 3)))
    >>> sheet = make_sheet(CostFacts(2, "EUR", date(2026, 10, 14), "newest", lines), 2, UNCOOKED)
    >>> [(pull.food, float(pull.each)) for pull in pulls(sheet)]
    [('rice', 0.15), ('oil', 0.05)]
    """
    season = 1 + Fraction(sheet.facts.allowance_pct) / 100
    costs: dict[str, Fraction] = {}
    for one in bought_lines(sheet.lines):
        food = one.line.food or one.line.words
        costs[food] = costs.get(food, Fraction(0)) + one.cost * season
    costs[""] = sheet.electricity.cost or Fraction(0)
    found = [Pull(food, cost * STEP / sheet.servings) for food, cost in costs.items() if cost]
    return tuple(sorted(found, key=lambda pull: -pull.each))


def compare(before: Sheet, written: Sheet, asked: Sheet) -> WhatIf:
    """Return why a serving of one sheet costs another sum than of another.

    Parameters
    ----------
    before : Sheet
        The recipe as it is, for its own servings.
    written, asked : Sheet
        With what is changed, for the recipe's own servings and for those asked for: what the group makes is told last.
    """
    why: Sequence[Cause] = causes(before.facts, written.facts, (before.electricity, written.electricity))
    group = Cause("group", "", asked.per_serving - written.per_serving)
    told = tuple(cause for cause in (*why, group) if cause.each)
    then, now = (ServingCost(one.per_serving, one.facts.currency, one.at_least) for one in (before, asked))
    return WhatIf(then, now, told)
