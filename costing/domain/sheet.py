"""The cost sheet: every line, the electricity, the sides, and one total that is rounded once.

How sums are rounded. A line is worked out exactly and printed rounded by itself, half up, to the smallest coin. The total is the
exact sum of the exact lines, rounded once, and so is a serving: the exact total over the servings. What is "at least" is rounded
down. So the printed lines may add up to another sum than the printed total; where they do, the sheet says so.

The pot pie for five of a trade school's notes, which round each line first and come to 7.60; the table is ours:

>>> from kitchen.domain.money import round_half_up
>>> pie = {"chicken": "4.125", "onion": "0.078", "butter": "1.309", "flour": "0.121", "milk": "1.95625"}
>>> for food, exact in pie.items():
...     print(f"{food:8} {exact:>8} {round_half_up(Fraction(exact), 2)}")
chicken     4.125 4.13
onion       0.078 0.08
butter      1.309 1.31
flour       0.121 0.12
milk      1.95625 1.96
>>> exact = sum(map(Fraction, pie.values()))
>>> f"lines {sum(round_half_up(Fraction(one), 2) for one in pie.values())}, total {round_half_up(exact, 2)}"
'lines 7.60, total 7.59'
>>> f"a portion {round_half_up(exact / 5, 2)}"
'a portion 1.52'
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from functools import cached_property

from costing.domain.bought import Bought, bought_foods
from costing.domain.electricity import NOTHING_OFF, UNCOOKED, Electricity, Off
from costing.domain.facts import CostFacts, CostLine, LeftOut, MadeCost, SideCost
from costing.domain.priced import PricedLine, bought_lines, priced_line, sharing
from costing.domain.till import TillItem, till_items
from energy.estimates.domain.proportion import off_in_proportion
from kitchen.domain.money import places_of, printed_ends, round_bound
from kitchen.domain.remark import Said, remark


@dataclass(frozen=True)
class SideShare:
    """What a side adds for the servings asked for: exact ``cost`` (None: it cannot be added), and what it leaves out.

    ``off`` is by what the cost may be less, and more.
    """

    side: SideCost
    portions: Fraction
    cost: Fraction | None
    left_out: tuple[LeftOut, ...] = ()
    off: Off = NOTHING_OFF

    @property
    def at_least(self) -> bool:
        """Whether something of the side is missing from its cost."""
        return bool(self.left_out) or self.side.wall_at_least


@dataclass(frozen=True)
class ServingCost:
    """What one serving costs, exact, and whether something is missing from it."""

    amount: Fraction
    currency: str
    at_least: bool

    @property
    def printed(self) -> tuple[Decimal, bool, str, bool]:
        """What of it a reader sees: two costs that print the same are the same to them."""
        return (
            round_bound(self.amount, places_of(self.currency), "least" if self.at_least else ""),
            bool(self.amount),
            self.currency,
            self.at_least,
        )


@dataclass(frozen=True)
class Sheet:
    """A recipe's costs for ``servings``, made from its ``facts``; exact, only words round."""

    facts: CostFacts
    servings: int
    lines: tuple[PricedLine, ...]
    left_out: tuple[LeftOut, ...]
    to_taste: tuple[str, ...]
    tap: tuple[str, ...]
    electricity: Electricity
    allowance: Fraction
    ingredients: Fraction
    sides: tuple[SideShare, ...]
    bought: tuple[Bought, ...]
    options: tuple[PricedLine, ...] = ()
    sides_bought: tuple[Bought, ...] = ()

    @cached_property
    def till(self) -> tuple[TillItem, ...]:
        """The whole packs to buy for the whole meal: what the dish and its sides both take shares its packs."""
        return till_items([*self.bought, *self.sides_bought])

    @cached_property
    def coverage(self) -> tuple[int, int]:
        """How many lines the total holds, and how many it should hold."""
        lines = self.facts.lines
        whole = sum(line.counted and not line.left_out for line in lines)
        return whole, whole + sum(line.left_out for line in lines)

    @cached_property
    def with_options(self) -> Fraction:
        """The total with everything that may be left out."""
        return self.total + sum((priced.cost for priced in self.options), Fraction(0))

    @property
    def till_at_least(self) -> bool:
        """Whether something of the meal is missing at the till."""
        return bool(unpriced(self.facts.lines)) or any(share.cost is None or share.side.left_out for share in self.sides)

    @cached_property
    def total(self) -> Fraction:
        """Ingredients, allowance and electricity of the main dish alone."""
        return self.ingredients + self.allowance + (self.electricity.cost or Fraction(0))

    def per_serving_of(self, amount: Fraction) -> Fraction:
        """Return a sum over the servings."""
        return amount / self.servings

    @property
    def most_per_serving(self) -> Fraction:
        """The most that one serving costs."""
        return self.per_serving_of(self.total + self.electricity.off[1])

    @property
    def together_off(self) -> Off:
        """By what the sum with the sides may be less, and more: what makes one dear makes the others dear."""
        each = [self.electricity.off, *(share.off for share in self.sides)]
        less, more = ([off[end] for off in each] for end in (0, 1))
        return sum(less, Fraction(0)), sum(more, Fraction(0))

    @property
    def per_serving(self) -> Fraction:
        """The total over the servings."""
        return self.per_serving_of(self.total)

    @cached_property
    def together(self) -> Fraction:
        """The main dish with every side that can be added."""
        return self.total + sum((share.cost for share in self.sides if share.cost is not None), Fraction(0))

    @property
    def at_least(self) -> bool:
        """Whether something of the main dish is missing from the total."""
        return bool(self.left_out) or self.electricity.at_least

    @property
    def together_at_least(self) -> bool:
        """Whether something of the main dish or of a side is missing."""
        return self.at_least or any(share.at_least for share in self.sides)

    @property
    def till_cost(self) -> Fraction:
        """What the whole packs cost."""
        return sum((item.cost for item in self.till), Fraction(0))

    @cached_property
    def printed_sums(self) -> tuple[Decimal, Decimal]:
        """What a reader gets who adds the lower and the upper ends of the printed lines up."""
        exact = [*(priced.cost for priced in self.lines), self.allowance]
        power = self.electricity.cost or Fraction(0), self.electricity.off
        return self._printed([*((cost, NOTHING_OFF) for cost in exact), power])

    @property
    def lines_add_up(self) -> bool:
        """Whether the printed lines add up to the printed total, at both of its ends."""
        return self.printed_sums == self._printed([(self.total, self.electricity.off)])

    @property
    def sides_add_up(self) -> bool:
        """Whether the printed dish and its printed sides add up to the printed sum of them, at both of its ends."""
        added = [(share.cost, share.off) for share in self.sides if share.cost is not None]
        return self._printed([(self.total, self.electricity.off), *added]) == self._printed([(self.together, self.together_off)])

    def _printed(self, parts: Sequence[tuple[Fraction, Off]]) -> tuple[Decimal, Decimal]:
        ends = [printed_ends(part - off[0], part + off[1], self.facts.currency) for part, off in parts]
        return sum((least for least, _ in ends), Decimal(0)), sum((most for _, most in ends), Decimal(0))


