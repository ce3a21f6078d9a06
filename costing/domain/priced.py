"""A line's cost for the servings asked for."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from costing.domain.facts import CostLine
from kitchen.domain.rules import is_hot
from kitchen.domain.scaling import scale


@dataclass(frozen=True)
class PricedLine:
    """A line with its exact cost for the servings asked for; ``ratio`` is its amount over the recipe's own amount."""

    line: CostLine
    cost: Fraction
    ratio: Fraction


def priced_line(line: CostLine, k: Fraction, batches: int = 1, *, closed: bool = False) -> PricedLine:
    """Return a line as it costs at ``k`` times the servings.

    Examples
    --------
    >>> float(priced_line(CostLine("rice", cost=Fraction(2), low=Fraction(1)), Fraction(3)).cost)
    6.0
    """
    ratio = amount_ratio(line, k, batches, closed=closed)
    return PricedLine(line, (line.cost or Fraction(0)) * ratio, ratio)


def amount_ratio(line: CostLine, k: Fraction, batches: int = 1, *, closed: bool = False) -> Fraction:
    """Return how much more of a line is used at ``k`` times the servings, by the line's own scaling rule.

    Examples
    --------
    >>> fixed = CostLine("oil for the pan", rule="fixed", low=Fraction(5), high=Fraction(5))
    >>> amount_ratio(fixed, Fraction(2)), amount_ratio(CostLine("rice", low=Fraction(2), high=Fraction(3)), Fraction(2))
    (Fraction(1, 1), Fraction(2, 1))
    """
    if line.low is None:
        return k
    high = line.low if line.high is None else line.high
    if not line.low + high:
        return Fraction(1)
    lost = Fraction(0) if closed or line.evaporated is None else line.evaporated
    scaled = scale(line.low, high, line.rule, k, batches=batches, hot=is_hot(line.words), evaporated=lost)
    return (scaled.low + scaled.high) / (line.low + high)
