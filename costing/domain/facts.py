"""What an edition knows about a recipe's cost.

Schema 3 (optional lines apart, how packs are sold, the lines of sides); 2 had remarks instead of sentences. Money and exact
shares travel as strings, never as binary floats. What an older edition does not say has the default under which it was published.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.remark import Said


@dataclass(frozen=True)
class PackPrice:
    """A price seen or paid: ``packs`` packs of ``pack_amount`` ``pack_unit`` for ``price`` in all, in the shop of that name."""

    shop: str
    day: date
    price: Decimal
    pack_amount: Fraction
    pack_unit: str
    packs: int


@dataclass(frozen=True)
class QuoteFacts(PackPrice):
    """The price that a line was costed with, and whether it was old by then.

    ``sold`` is ``pack`` where the packs are sold only together, ``singly`` or ``loose``; ``last_day`` the last day of a sale;
    ``tax_pct`` what the till adds. [%]
    """

    stale: bool
    sold: str = "singly"
    brand: str = ""
    last_day: date | None = None
    tax_pct: Decimal = Decimal(0)


def charged(price: Decimal, tax_pct: Decimal) -> Fraction:
    """Return what the till takes for a shelf price, with the tax that it adds.

    Examples
    --------
    >>> charged(Decimal("2.00"), Decimal("7.5"))
    Fraction(43, 20)
    """
    return Fraction(price) * (1 + Fraction(tax_pct) / 100)


@dataclass(frozen=True)
class Skipped:
    """A newer price that was not used, and why."""

    shop: str
    day: date
    price: Decimal
    reason: Said


@dataclass(frozen=True)
class MadeCost:
    """The edition of another recipe that a line is made by, and what all of that edition costs, line by line.

    ``share`` of it goes into the line. ``wall_wh`` is what that share took from the wall, None where nobody measured it; nothing
    of what is made in the same cook (``now``), whose energy is measured with the rest. ``cooks``, ``wall_at_least`` and
    ``wall_off_wh`` are as those of a side.
    """

    slug: str
    title: str
    edition: int
    servings: int
    share: Fraction
    lines: tuple[CostLine, ...] = ()
    now: bool = False
    wall_wh: float | None = None
    cooks: bool = False
    wall_at_least: bool = False
    wall_off_wh: tuple[float, ...] = (0.0, 0.0)


@dataclass(frozen=True)
class CostLine:
    """One line of the sheet.

    ``kind`` is ``priced``, ``no_price``, ``unclear`` (no food, no amount or no way to convert it), ``to_taste`` or ``tap``
    (water). ``reason``, why it is left out, and ``yield_source`` are remarks, or a person's own words; sentences in facts of
    schema 1. ``cost`` is exact and for the recipe's own servings; ``bought`` is the bought amount and ``pack`` one pack of the
    quote, both in ``base`` (g, mL, each or a household word). ``low`` .. ``high`` of ``line_unit`` and ``rule`` let the cost
    follow the amount when the servings change; ``evaporated`` is what boils off of a simmering liquid in one batch, in that unit.
    ``apart`` is what may be left out: it stands beside the total. ``joint`` names the part of a bought thing that is meant
    (juice, yolk), which shares its cost with other parts, ``share`` of it by the owner's word. [%] ``cooked_pct`` is what the
    food weighs cooked, of its weight before. [%] ``assumed`` says what was taken for granted, ``skipped`` names newer prices that
    could not be used.
    """

    words: str
    kind: str = "priced"
    cost: Fraction | None = None
    reason: Said = ""
    food: str = ""
    bought: Fraction | None = None
    base: str = ""
    pack: Fraction | None = None
    yield_pct: Decimal | None = None
    yield_source: Said = ""
    quote: QuoteFacts | None = None
    rule: str = "proportional"
    low: Fraction | None = None
    high: Fraction | None = None
    part: str = ""
    optional: bool = False
    evaporated: Fraction | None = None
    apart: bool = False
    joint: str = ""
    share: Decimal | None = None
    cooked_pct: Decimal | None = None
    assumed: Said = ""
    skipped: tuple[Skipped, ...] = ()
    line_unit: str = ""
    made: MadeCost | None = None

    @property
    def left_out(self) -> bool:
        """Whether the total lacks this line, or something of the recipe that it is made by.

        Examples
        --------
        >>> CostLine("cumin", kind="no_price").left_out, CostLine("salt", kind="to_taste").left_out
        (True, False)
        >>> CostLine("mint", kind="no_price", apart=True).left_out
        False
        """
        lacks = self.made is not None and any(line.left_out for line in self.made.lines)
        return (lacks or self.kind in {"no_price", "unclear"}) and not self.apart

    @property
    def counted(self) -> bool:
        """Whether the total holds this line."""
        return self.kind == "priced" and not self.apart


def every_line(lines: Iterable[CostLine]) -> Iterator[CostLine]:
    """Yield lines, each that is made by another recipe followed by the lines of that, however deep.

    Examples
    --------
    >>> stock = MadeCost("stock", "Stock", 1, 4, Fraction(1), (CostLine("leek"),))
    >>> [line.words for line in every_line([CostLine("stock", made=stock)])]
    ['stock', 'leek']
    """
    for line in lines:
        yield line
        if line.made is not None:
            yield from every_line(line.made.lines)


@dataclass(frozen=True)
class LeftOut:
    """Something that a total does not hold, and why."""

    words: Said
    reason: Said


@dataclass(frozen=True)
class SideCost:
    """A paired side: the exact cost of its ingredients and its energy from the wall, both for its own ``servings``.

    ``portions`` of it go with one serving of the main dish. ``cost`` None says that ``reason`` tells why it cannot be added;
    ``left_out`` lists the side's lines that its cost does not hold, ``bought_lines`` those that it does, for the shopping of the
    whole meal; ``cooks`` says whether the side is cooked at all; ``wall_at_least`` that it may take more energy, nobody knows how
    much; ``wall_off_wh`` by what it may take less, and more.
    """

    slug: str
    title: str
    portions: Decimal
    servings: int
    cost: Fraction | None = None
    reason: Said = ""
    left_out: tuple[LeftOut, ...] = ()
    wall_wh: float | None = None
    cooks: bool = True
    wall_at_least: bool = False
    wall_off_wh: tuple[float, ...] = (0.0, 0.0)
    bought_lines: tuple[CostLine, ...] = ()


@dataclass(frozen=True)
class FuelPrice:
    """What one gram of a fuel costs, exact, and by which price; ``key`` is the fuel's in the list of other means."""

    key: str
    per_g: Fraction
    quote: QuoteFacts


@dataclass(frozen=True)
class CostFacts:
    """The cost card's facts, for ``servings``.

    ``day`` is the day of the newest quote that was used, None where there is none, so that the same prices make the same facts
    on any day.
    ``rule`` names how the quotes were chosen: ``newest``, ``median`` or ``shop``; ``rule_detail`` the number of quotes or the
    shop. ``allowance_pct`` is what is added for seasoning (0: nothing). ``cooks`` says whether any step is cooked, so that
    missing energy figures can be told from a dish that needs none. ``fuels`` are those that this kitchen has a price of.
    """

    servings: int
    currency: str
    day: date | None
    rule: str
    lines: tuple[CostLine, ...]
    sides: tuple[SideCost, ...] = ()
    rule_detail: str = ""
    allowance_pct: Decimal = Decimal(0)
    cooks: bool = True
    fuels: tuple[FuelPrice, ...] = ()
    schema: int = 3
