"""Scaling: from the servings a recipe was written for to the servings that are cooked.

Decisions. Of 25 November 2026 unless it says otherwise. Every way comes down to servings and a portion; linked data stands
only at the written size. Big pieces go to the nearest third or quarter, small ones to the nearest half; what was rounded from
what is always said. A fresh herb grows with the food, seasoning does not. A hungry walker counts 1.1 (2005 reference
intakes). What does not fit is cooked in equal batches (``vessel.py``): liquids by their density, pieces a litre a kilogram,
half of the capacity for what swells or foams; lines without a known volume are named, and the sum says "at least". A later
batch finds the pot hot: 30 % of the pot's heat is open for each.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

_FULL_UP_TO = 2
_BEYOND = {False: Fraction(1, 2), True: Fraction(1, 4)}

Number = Fraction | Decimal | int


@dataclass(frozen=True)
class ScaledAmount:
    """A scaled low and high amount, in the unit of the line."""

    low: Fraction
    high: Fraction


def factor(old: Number, new: Number, old_portion_g: Number | None = None, new_portion_g: Number | None = None) -> Fraction:
    """Return by how much the amounts grow.

    Parameters
    ----------
    old, new : number > 0
        Servings the recipe was written for, and servings wanted. [-]
    old_portion_g, new_portion_g : number > 0, optional
        Size of one serving before and after, both or neither. Any one unit of mass will do. [g]

    Returns
    -------
    Fraction
        Exact multiple. [-]

    Raises
    ------
    ValueError
        If a number is not above zero, or only one portion size is given.

    Notes
    -----
    new / old, or (new x new portion) / (old x old portion).

    Examples
    --------
    >>> factor(100, 348), factor(48, 72, 4, 6)
    (Fraction(87, 25), Fraction(9, 4))
    """
    if (old_portion_g is None) != (new_portion_g is None):
        raise ValueError("a portion size is needed both before and after, or neither")
    numbers = [Fraction(number) for number in (old, new, old_portion_g or 1, new_portion_g or 1)]
    if min(numbers) <= 0 or 0 in (old_portion_g, new_portion_g):
        raise ValueError("servings and portions must be above zero")
    return numbers[1] * numbers[3] / (numbers[0] * numbers[2])


def seasoning_factor(k: Fraction, *, hot: bool = False) -> Fraction:
    """Return how much of a seasoning goes with ``k`` times the food.

    Parameters
    ----------
    k : Fraction > 0
        Multiple of the food. [-]
    hot : bool
        Ground red pepper and its kind.

    Returns
    -------
    Fraction
        In full up to twice, then half (hot: a quarter) of each further multiple. [-]

    References
    ----------
    A spice trade handbook's page on extending recipes: four times the food takes 3 times the herbs, 2.5 times the red pepper.

    Examples
    --------
    >>> seasoning_factor(Fraction(4)), seasoning_factor(Fraction(4), hot=True), seasoning_factor(Fraction(3, 2))
    (Fraction(3, 1), Fraction(5, 2), Fraction(3, 2))
    """
    return k if k <= _FULL_UP_TO else _FULL_UP_TO + (k - _FULL_UP_TO) * _BEYOND[hot]


def scale(
    low: Fraction,
    high: Fraction,
    rule: str,
    k: Fraction,
    *,
    batches: int = 1,
    hot: bool = False,
    evaporated: Fraction = Fraction(0),
    least: Fraction = Fraction(0),
) -> ScaledAmount:
    """Return a line's amount for ``k`` times the servings.

    Parameters
    ----------
    low, high : Fraction >= 0
        The written amount. [unit of the line]
    rule : str
        ``proportional``, ``fixed``, ``batch``, ``seasoning`` or ``simmer``.
    k : Fraction > 0
        Multiple of the servings. [-]
    batches : int >= 1
        How many potfuls are cooked one after the other. [-]
    hot : bool
        For a seasoning: it burns.
    evaporated : Fraction >= 0
        For a simmering liquid: what boils off an open pan in one batch. [unit of the line]
    least : Fraction >= 0
        For a liquid in a closed pot: what the appliance needs in each batch. [unit of the line]

    Returns
    -------
    ScaledAmount
        Exact amounts. [unit of the line]

    Raises
    ------
    ValueError
        If the rule is unknown, ``k`` is not above zero or there is no batch.

    Notes
    -----
    simmer: k (L - evaporated) + evaporated x batches, since an open pan loses by its surface and its time, not by its filling.
    seasoning: it is the larger pot that takes less; each batch is a pot of its own, so ten written pots take ten times the salt.

    Examples
    --------
    >>> scale(Fraction(1000), Fraction(1000), "simmer", Fraction(2), evaporated=Fraction(250)).low
    Fraction(1750, 1)
    >>> scale(Fraction(1), Fraction(2), "seasoning", Fraction(4))
    ScaledAmount(low=Fraction(3, 1), high=Fraction(6, 1))
    """
    if k <= 0 or batches < 1:
        raise ValueError("the multiple must be above zero and there must be at least one batch")
    if rule == "proportional":
        return ScaledAmount(max(k * low, least * batches), max(k * high, least * batches))
    if rule == "fixed":
        return ScaledAmount(low, high)
    if rule == "batch":
        return ScaledAmount(low * batches, high * batches)
    if rule == "seasoning":
        grown = batches * seasoning_factor(k / batches, hot=hot)
        return ScaledAmount(low * grown, high * grown)
    if rule == "simmer":
        return _simmered(low, high, k, batches, evaporated)
    raise ValueError(f"“{rule}” is not a scaling rule")


def _simmered(low: Fraction, high: Fraction, k: Fraction, batches: int, evaporated: Fraction) -> ScaledAmount:
    def liquid(amount: Fraction) -> Fraction:
        lost = min(evaporated, amount)
        return k * (amount - lost) + lost * batches

    return ScaledAmount(liquid(low), liquid(high))
