"""Portions: how many eat, how much each of them, and what follows from what there is in the larder."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain import foods
from kitchen.domain.facts import LineFacts, PartFacts
from kitchen.domain.lines import parse_line
from kitchen.domain.nouns import singular
from kitchen.domain.remark import Refused, Remark, remark
from kitchen.domain.units import UNITS, convert

MOST_SERVINGS = 500
SMALLEST_PORTION, LARGEST_PORTION = Fraction(1, 10), Fraction(10)
CHILD = Fraction(3, 5)
"""A child of 6 to 12 against an active adult: worked out from the 2005 reference intakes, rounded."""


class CannotScale(Refused):
    """What was asked cannot be turned into an amount."""


@dataclass(frozen=True)
class Wanted:
    """What is to be cooked: ``servings`` plates of ``portion`` times the written size."""

    servings: int
    portion: Fraction = Fraction(1)


@dataclass(frozen=True)
class Eaters:
    """People of a kind (``adult``, ``child``, ``walker``); ``factor`` is what one of them eats, as a multiple of a serving."""

    number: int
    kind: str
    factor: Fraction = Fraction(1)


def for_group(eaters: Sequence[Eaters]) -> Wanted:
    """Return what a group eats.

    Parameters
    ----------
    eaters : sequence of Eaters
        The kinds of people; some may have no head.

    Returns
    -------
    Wanted
        As many servings as heads; the portion is the mean of the factors, exactly.

    Raises
    ------
    CannotScale
        If nobody eats, more than 500 do, or the mean portion is not between a tenth and ten times the written one.

    Examples
    --------
    >>> for_group([Eaters(4, "adult"), Eaters(3, "child", Fraction(3, 5)), Eaters(2, "walker", Fraction(7, 5))])
    Wanted(servings=9, portion=Fraction(43, 45))
    """
    heads = sum(kind.number for kind in eaters)
    if not 1 <= heads <= MOST_SERVINGS:
        raise CannotScale(remark("group_out_of_reach", most=MOST_SERVINGS, heads=heads))
    return Wanted(heads, checked_portion(sum((kind.number * kind.factor for kind in eaters), Fraction(0)) / heads))


def checked_portion(portion: Fraction) -> Fraction:
    """Return the portion, if it lies between a tenth and ten times the written one; raises CannotScale."""
    if not SMALLEST_PORTION <= portion <= LARGEST_PORTION:
        raise CannotScale(remark("portion_out_of_reach"))
    return portion


_ROUND_SIZES = {Fraction(3, 2): "larger_by_half", Fraction(1, 2): "half_the_size", Fraction(2): "twice_as_large"}


def size_said(portion: Fraction) -> Remark | None:
    """Return how a serving differs from the written one; None where nobody would notice.

    Examples
    --------
    >>> size_said(Fraction(43, 50)), size_said(Fraction(1001, 1000)), size_said(Fraction(3, 2)).code
    (Remark(code='serving_smaller', values={'by_pct': 14.0}), None, 'larger_by_half')
    """
    if portion in _ROUND_SIZES:
        return remark(_ROUND_SIZES[portion])
    by_pct = round(100 * (portion - 1))
    return remark("serving_larger" if by_pct > 0 else "serving_smaller", by_pct=abs(by_pct)) if by_pct else None


def from_what_there_is(k: Fraction, base_servings: int) -> Wanted:
    """Return how many servings ``k`` times the written food makes, so that all of it is used.

    Parameters
    ----------
    k : Fraction > 0
        What there is over what is written. [-]
    base_servings : int >= 1
        Servings written.

    Returns
    -------
    Wanted
        Whole servings, rounded down but at least one; the portion takes the rest: servings x portion = k x base servings.

    Raises
    ------
    CannotScale
        If that is less than a tenth of a serving, or more than 500 servings.

    Examples
    --------
    >>> from_what_there_is(Fraction(7, 4), 6)
    Wanted(servings=10, portion=Fraction(21, 20))
    """
    servings = max(1, math.floor(k * base_servings))
    if servings > MOST_SERVINGS:
        raise CannotScale(remark("too_many_servings", servings=servings, most=MOST_SERVINGS))
    if k * base_servings < SMALLEST_PORTION:
        raise CannotScale(remark("too_little_for_one"))
    return Wanted(servings, k * base_servings / servings)


def lines_to_choose(parts: Sequence[PartFacts]) -> list[tuple[int, LineFacts]]:
    """Return the lines whose amount can set all the others, each with its number in the recipe (from 1).

    What does not grow in proportion (a seasoning, grease for the pan, a simmering liquid) cannot.
    """
    return [(number, line) for number, line in enumerate(all_lines(parts), start=1) if not why_not_this_line(line)]


def all_lines(parts: Sequence[PartFacts]) -> list[LineFacts]:
    """Return the lines of all parts in their order."""
    return [line for part in parts for line in part.lines]


def why_not_this_line(line: LineFacts) -> Remark | None:
    """Return why a line's amount cannot set all the others; None where it can."""
    name = line.name or line.text
    if not foods.line_amount(line):
        return remark("line_without_amount", name=name)
    return None if line.rule == "proportional" else remark("line_not_in_step", name=name)


