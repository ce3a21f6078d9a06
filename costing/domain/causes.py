"""Why a serving costs another sum than it did: causes that add up exactly to the difference.

One thing is changed after the other, always in this order: of a line what is typed, what that weighs, its yields, its price; then
seasoning, watt-hours, the kilowatt-hour's price. Averaging over all orders would share what two changes make together fairly, and
nobody could check it with pencil and paper; so what they make together goes to the later one.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from costing.domain.electricity import UNCOOKED, Electricity
from costing.domain.facts import CostFacts, CostLine, QuoteFacts
from costing.domain.priced import priced_line, sharing
from kitchen.domain.money import places_of, round_half_up


@dataclass(frozen=True)
class Cause:
    """One reason, and what it adds to a serving.

    ``kind``: ``line``, ``link`` (another food), ``amount``, ``weight`` (what the food weighs), ``yield``, ``price``, ``item``
    (another pack or brand), ``rule`` (which price counts), ``coverage``, ``allowance``, ``shared``, ``energy``, ``tariff``,
    ``electricity`` (known now, or no more), ``made`` (the recipe that a line is made by), ``group`` (other
    servings) or ``program``. ``what`` is the food or the line; of a price ``before`` and ``after`` are both quotes.
    """

    kind: str
    what: str
    each: Fraction
    before: QuoteFacts | None = None
    after: QuoteFacts | None = None


def causes(then: CostFacts, now: CostFacts, power: tuple[Electricity, Electricity] = (UNCOOKED, UNCOOKED)) -> tuple[Cause, ...]:
    """Return why a serving costs more or less by the newer facts, the largest cause first.

    Parameters
    ----------
    then, now : CostFacts
        The older and the newer facts, in one currency.
    power : (Electricity, Electricity)
        What both take from the wall, for their own servings; left out, the ingredients alone are told.

    Notes
    -----
    A line's cost is amount x weight / yield x price. What parts of one thing share stands apart. The causes add up exactly to the
    difference of the two exact sums.

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
    before, after = _each(then), _each(now)
    allowed = after * Fraction(now.allowance_pct) / 100 - before * Fraction(then.allowance_pct) / 100
    whole = after - before
    found.append(Cause("shared", "", whole - sum((cause.each for cause in found), Fraction(0))))
    found.append(Cause("allowance", "", allowed))
    found += _of_power(power, then.servings, now.servings)
    return tuple(sorted((cause for cause in found if cause.each), key=lambda cause: -abs(cause.each)))


def by_rule(then: CostFacts, ruled: CostFacts) -> tuple[Cause, ...]:
    """Return what another rule makes of the same ledger: of the prices it is the rule that chose others."""
    return tuple(replace(cause, kind="rule") if cause.kind in ("price", "item") else cause for cause in causes(then, ruled))


