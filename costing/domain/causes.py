"""Why a serving costs another sum than it did: causes that add up exactly to the difference."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from costing.domain.facts import CostFacts, CostLine, QuoteFacts
from costing.domain.priced import priced_line, sharing
from kitchen.domain.money import places_of, round_half_up


@dataclass(frozen=True)
class Cause:
    """One reason, and what it adds to a serving.

    ``kind``: ``price``, ``yield``, ``amount``, ``line``, ``coverage``, ``allowance`` or ``shared``. ``what`` is the food or the
    line; of a price ``before`` and ``after`` are both quotes.
    """

    kind: str
    what: str
    each: Fraction
    before: QuoteFacts | None = None
    after: QuoteFacts | None = None


def causes(then: CostFacts, now: CostFacts) -> tuple[Cause, ...]:
    """Return why a serving's ingredients cost more or less by the newer facts, the largest cause first.

    Notes
    -----
    A line's cost is amount / yield x price. The amount is changed first, then the yield, then the price; what parts of one thing
    share stands apart. The causes add up exactly to the difference of the two exact sums.

    Examples
    --------
    >>> from datetime import date
    >>> from decimal import Decimal
    >>> def sheet(price, day):
    ...     quote = QuoteFacts("Mill Lane", date(2026, 10, day), Decimal(price), Fraction(1000), "g", 1, stale=False)
    ...     line = CostLine("rice", food="rice", cost=Fraction(price) / 2, bought=Fraction(500), base="g", quote=quote)
    ...     return CostFacts(2, "EUR", quote.day, "newest", (line,))
    >>> [(cause.kind, cause.what, str(cause.each)) for cause in causes(sheet("2", 1), sheet("3", 9))]
    [('price', 'rice', '1/4')]
    """
    found = list(_of_lines(then, now))
    allowed = _each(now) * Fraction(now.allowance_pct) / 100 - _each(then) * Fraction(then.allowance_pct) / 100
    found.append(Cause("allowance", "", allowed))
    whole = _each(now) - _each(then) + allowed
    found.append(Cause("shared", "", whole - sum((cause.each for cause in found), Fraction(0))))
    return tuple(sorted((cause for cause in found if cause.each), key=lambda cause: -abs(cause.each)))


def printed(parts: Sequence[Cause], currency: str) -> list[tuple[Cause, Fraction]]:
    """Return the causes with sums of whole coins that add up to the printed difference: the largest remainders round up.

    Examples
    --------
    >>> thirds = [Cause("price", food, Fraction(1, 300)) for food in ("rice", "oil", "salt")]
    >>> [str(shown) for _, shown in printed(thirds, "EUR")]
    ['1/100', '0', '0']
    """
    coin = Fraction(1, 10 ** places_of(currency))
    whole = Fraction(round_half_up(sum((cause.each for cause in parts), Fraction(0)), places_of(currency)))
    floors = [cause.each // coin * coin for cause in parts]
    missing = int((whole - sum(floors, Fraction(0))) / coin)
    order = sorted(range(len(parts)), key=lambda place: floors[place] - parts[place].each)
    raised = set(order[:missing])
    return [(cause, floors[place] + (coin if place in raised else 0)) for place, cause in enumerate(parts)]


def _each(facts: CostFacts) -> Fraction:
    lines = sharing([priced_line(line, Fraction(1)) for line in facts.lines if line.counted])
    return sum((priced.cost for priced in lines), Fraction(0)) / facts.servings


def _of_lines(then: CostFacts, now: CostFacts) -> Iterable[Cause]:
    before = defaultdict(list)
    for line in then.lines:
        before[line.food or line.words].append(line)
    for line in now.lines:
        same = before[line.food or line.words]
        yield from _of_line(same.pop(0) if same else None, line, then.servings, now.servings)
    for left in before.values():
        for line in left:
            yield Cause("line", line.words, -_alone(line) / then.servings)


def _of_line(old: CostLine | None, new: CostLine, then: int, now: int) -> Iterable[Cause]:
    food = new.food or new.words
    if old is None:
        yield Cause("line", new.words, _alone(new) / now)
    elif not (old.counted and new.counted):
        yield Cause("coverage", food, _alone(new) / now - _alone(old) / then)
    elif old.base != new.base or not old.bought or not new.bought:
        yield Cause("price", food, _alone(new) / now - _alone(old) / then, old.quote, new.quote)
    else:
        used = [_edible(old) / then, _edible(new) / now]
        part = [Fraction(100) / Fraction(line.yield_pct or 100) for line in (old, new)]
        price = [_alone(line) / (line.bought or 1) for line in (old, new)]
        yield Cause("amount", food, (used[1] - used[0]) * part[0] * price[0])
        yield Cause("yield", food, used[1] * (part[1] - part[0]) * price[0])
        yield Cause("price", food, used[1] * part[1] * (price[1] - price[0]), old.quote, new.quote)


def _edible(line: CostLine) -> Fraction:
    return (line.bought or Fraction(0)) * Fraction(line.yield_pct or 100) / 100


def _alone(line: CostLine) -> Fraction:
    return line.cost if line.counted and line.cost is not None else Fraction(0)