def multiple_of(line: LineFacts, have: str) -> Fraction:
    """Return how many times a line's written amount somebody has.

    Parameters
    ----------
    line : LineFacts
        The line as written.
    have : str
        What there is, in words: "700 g", "2 cans", "1 1/2 cups"; a number alone counts in the line's own unit.

    Returns
    -------
    Fraction
        Exact where both are measured alike; else through the food's household weights. [-]

    Raises
    ------
    CannotScale
        If the words hold no amount, or nothing tells how the two compare.

    Notes
    -----
    Of a range ("2-3 onions") the middle counts.

    Examples
    --------
    >>> lentils = LineFacts("400 g lentils", Fraction(400), Fraction(400), "g", "lentils")
    >>> multiple_of(lentils, "700 g"), multiple_of(lentils, "1 kg"), multiple_of(lentils, "700")
    (Fraction(7, 4), Fraction(5, 2), Fraction(7, 4))
    """
    reason = why_not_this_line(line)
    if reason:
        raise CannotScale(reason)
    held = _held(line, have)
    written, there_is = foods.line_amount(line), foods.line_amount(held)
    if not there_is or not written:
        raise CannotScale(remark("no_amount_held", typed=have.strip()))
    if _measured_alike(line, held):
        return convert(there_is, held.unit, line.unit) / written
    return _by_weight(line, held)


def _held(line: LineFacts, have: str) -> LineFacts:
    """Read what there is as a line of the same food."""
    parsed = parse_line(have.strip())
    unit = parsed.unit or ("" if parsed.name and not _is_named(parsed.name, line) else line.unit)
    size = parsed.size or (line.size if unit == line.unit else "")
    if parsed.low and parsed.name and not parsed.unit and not _is_named(parsed.name, line) and singular(parsed.name) != line.unit:
        raise CannotScale(remark("neither_unit_nor_food", typed=parsed.name))
    return LineFacts(have, parsed.low, parsed.high, unit, line.name, size=size, food=line.food)


def _is_named(words: str, line: LineFacts) -> bool:
    """Say whether the words name the line's own food, so that "5 onions" counts onions."""
    asked = {singular(word) for word in words.lower().split()}
    return bool(asked & {singular(word) for word in f"{line.name} {line.food.name if line.food else ''}".lower().split()})


def _measured_alike(line: LineFacts, held: LineFacts) -> bool:
    ours, theirs = UNITS.get(line.unit or "each"), UNITS.get(held.unit or "each")
    if ours is None or theirs is None:
        return line.unit == held.unit
    if ours.dimension != "count":
        return ours.dimension == theirs.dimension
    return ours.key == theirs.key and _bare(line.size) == _bare(held.size)


def _bare(size: str) -> str:
    return "".join(size.lower().split())


def _by_weight(line: LineFacts, held: LineFacts) -> Fraction:
    ours, theirs = foods.line_grams(line), foods.line_grams(held)
    if ours and theirs:
        return (Fraction(theirs) / Fraction(ours)).limit_denominator(10_000)
    unknown, code = (line, "written_not_weighed") if not ours else (held, "held_not_weighed")
    amount = foods.line_amount(unknown) or Fraction(1)
    because = foods.why_not(amount, unknown.unit, line.food) or remark("weight_not_known")
    unit = UNITS[line.unit].plural if line.unit in UNITS and UNITS[line.unit].plural else "pieces"
    raise CannotScale(remark(code, unit=unit), because)


def serving_grams(parts: Sequence[PartFacts], servings: int) -> float | None:
    """Return what one serving weighs by the lines, or None where a line's weight is not known. [g]

    Notes
    -----
    What goes in, raw: steam that is driven off is not taken away. What is "to taste" or seasons is too little to matter.

    Examples
    --------
    >>> rice = LineFacts("300 g rice", Fraction(300), Fraction(300), "g", "rice")
    >>> serving_grams([PartFacts("", (rice, LineFacts("salt to taste", name="salt", to_taste=True)))], 4)
    75.0
    """
    weights = [foods.line_grams(line) for line in all_lines(parts) if not _is_little(line)]
    if not weights or any(weight is None for weight in weights):
        return None
    return sum(weight for weight in weights if weight) / servings


def _is_little(line: LineFacts) -> bool:
    return line.to_taste or line.rule in ("seasoning", "fixed")
