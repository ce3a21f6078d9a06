"""A line's cost for the servings asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any

from costing.domain.facts import CostLine
from kitchen.domain.rules import is_hot
from kitchen.domain.scaling import scale


@dataclass(frozen=True)
class PricedLine:
    """A line with its exact cost for the servings asked for; ``ratio`` is its amount over the recipe's own amount.

    ``taken`` is what is charged to it of what it would take alone: less where parts of one thing share it.
    """

    line: CostLine
    cost: Fraction
    ratio: Fraction
    taken: Fraction = Fraction(1)

    @property
    def bought(self) -> Fraction:
        """What is bought for it, in the line's base."""
        return (self.line.bought or Fraction(0)) * self.ratio * self.taken


def priced_line(line: CostLine, k: Fraction, batches: int = 1, *, closed: bool = False) -> PricedLine:
    """Return a line as it costs at ``k`` times the servings.

    Examples
    --------
    >>> float(priced_line(CostLine("rice", cost=Fraction(2), low=Fraction(1)), Fraction(3)).cost)
    6.0
    """
    ratio = amount_ratio(line, k, batches, closed=closed)
    return PricedLine(line, (line.cost or Fraction(0)) * ratio, ratio)


def bought_lines(priced: Iterable[PricedLine]) -> Iterator[PricedLine]:
    """Yield what is bought for the lines: for one that is made by another recipe, that recipe's lines in its share.

    Examples
    --------
    >>> from costing.domain.facts import MadeCost
    >>> leek = CostLine("leek", cost=Fraction(2), bought=Fraction(1), low=Fraction(1))
    >>> stock = CostLine("stock", cost=Fraction(1), made=MadeCost("stock", "Stock", 1, 4, Fraction(1, 2), (leek,)))
    >>> [(one.line.words, float(one.cost), float(one.bought)) for one in bought_lines([priced_line(stock, Fraction(3))])]
    [('leek', 3.0, 1.5)]
    """
    for one in priced:
        if one.line.made is None:
            yield one
            continue
        part = one.line.made.share * one.ratio
        inner = sharing([priced_line(line, Fraction(1)) for line in one.line.made.lines if line.counted])
        yield from bought_lines(replace(held, cost=held.cost * part, ratio=held.ratio * part) for held in inner)


def sharing(lines: Sequence[PricedLine]) -> tuple[PricedLine, ...]:
    """Return the lines with what they share charged once: the juice and the zest of one lemon take one lemon.

    Notes
    -----
    Things needed = the largest need of any part; the parts split it by the owner's shares, equally by default.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> from costing.domain.facts import QuoteFacts
    >>> lemon = QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("0.50"), Fraction(1), "", 1, stale=False)
    >>> parts = [CostLine(part, cost=Fraction(1, 2), bought=Fraction(1), joint=part, quote=lemon) for part in ("juice", "zest")]
    >>> [str(one.cost) for one in sharing([priced_line(line, Fraction(1)) for line in parts])]
    ['1/4', '1/4']
    """
    alone: dict[tuple[object, str], dict[str, Fraction]] = {}
    for one in lines:
        if one.line.joint:
            parts = alone.setdefault((one.line.quote, one.line.food), {})
            parts[one.line.joint] = parts.get(one.line.joint, Fraction(0)) + one.bought
    shares = {(one.line.quote, one.line.food, one.line.joint): one.line.share for one in lines if one.line.joint}
    return tuple(_shared(one, alone, shares) for one in lines)


def _shared(one: PricedLine, alone: Mapping[Any, Mapping[str, Fraction]], shares: Mapping[Any, Decimal | None]) -> PricedLine:
    key = (one.line.quote, one.line.food)
    parts = alone.get(key, {})
    if not one.line.joint or len(parts) < 2 or not parts[one.line.joint]:
        return one
    told = {part: shares[(*key, part)] for part in parts}
    whole = all(told.values())
    share = {part: Fraction(told[part] or 0) if whole else Fraction(1) for part in parts}
    taken = share[one.line.joint] / sum(share.values()) * max(parts.values()) / parts[one.line.joint]
    return replace(one, cost=one.cost * taken, taken=taken)


def amount_ratio(line: CostLine, k: Fraction, batches: int = 1, *, closed: bool = False) -> Fraction:
    """Return how much more of a line is used at ``k`` times the servings, by the line's own scaling rule.

    Examples
    --------
    >>> fixed = CostLine("oil for the pan", rule="fixed", low=Fraction(5), high=Fraction(5))
    >>> amount_ratio(fixed, Fraction(2)), amount_ratio(CostLine("rice", low=Fraction(2), high=Fraction(3)), Fraction(2))
    (Fraction(1, 1), Fraction(2, 1))
    """
    if line.low is None or (k == 1 and batches == 1):
        return k
    high = line.low if line.high is None else line.high
    if not line.low + high:
        return Fraction(1)
    lost = Fraction(0) if closed or line.evaporated is None else line.evaporated
    scaled = scale(line.low, high, line.rule, k, batches=batches, hot=is_hot(line.words), evaporated=lost)
    return (scaled.low + scaled.high) / (line.low + high)