def printed(parts: Sequence[Cause], currency: str, whole: Fraction | None = None) -> list[tuple[Cause, Fraction]]:
    """Return the causes with sums of whole coins that add up to the printed difference: the largest remainders round up.

    ``whole`` is the difference as it is printed, by default the exact one rounded.

    Examples
    --------
    >>> thirds = [Cause("price", food, Fraction(1, 300)) for food in ("rice", "oil", "salt")]
    >>> [str(shown) for _, shown in printed(thirds, "EUR")]
    ['1/100', '0', '0']
    """
    coin = Fraction(1, 10 ** places_of(currency))
    if whole is None:
        whole = Fraction(round_half_up(sum((cause.each for cause in parts), Fraction(0)), places_of(currency)))
    floors = [cause.each // coin * coin for cause in parts]
    missing = int((whole - sum(floors, Fraction(0))) / coin)
    order = sorted(range(len(parts)), key=lambda place: floors[place] - parts[place].each)
    for number in range(abs(missing) if parts else 0):
        floors[order[number % len(parts)]] += coin if missing > 0 else -coin
    return list(zip(parts, floors, strict=True))


def _each(facts: CostFacts) -> Fraction:
    lines = sharing([priced_line(line, Fraction(1)) for line in facts.lines if line.counted])
    return sum((priced.cost for priced in lines), Fraction(0)) / facts.servings


def _of_power(power: tuple[Electricity, Electricity], then: int, now: int) -> Iterator[Cause]:
    before, after = power
    if before.cost is None or after.cost is None:
        yield Cause("electricity", "", (after.cost or Fraction(0)) / now - (before.cost or Fraction(0)) / then)
        return
    at_old_price = replace(after, price=before.price).cost or Fraction(0)
    yield Cause("energy", "", at_old_price / now - before.cost / then)
    yield Cause("tariff", "", (after.cost - at_old_price) / now)


def _of_lines(then: CostFacts, now: CostFacts) -> Iterator[Cause]:
    same, gone = _paired(then.lines, now.lines)
    for line in gone:
        yield Cause("line", line.words, -_alone(line) / then.servings)
    for place, new in enumerate(now.lines):
        old = same.get(place)
        if old is None:
            yield Cause("line", new.words, _alone(new) / now.servings)
        else:
            yield from _of_line(old, new, then, now)


def _paired(then: Sequence[CostLine], now: Sequence[CostLine]) -> tuple[dict[int, CostLine], list[CostLine]]:
    """Return which older line each newer one was, by its place, and those that are gone.

    The same by words and food, else by words, else by food.
    """
    left, found = list(then), dict[int, CostLine]()
    for same in (_words_and_food, _words, _food):
        for place, line in enumerate(now):
            match = None if place in found else next((one for one in left if same(one) == same(line)), None)
            if match is not None:
                found[place] = match
                left.remove(match)
    return found, left


def _words_and_food(line: CostLine) -> tuple[str, str]:
    return line.words, line.food


def _words(line: CostLine) -> str:
    return line.words


def _food(line: CostLine) -> object:
    return line.food or line  # a line without a food is like no other


def _of_line(old: CostLine, new: CostLine, then: CostFacts, now: CostFacts) -> Iterable[Cause]:
    food, whole = new.food or new.words, _alone(new) / now.servings - _alone(old) / then.servings
    if not (old.counted and new.counted):
        yield Cause("coverage", food, whole)
    elif old.made is not None and new.made is not None and old.made.share:
        at_old_cost = _alone(old) * new.made.share / old.made.share
        taken = at_old_cost / now.servings - _alone(old) / then.servings
        yield Cause("amount", food, taken)
        yield Cause("made", food, whole - taken)
    elif old.food != new.food:
        yield Cause("link", new.words, whole)
    elif old.base != new.base or not old.bought or not new.bought:
        yield Cause(_why_priced(old, new), food, whole, old.quote, new.quote)
    else:
        used = [_edible(old) / then.servings, _edible(new) / now.servings]
        typed = used[1] if old.line_unit != new.line_unit else used[0] * _typed(new, now) / _typed(old, then)
        part = [_part(old), _part(new)]
        price = [_alone(line) / (line.bought or 1) for line in (old, new)]
        yield Cause("amount", food, (typed - used[0]) * part[0] * price[0])
        yield Cause("weight", food, (used[1] - typed) * part[0] * price[0])
        yield Cause("yield", food, used[1] * (part[1] - part[0]) * price[0])
        moved = used[1] * part[1] * (price[1] - price[0])
        yield Cause(_why_priced(old, new), food, moved, old.quote, new.quote)


def _why_priced(old: CostLine, new: CostLine) -> str:
    """Say whether a line has another price because of another thing on the shelf, or another ticket."""
    packs = [(one.pack_amount, one.pack_unit, one.packs, one.brand) for one in (old.quote, new.quote) if one is not None]
    return "item" if len(set(packs)) > 1 else "price"


def _typed(line: CostLine, facts: CostFacts) -> Fraction:
    """What is typed of a line for one serving, the middle of a range; one where nothing is."""
    low, high = line.low or Fraction(0), line.high or line.low or Fraction(0)
    return (low + high) / facts.servings or Fraction(1)


def _part(line: CostLine) -> Fraction:
    """How much is bought for one of what is used: what is trimmed off, and what it gains in cooking."""
    return Fraction(100) / Fraction(line.yield_pct or 100) * Fraction(100) / Fraction(line.cooked_pct or 100)


def _edible(line: CostLine) -> Fraction:
    return (line.bought or Fraction(0)) / _part(line)


def _alone(line: CostLine) -> Fraction:
    return line.cost if line.counted and line.cost is not None else Fraction(0)
