"""What a portion cost that was really served: of what was made some is left over, and some is thrown away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction


@dataclass(frozen=True)
class ServedRun:
    """One cook: portions made, served, left over and thrown away."""

    day: date
    made: int
    served: Fraction
    left: Fraction
    thrown: Fraction


@dataclass(frozen=True)
class ServedCost:
    """What one portion served cost, and all that was thrown away, exact; ``open`` is how many portions nobody accounts for."""

    each: Fraction
    thrown: Fraction
    open: Fraction


def served_cost(total: Fraction, made: int, served: Fraction, left: Fraction, thrown: Fraction) -> ServedCost | None:
    """Return what a portion served cost; None where none was served.

    Parameters
    ----------
    total : Fraction
        What all portions cost. [currency]
    made, served, left, thrown : portions
        ``served + left + thrown`` is at most ``made``. [-]

    Notes
    -----
    portion cost = recipe cost / portions served. What is left over and kept takes its own share of the cost along; what was
    thrown away, and what nobody accounts for, is carried by the portions that were served.

    References
    ----------
    "Basic Kitchen and Food Service Management" (open textbook), the chapters on controlling food costs.

    Examples
    --------
    >>> told = served_cost(Fraction(12), 6, Fraction(4), Fraction(1), Fraction(1))
    >>> float(told.each), float(told.thrown), float(told.open)
    (2.5, 2.0, 0.0)
    """
    if not served:
        return None
    share = total / made
    return ServedCost(share * (made - left) / served, share * thrown, made - served - left - thrown)
