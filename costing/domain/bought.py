"""What is bought of each food, by which price, and how much of that is used."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.facts import QuoteFacts
from costing.domain.priced import PricedLine
from kitchen.domain.remark import Said


@dataclass(frozen=True)
class Bought:
    """``amount`` of one food by one price, and one ``pack`` of it, both in ``base`` (g, mL, each or a household word).

    ``yield_pct`` of it is used. [%]
    """

    food: str
    quote: QuoteFacts
    amount: Fraction
    pack: Fraction | None = None
    base: str = ""
    yield_pct: Decimal | None = None
    yield_source: Said = ""


def bought_foods(lines: Iterable[PricedLine]) -> tuple[Bought, ...]:
    """Return what is bought, in the order in which the foods are first needed; lines of one price and one yield count together.

    Examples
    --------
    >>> from datetime import date
    >>> from costing.domain.facts import CostLine
    >>> quote = QuoteFacts("Mill Lane", date(2026, 10, 1), Decimal("1.20"), Fraction(500), "g", 1, stale=False)
    >>> oil = CostLine("oil", food="oil", bought=Fraction(20), base="mL", quote=quote)
    >>> [float(bought.amount) for bought in bought_foods([PricedLine(oil, Fraction(1), Fraction(k)) for k in (1, 2)])]
    [60.0]
    """
    together: dict[tuple[str, QuoteFacts, Decimal | None, str], Bought] = {}
    for priced in lines:
        line = priced.line
        if line.quote is not None:
            food, amount = line.food or line.words, priced.bought
            first = Bought(food, line.quote, Fraction(0), line.pack, line.base, line.yield_pct, line.yield_source)
            key = (food, line.quote, line.yield_pct, repr(line.yield_source))
            before = together.get(key, first)
            together[key] = replace(before, amount=before.amount + amount)
    return tuple(together.values())