def make_sheet(
    facts: CostFacts,
    servings: int,
    electricity: Electricity,
    *,
    portion: Fraction = Fraction(1),
    batches: int = 1,
    closed: bool = False,
) -> Sheet:
    """Return the sheet for a number of servings.

    Parameters
    ----------
    facts : CostFacts
        Exact costs for the recipe's own servings.
    servings : int, >= 1
        What is asked for.
    electricity : Electricity
        For the same servings.
    portion : Fraction > 0
        Size of one serving, as a multiple of the written one. [-]
    batches : int >= 1
        Potfuls; what goes into each of them is bought as often. [-]
    closed : bool
        Whether a lid keeps the steam in, so that a simmering liquid grows like the rest.

    Returns
    -------
    Sheet
        Exact. Each line's cost follows its scaling rule; a side is counted by the portion, which grows with the main dish's.

    Raises
    ------
    ValueError
        If ``servings`` or ``batches`` is below 1, or the portion is not above zero.

    Notes
    -----
    portion cost = recipe cost / portions served; the seasoning allowance is a percentage added to the ingredients.

    References
    ----------
    "Basic Kitchen and Food Service Management" (open textbook), the chapters on controlling food costs.

    Examples
    --------
    >>> from datetime import date
    >>> line = CostLine("item", cost=Fraction(2), low=Fraction(1), high=Fraction(1))
    >>> facts = CostFacts(2, "EUR", date(2026, 10, 14), "newest", (line,), allowance_pct=Decimal(5))
    >>> sheet = make_sheet(facts, 4, Electricity(needed=False))
    >>> float(sheet.total), float(sheet.per_serving)
    (4.2, 1.05)
    """
    if servings < 1 or batches < 1 or portion <= 0:
        raise ValueError("A sheet is for at least one serving of some size, in at least one batch.")
    k = portion * servings / facts.servings
    every = [priced_line(line, k, batches, closed=closed) for line in facts.lines if line.kind == "priced"]
    lines = sharing([priced for priced in every if not priced.line.apart])
    made = [(one.line.made, one.ratio) for one in lines if one.line.made is not None]
    if electricity is not UNCOOKED:
        electricity = electricity.with_made(made)
    shares = tuple(_share(side, portion * servings, electricity) for side in facts.sides)
    ingredients = sum((priced.cost for priced in lines), Fraction(0))
    return Sheet(
        facts=facts,
        servings=servings,
        lines=lines,
        left_out=(*_left_out(facts.lines, electricity), *_unmeasured(made, electricity)),
        to_taste=_lines_of_kind(facts.lines, "to_taste"),
        tap=_lines_of_kind(facts.lines, "tap"),
        electricity=electricity,
        allowance=ingredients * Fraction(facts.allowance_pct) / 100,
        ingredients=ingredients,
        sides=shares,
        bought=bought_foods(bought_lines(lines)),
        options=tuple(priced for priced in every if priced.line.apart),
        sides_bought=bought_foods([one for share in shares for one in _lines_of_side(share)]),
    )


