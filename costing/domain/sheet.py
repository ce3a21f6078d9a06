"""The cost sheet: every line, the electricity, the sides, and one total that is rounded once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from costing.domain.electricity import Electricity
from costing.domain.facts import CostFacts, CostLine, LeftOut, SideCost
from costing.domain.till import Need, TillItem, till_items
from energy.domain.tariffs import electricity_cost
from kitchen.domain.money import places_of, round_half_up
from kitchen.domain.rules import is_hot
from kitchen.domain.scaling import scale


@dataclass(frozen=True)
class PricedLine:
    """A line with its exact cost for the servings asked for; ``ratio`` is its amount over the recipe's own amount."""

    line: CostLine
    cost: Fraction
    ratio: Fraction


@dataclass(frozen=True)
class SideShare:
    """What a side adds for the servings asked for: exact ``cost`` (None: it cannot be added), and what it leaves out."""

    side: SideCost
    portions: Fraction
    cost: Fraction | None
    left_out: tuple[LeftOut, ...] = ()


@dataclass(frozen=True)
class Sheet:
    """A recipe's costs for ``servings``, exact; only words round."""

    servings: int
    currency: str
    lines: tuple[PricedLine, ...]
    left_out: tuple[LeftOut, ...]
    to_taste: tuple[str, ...]
    tap: tuple[str, ...]
    electricity: Electricity
    allowance_pct: Decimal
    allowance: Fraction
    ingredients: Fraction
    sides: tuple[SideShare, ...]
    till: tuple[TillItem, ...]

    @property
    def total(self) -> Fraction:
        """Ingredients, allowance and electricity of the main dish alone."""
        return self.ingredients + self.allowance + (self.electricity.cost or Fraction(0))

    @property
    def per_serving(self) -> Fraction:
        """The total over the servings."""
        return self.total / self.servings

    @property
    def together(self) -> Fraction:
        """The main dish with every side that can be added."""
        return self.total + sum((share.cost for share in self.sides if share.cost is not None), Fraction(0))

    @property
    def at_least(self) -> bool:
        """Whether something of the main dish is missing from the total."""
        return bool(self.left_out)

    @property
    def together_at_least(self) -> bool:
        """Whether something of the main dish or of a side is missing."""
        return self.at_least or any(share.left_out for share in self.sides)

    @property
    def till_cost(self) -> Fraction:
        """What the whole packs cost."""
        return sum((item.cost for item in self.till), Fraction(0))

    @property
    def printed_sum(self) -> Decimal:
        """What a reader gets who adds the printed lines up."""
        places = places_of(self.currency)
        parts = [priced.cost for priced in self.lines]
        parts += [self.allowance, self.electricity.cost or Fraction(0)]
        return sum((round_half_up(part, places) for part in parts), Decimal(0))


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
    lines = tuple(_priced(line, k, batches, closed) for line in facts.lines if line.kind == "priced")
    ingredients = sum((priced.cost for priced in lines), Fraction(0))
    return Sheet(
        servings=servings,
        currency=facts.currency,
        lines=lines,
        left_out=_left_out(facts.lines, electricity),
        to_taste=_words_of(facts.lines, "to_taste"),
        tap=_words_of(facts.lines, "tap"),
        electricity=electricity,
        allowance_pct=facts.allowance_pct,
        allowance=ingredients * Fraction(facts.allowance_pct) / 100,
        ingredients=ingredients,
        sides=tuple(_share(side, portion * servings, electricity) for side in facts.sides),
        till=tuple(till_items([need for priced in lines for need in _needs(priced)])),
    )


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


def _priced(line: CostLine, k: Fraction, batches: int, closed: bool) -> PricedLine:
    ratio = amount_ratio(line, k, batches, closed=closed)
    return PricedLine(line, (line.cost or Fraction(0)) * ratio, ratio)


def _needs(priced: PricedLine) -> list[Need]:
    line = priced.line
    if line.bought is None or line.pack is None or line.quote is None:
        return []
    return [Need(line.food or line.words, line.bought * priced.ratio, line.pack, line.quote)]


def unpriced(lines: Sequence[CostLine]) -> list[LeftOut]:
    """Return the lines that have no cost, each with its reason."""
    return [LeftOut(line.words, line.reason) for line in lines if line.left_out]


def _left_out(lines: Sequence[CostLine], electricity: Electricity) -> tuple[LeftOut, ...]:
    missing = unpriced(lines)
    if electricity.cost is None and electricity.needed:
        missing.append(LeftOut("electricity", electricity.reason))
    return tuple(missing)


def _words_of(lines: Sequence[CostLine], kind: str) -> tuple[str, ...]:
    return tuple(line.words for line in lines if line.kind == kind)


def _share(side: SideCost, servings: Fraction, electricity: Electricity) -> SideShare:
    portions = Fraction(side.portions) * servings
    if side.cost is None:
        return SideShare(side, portions, None, (LeftOut(side.title, side.reason),))
    energy = _side_energy(side, electricity)
    missing = list(side.left_out)
    if energy is None and side.cooks:
        missing.append(LeftOut("electricity", _why_no_side_energy(side, electricity)))
    return SideShare(side, portions, (side.cost + (energy or Fraction(0))) / side.servings * portions, tuple(missing))


def _side_energy(side: SideCost, electricity: Electricity) -> Fraction | None:
    if side.wall_wh is None or electricity.price is None:
        return None
    return electricity_cost(side.wall_wh, electricity.price.per_kwh)


def _why_no_side_energy(side: SideCost, electricity: Electricity) -> str:
    if side.wall_wh is None:
        return "no cook of it has been measured yet"
    return electricity.no_price or "no price for a kilowatt-hour is known"
