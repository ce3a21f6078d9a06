"""Portions: how many eat, how much each of them, and what follows from what there is in the larder."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain import foods
from kitchen.domain.amounts import format_decimal
from kitchen.domain.facts import LineFacts, PartFacts
from kitchen.domain.lines import parse_line
from kitchen.domain.nouns import singular
from kitchen.domain.units import UNITS, convert

MOST_SERVINGS = 500
SMALLEST_PORTION, LARGEST_PORTION = Fraction(1, 10), Fraction(10)
CHILD = Fraction(3, 5)
"""A child of 6 to 12 against an active adult: worked out from the 2005 reference intakes, rounded."""


class CannotScale(ValueError):
    """What was asked cannot be turned into an amount; the message says why and what to do."""


@dataclass(frozen=True)
class Wanted:
    """What is to be cooked: ``servings`` plates of ``portion`` times the written size, and why, in words."""

    servings: int
    portion: Fraction = Fraction(1)
    words: str = ""


@dataclass(frozen=True)
class Eaters:
    """People who eat the same: ``factor`` is what one of them eats, as a multiple of a serving."""

    number: int
    one: str
    many: str
    factor: Fraction = Fraction(1)

    @property
    def words(self) -> str:
        """The people and their factor: "3 children at 0.6"; a factor of one goes without saying."""
        people = f"{self.number} {self.one if self.number == 1 else self.many}"
        return people if self.factor == 1 else f"{people} at {format_decimal(self.factor, 3)}"


def for_group(eaters: Sequence[Eaters]) -> Wanted:
    """Return what a group eats.

    Parameters
    ----------
    eaters : sequence of Eaters
        The kinds of people; those with no head are left out.

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
    >>> group = [Eaters(4, "adult", "adults"), Eaters(3, "child", "children", Fraction(3, 5)),
    ...          Eaters(2, "hungry walker", "hungry walkers", Fraction(7, 5))]
    >>> for_group(group).portion, for_group(group).words
    (Fraction(43, 45), 'for 9 people: 4 adults, 3 children at 0.6, 2 hungry walkers at 1.4 = 8.6 portions')
    """
    present = [kind for kind in eaters if kind.number > 0]
    heads = sum(kind.number for kind in present)
    if not 1 <= heads <= MOST_SERVINGS:
        raise CannotScale(f"A group has 1 to {MOST_SERVINGS} people; these are {heads}.")
    portions = sum((kind.number * kind.factor for kind in present), Fraction(0))
    portion = checked_portion(portions / heads)
    people = "for 1 person" if heads == 1 else f"for {heads} people"
    many = "portion" if portions == 1 else "portions"
    listed = ", ".join(kind.words for kind in present)
    return Wanted(heads, portion, f"{people}: {listed} = {format_decimal(portions)} {many}")


def checked_portion(portion: Fraction) -> Fraction:
    """Return the portion, if it lies between a tenth and ten times the written one; raises CannotScale."""
    if not SMALLEST_PORTION <= portion <= LARGEST_PORTION:
        raise CannotScale("A serving can be from a tenth of the written size to ten times as large.")
    return portion


def size_words(portion: Fraction) -> str:
    """Return how a serving differs from the written one; empty where nobody would notice.

    Examples
    --------
    >>> [size_words(Fraction(text)) for text in ("3/2", "1/2", "21/20", "43/50", "1", "1001/1000", "2")]
    ['larger by half', 'half the size', '5 % larger', '14 % smaller', '', '', 'twice as large']
    """
    known = {Fraction(3, 2): "larger by half", Fraction(1, 2): "half the size", Fraction(2): "twice as large"}
    if portion in known:
        return known[portion]
    per_cent = round(100 * (portion - 1))
    if not per_cent:
        return ""
    return f"{abs(per_cent)} % {'larger' if per_cent > 0 else 'smaller'}"


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
    Wanted(servings=10, portion=Fraction(21, 20), words='makes 10 servings, 5 % larger')
    """
    servings = max(1, math.floor(k * base_servings))
    if servings > MOST_SERVINGS:
        raise CannotScale(f"That makes {servings:,} servings; {MOST_SERVINGS} are the most.")
    if k * base_servings < SMALLEST_PORTION:
        raise CannotScale("That is less than a tenth of one serving.")
    portion = k * base_servings / servings
    size = size_words(portion)
    many = "serving" if servings == 1 else "servings"
    return Wanted(servings, portion, f"makes {servings} {many}{f', {size}' if size else ''}")


def lines_to_choose(parts: Sequence[PartFacts]) -> list[tuple[int, LineFacts]]:
    """Return the lines whose amount can set all the others, each with its number in the recipe (from 1).

    What does not grow in proportion (a seasoning, grease for the pan, a simmering liquid) cannot.
    """
    return [(number, line) for number, line in enumerate(all_lines(parts), start=1) if not why_not_this_line(line)]


def all_lines(parts: Sequence[PartFacts]) -> list[LineFacts]:
    """Return the lines of all parts in their order."""
    return [line for part in parts for line in part.lines]


def why_not_this_line(line: LineFacts) -> str:
    """Return why a line's amount cannot set all the others; empty where it can."""
    name = line.name or line.text
    if not foods.line_amount(line):
        return f"“{name}” has no amount to compare with. Choose another line."
    if line.rule != "proportional":
        return f"“{name}” does not grow in step with the rest, so it cannot set the amounts. Choose another line."
    return ""


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
    held = _read(line, have)
    written, there_is = foods.line_amount(line), foods.line_amount(held)
    if not there_is or not written:
        raise CannotScale(f"“{have.strip()}” holds no amount. Type a number with its unit, such as 700 g or 2 cups.")
    if _measured_alike(line, held):
        return convert(there_is, held.unit, line.unit) / written
    return _by_weight(line, held)


def _read(line: LineFacts, have: str) -> LineFacts:
    """Read what there is as a line of the same food."""
    parsed = parse_line(have.strip())
    unit = parsed.unit or ("" if parsed.name and not _is_named(parsed.name, line) else line.unit)
    size = parsed.size or (line.size if unit == line.unit else "")
    if parsed.low and parsed.name and not parsed.unit and not _is_named(parsed.name, line) and singular(parsed.name) != line.unit:
        raise CannotScale(f"“{parsed.name}” is neither a unit nor this line’s food. Type an amount such as 700 g or 2 cups.")
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
    unknown, side = (line, "The recipe’s own amount") if not ours else (held, "What you have")
    amount = foods.line_amount(unknown) or Fraction(1)
    because = foods.why_not(amount, unknown.unit, line.food) or "Its weight is not known."
    unit = UNITS[line.unit].plural if line.unit in UNITS and UNITS[line.unit].plural else "pieces"
    raise CannotScale(f"{side} cannot be weighed. {because} Here, type {unit}, as the line has it.")


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
