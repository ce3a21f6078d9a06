"""Recipes as ingredients: how much of what another recipe makes a line takes, and all the lines that are behind it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from kitchen.domain.facts import LineFacts
from kitchen.domain.foods import line_amount
from kitchen.domain.units import UNITS, to_base

PORTIONS = ("portion", "serving")


def share_of(line: LineFacts, servings: int, serving_g: float | None) -> Fraction | None:
    """Return how much a line takes of what a recipe makes, or None where that is not known.

    Parameters
    ----------
    line : LineFacts
        Its amount in portions, or in any unit of mass; of a range the mean of both ends.
    servings : int >= 1
        What the recipe makes. [-]
    serving_g : float or None
        What one of its servings weighs, where its cook said so. [g]

    Notes
    -----
    Nothing is guessed: a litre of stock has a share only where somebody weighed a serving and the line is in grams.

    Examples
    --------
    >>> stock = LineFacts("200 g stock", Fraction(200), Fraction(200), "g")
    >>> share_of(stock, 4, 250.0), share_of(stock, 4, None)
    (Fraction(1, 5), None)
    >>> share_of(LineFacts("2 portions of dough", Fraction(2), Fraction(2), "portion"), 8, None)
    Fraction(1, 4)
    """
    amount = line_amount(line)
    if amount is None or amount <= 0:
        return None
    if line.unit in PORTIONS:
        return amount / servings
    unit = UNITS.get(line.unit)
    if unit is None or unit.dimension != "mass" or not serving_g:
        return None
    return to_base(amount, line.unit)[0] / (Fraction(str(serving_g)) * servings)


def with_made(lines: Iterable[LineFacts]) -> Iterator[LineFacts]:
    """Yield the lines, each followed by those of the recipe that it is made by, however deep.

    Examples
    --------
    >>> from kitchen.domain.facts import MadeFacts
    >>> stock = MadeFacts("stock", "Stock", 1, 4, lines=(LineFacts("1 leek"),))
    >>> [line.text for line in with_made([LineFacts("200 g stock", made=stock)])]
    ['200 g stock', '1 leek']
    """
    for line in lines:
        yield line
        if line.made is not None:
            yield from with_made(line.made.lines)