def serving_cost(facts: CostFacts, electricity: Electricity) -> ServingCost:
    """Return what one serving costs without sides; ``electricity`` is for the recipe's own servings."""
    sheet = make_sheet(replace(facts, sides=()), facts.servings, electricity)
    return ServingCost(sheet.per_serving, facts.currency, sheet.at_least)


def unpriced(lines: Sequence[CostLine]) -> list[LeftOut]:
    """Return the lines that have no cost, each with its reason."""
    return [gap for line in lines if line.left_out for gap in _gaps_of(line)]


def _gaps_of(line: CostLine) -> list[LeftOut]:
    inner = () if line.made is None else unpriced(line.made.lines)
    told = [LeftOut(remark("gap_of_side", side=line.words, what=_named(gap.words)), gap.reason) for gap in inner]
    return told or [LeftOut(line.words, line.reason)]


def _named(words: Said) -> str:
    return words if isinstance(words, str) else str(words.values["what"])


def _unmeasured(made: Sequence[tuple[MadeCost, Fraction]], electricity: Electricity) -> Iterable[LeftOut]:
    """Name what was made before and never measured, where the electricity is counted at all."""
    for one, _ in made:
        if one.cooks and not one.now and one.wall_wh is None and electricity.needed:
            yield LeftOut(remark("made_electricity", made=one.title), remark("not_measured"))


def _lines_of_side(share: SideShare) -> tuple[PricedLine, ...]:
    priced = sharing([priced_line(line, share.portions / share.side.servings) for line in share.side.bought_lines])
    return tuple(bought_lines(priced))


def _left_out(lines: Sequence[CostLine], electricity: Electricity) -> tuple[LeftOut, ...]:
    missing = unpriced(lines)
    if electricity.cost is None and electricity.needed:
        missing.append(LeftOut(remark("electricity"), electricity.why_no_cost_of(electricity.wall_wh)))
    return tuple(missing)


def _lines_of_kind(lines: Sequence[CostLine], kind: str) -> tuple[str, ...]:
    return tuple(line.words for line in lines if line.kind == kind)


def _share(side: SideCost, servings: Fraction, electricity: Electricity) -> SideShare:
    portions = Fraction(side.portions) * servings
    if side.cost is None:
        return SideShare(side, portions, None, (LeftOut(side.title, side.reason),))
    energy = electricity.cost_of(side.wall_wh)
    missing = list(side.left_out)
    if energy is None and side.cooks:
        missing.append(LeftOut(remark("electricity"), electricity.why_no_cost_of(side.wall_wh)))
    k = portions / side.servings
    cost, off = (side.cost + (energy or Fraction(0))) * k, _off_of_side(side, k, electricity)
    return SideShare(side, portions, cost, tuple(missing), off)


def _off_of_side(side: SideCost, k: Fraction, electricity: Electricity) -> Off:
    """Return by what a side may cost less, and more: its own size's doubt, and what plain proportion is off for another one."""
    if not side.wall_wh:
        return NOTHING_OFF
    times = float(k)
    moved_wh = off_in_proportion(times) * abs(times - 1) * side.wall_wh
    less_wh, more_wh = (math.hypot(times * off, moved_wh) for off in side.wall_off_wh)
    return electricity.off_of((min(less_wh, times * side.wall_wh), more_wh))
