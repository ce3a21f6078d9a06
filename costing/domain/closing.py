"""A receipt's sums: whether its lines come to its total, and what each thing cost after discounts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from costing.domain.slips import GOODS, SlipLine
from kitchen.domain.money import round_half_up

OUTSIDE = ("deposit", "rounding", "tax on")
ON_LINE, ON_BILL = "line", "bill"
PLACES = 4


@dataclass(frozen=True)
class Closing:
    """What the goods come to, less discounts, with deposits, tax and rounding outside; ``total`` is the slip's own word."""

    goods: Decimal
    discounts: Decimal
    outside: Decimal
    total: Decimal | None

    @property
    def lines(self) -> Decimal:
        """What all lines come to."""
        return self.goods + self.discounts + self.outside

    @property
    def difference(self) -> Decimal:
        """How much more the lines are than the total; nothing where the slip has none."""
        return Decimal(0) if self.total is None else self.lines - self.total


def close(lines: Sequence[SlipLine]) -> Closing:
    """Return a slip's sums. Tax that is in the prices, payments and subtotals add nothing.

    Examples
    --------
    >>> from costing.domain.slips import read_slip
    >>> closed = close(read_slip("RICE 2,00\\nPFAND 0,25\\nRABATT -0,50\\nMwSt 7% 0,10\\nSUMME 1,75\\nBAR 2,00", "EUR", "DE"))
    >>> str(closed.lines), str(closed.difference)
    ('1.75', '0.00')
    """
    totals = [line.price for line in lines if line.kind == "total" and line.price is not None]
    return Closing(_sum(lines, *GOODS), _sum(lines, "discount"), _sum(lines, *OUTSIDE), totals[-1] if totals else None)


def after_discounts(prices: Sequence[Decimal], off_lines: Sequence[Decimal], off_bill: Decimal) -> list[Decimal]:
    """Return what each thing cost, its own discount off, the bill's discount off in proportion to what is left.

    The shares are rounded to a hundredth of a cent, the largest remainders up, so that they add up exactly.

    Examples
    --------
    >>> off = [Decimal(0), Decimal("-0.25")]
    >>> [str(price) for price in after_discounts([Decimal("2.00"), Decimal("1.00")], off, Decimal("-0.50"))]
    ['1.6364', '0.6136']
    """
    left = [price + off for price, off in zip(prices, off_lines, strict=True)]
    whole = sum(left, Decimal(0))
    if not whole or not off_bill:
        return left
    unit = Fraction(1, 10**PLACES)
    exact = [Fraction(price) + Fraction(off_bill) * Fraction(price) / Fraction(whole) for price in left]
    floors = [share // unit * unit for share in exact]
    missing = int((Fraction(whole) + Fraction(off_bill) - sum(floors, Fraction(0))) / unit)
    order = sorted(range(len(exact)), key=lambda place: floors[place] - exact[place])
    for place in order[:missing]:
        floors[place] += unit
    return [round_half_up(share, PLACES) for share in floors]


def _sum(lines: Sequence[SlipLine], *kinds: str) -> Decimal:
    return sum((line.price for line in lines if line.kind in kinds and line.price is not None), Decimal("0.00"))
