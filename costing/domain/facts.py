"""What an edition knows about a recipe's cost. Schema 1; money and exact shares travel as strings, never as binary floats."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction


@dataclass(frozen=True)
class QuoteFacts:
    """The price that a line was costed with."""

    shop: str
    day: date
    price: Decimal
    pack_amount: Fraction
    pack_unit: str
    packs: int
    stale: bool


@dataclass(frozen=True)
class CostLine:
    """One line of the sheet. ``cost`` is exact and for the recipe's own servings; None says that ``reason`` tells why not."""

    words: str
    bought_words: str = ""
    cost: Fraction | None = None
    reason: str = ""
    yield_pct: Decimal | None = None
    quote: QuoteFacts | None = None
    rule: str = "proportional"
    low: Fraction | None = None
    high: Fraction | None = None
    part: str = ""


@dataclass(frozen=True)
class SideCost:
    """A paired side: its exact ingredient cost and its battery-to-wall energy for its own servings."""

    slug: str
    title: str
    portions: Decimal
    servings: int
    cost: Fraction
    unpriced: tuple[str, ...] = ()
    wall_wh: float | None = None


@dataclass(frozen=True)
class CostFacts:
    """The cost card's facts, for ``servings``; ``rule`` names how the quotes were chosen."""

    servings: int
    currency: str
    day: date
    rule: str
    lines: tuple[CostLine, ...]
    sides: tuple[SideCost, ...] = ()
    price_per_kwh: Decimal | None = None
    tariff: str = ""
    schema: int = 1
