"""A whole bill: energy, adders, standing and base charges, tax. It proves tariffs right; nothing of it is loaded on a meal."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from kitchen.domain.money import round_half_up

EACH_LINE, ONCE = "each line", "once"


@dataclass(frozen=True)
class Block:
    """One tier of a month's use: its price up to a number of kilowatt-hours, without a limit in the last one. [kWh]"""

    price_per_kwh: Decimal
    up_to_kwh: Decimal | None = None


@dataclass(frozen=True)
class Charges:
    """What a tariff charges beside its bands: all before tax.

    ``adder_per_kwh`` is on every kilowatt-hour, ``standing_per_day`` on every day, ``base_per_month`` on every month;
    ``tax_pct`` on all of it.
    """

    adder_per_kwh: Decimal = Decimal(0)
    standing_per_day: Decimal = Decimal(0)
    base_per_month: Decimal = Decimal(0)
    tax_pct: Decimal = Decimal(0)


@dataclass(frozen=True)
class BillLine:
    """One line of a bill; ``amount`` is exact, or rounded to the cent where each line is."""

    words: str
    quantity: Fraction
    unit: str
    price: Fraction
    amount: Fraction

    @property
    def shown_quantity(self) -> str:
        """How much at which price, in words."""
        return f"{float(self.quantity):,.6g}\u00a0{self.unit} × {float(self.price):.6g}"

    @property
    def shown_amount(self) -> str:
        """The amount to the cent."""
        return f"{float(self.amount):,.2f}"


@dataclass(frozen=True)
class Bill:
    """A bill: its lines, its tax and its total, which is rounded once at least."""

    lines: tuple[BillLine, ...]
    tax: Fraction
    total: Fraction

    @property
    def shown_tax(self) -> str:
        """The tax to the cent."""
        return f"{float(self.tax):,.2f}"

    @property
    def shown_total(self) -> str:
        """The total to the cent."""
        return f"{float(self.total):,.2f}"


def block_lines(used_kwh: Decimal, blocks: Sequence[Block]) -> list[tuple[str, Decimal, Decimal]]:
    """Return a month's use cut into its blocks: words, kilowatt-hours, price.

    Examples
    --------
    >>> tiers = [Block(Decimal("0.088958"), Decimal(800)), Block(Decimal("0.098073"))]
    >>> [(kwh, price) for _, kwh, price in block_lines(Decimal(1050), tiers)]
    [(Decimal('800'), Decimal('0.088958')), (Decimal('250'), Decimal('0.098073'))]
    """
    lines, below = [], Decimal(0)
    for block in blocks:
        above = used_kwh if block.up_to_kwh is None else min(used_kwh, block.up_to_kwh)
        if above > below:
            lines.append((f"energy above {below:f}\u00a0kWh" if below else "energy", above - below, block.price_per_kwh))
        below = max(below, above)
    if below < used_kwh:
        raise ValueError(f"no block has a price for what is above {below:f} kWh")
    return lines


def bill(
    energy: Sequence[tuple[str, Decimal, Decimal]],
    charges: Charges,
    *,
    days: int = 0,
    months: int = 0,
    rounding: str = ONCE,
    places: int = 2,
) -> Bill:
    """Return a bill.

    Parameters
    ----------
    energy : sequence of (words, kWh, price per kWh)
        From ``block_lines``, or one line for each band of the clock.
    charges : Charges
        Adders, standing and base charges, tax.
    days, months : int, >= 0
        How many of each are billed.
    rounding : str
        ``each line`` or ``once``: utilities differ.
    places : int
        Decimals of the currency.

    Returns
    -------
    Bill

    Raises
    ------
    ValueError
        For a rounding that is neither.

    Examples
    --------
    >>> tiers = [Block(Decimal("0.088958"), Decimal(800)), Block(Decimal("0.098073"))]
    >>> cut = block_lines(Decimal(1050), tiers)
    >>> [float(bill(cut, Charges(), rounding=way).total) for way in ("each line", "once")]
    [95.69, 95.68]
    """
    if rounding not in (EACH_LINE, ONCE):
        raise ValueError(f"a bill is rounded “{EACH_LINE}” or “{ONCE}”, not “{rounding}”")
    used = sum((kwh for _, kwh, _ in energy), Decimal(0))
    rows = [(words, Fraction(kwh), "kWh", Fraction(price)) for words, kwh, price in energy]
    rows += [
        (words, Fraction(quantity), unit, Fraction(price))
        for words, quantity, unit, price in (
            ("on every kilowatt-hour", used, "kWh", charges.adder_per_kwh),
            ("standing charge", days, "days", charges.standing_per_day),
            ("base charge", months, "months", charges.base_per_month),
        )
        if price
    ]

    def rounded(amount: Fraction) -> Fraction:
        return Fraction(round_half_up(amount, places)) if rounding == EACH_LINE else amount

    lines = tuple(BillLine(words, quantity, unit, price, rounded(quantity * price)) for words, quantity, unit, price in rows)
    subtotal = sum((line.amount for line in lines), Fraction(0))
    tax = rounded(subtotal * Fraction(charges.tax_pct) / 100)
    return Bill(lines, tax, Fraction(round_half_up(subtotal + tax, places)))
