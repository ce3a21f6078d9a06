"""From the amount in a recipe to the unit of a quote: exact, through the food's own weights, never through water."""

from __future__ import annotations

from fractions import Fraction

from kitchen.domain.facts import FoodFacts, LineFacts
from kitchen.domain.foods import grams, line_amount, line_grams, piece_key
from kitchen.domain.remark import Remark, remark
from kitchen.domain.units import UNITS, to_base

_PIECES = {"", "each", "piece"}
_MEASURED = {"mass": "g", "volume": "mL"}
_NEEDS = {"mL": "needs_density", "each": "needs_piece_weight"}


def based(amount: Fraction, unit: str) -> tuple[Fraction, str]:
    """Return an amount in its base unit: g, mL, each, or the household word itself (bunch, clove, can).

    Parameters
    ----------
    amount : Fraction
        How much. [unit]
    unit : str
        A key of the unit list; empty for pieces.

    Raises
    ------
    ValueError
        If the unit is not in the list.

    Examples
    --------
    >>> based(Fraction(3, 2), "kg"), based(Fraction(12), ""), based(Fraction(2), "bunch")
    ((Fraction(1500, 1), 'g'), (Fraction(12, 1), 'each'), (Fraction(2, 1), 'bunch'))
    """
    if unit in _PIECES:
        return amount, "each"
    known = UNITS.get(unit)
    if known is None:
        raise ValueError(f"“{unit}” is not a unit we know.")
    return to_base(amount, unit) if known.dimension in _MEASURED else (amount, unit)


def in_base(line: LineFacts, base: str) -> Fraction | None:
    """Return how much of its food a line uses, in the base unit that a quote is priced in; None where the weights do not tell.

    Parameters
    ----------
    line : LineFacts
        The line as read, with its food. Of a range the mean of both ends is taken.
    base : str
        ``g``, ``mL``, ``each`` or a household word, as `based` returns it.

    Notes
    -----
    Between mass, volume and count the way goes over grams: a weight that the line itself gives ("2 x 400 g tins"), else the
    food's weights. Those are taken at their printed decimal values, so that the cost stays exact.

    Examples
    --------
    >>> oil = FoodFacts("rapeseed oil", g_per_ml=0.92)
    >>> in_base(LineFacts("30 mL oil", Fraction(30), Fraction(30), "mL", food=oil), "g")
    Fraction(138, 5)
    >>> in_base(LineFacts("2 cups oil", Fraction(2), Fraction(2), "cup", food=FoodFacts("oil")), "g") is None
    True
    """
    amount = line_amount(line)
    if amount is None or line.food is None:
        return None
    try:
        own_amount, own_base = based(amount, line.unit)
    except ValueError:
        return None
    if piece_key(own_base) == piece_key(base):
        return own_amount
    weight, of_one = _line_weight(line, own_amount, own_base), _gram_weight(base, line.food)
    return None if weight is None or not of_one else weight / of_one


def why_not_in_base(line: LineFacts, base: str) -> Remark:
    """Return what is missing when `in_base` returns None.

    Examples
    --------
    >>> why_not_in_base(LineFacts("2 onions", Fraction(2), Fraction(2), food=FoodFacts("onion")), "g")
    Remark(code='needs_piece_weight', values={'own': 'each', 'base': 'g', 'missing': 'each'})
    """
    food = line.food or FoodFacts("")
    try:
        own = based(Fraction(1), line.unit)[1]
    except ValueError:
        return remark("unknown_unit", unit=line.unit)
    missing = next((place for place in (own, base) if not _gram_weight(place, food)), own)
    return remark(_NEEDS.get(missing, "needs_unit_weight"), own=own, base=base, missing=missing)


def can_convert(food: FoodFacts, base: str) -> bool:
    """Return whether a price by this base unit can be turned into a price by weight, so that any line can use it.

    Examples
    --------
    >>> can_convert(FoodFacts("onion", g_per_each=110.0), "each"), can_convert(FoodFacts("onion"), "mL")
    (True, False)
    """
    return bool(_gram_weight(base, food))


def _line_weight(line: LineFacts, own_amount: Fraction, own_base: str) -> Fraction | None:
    """The grams of a whole line: exact from its own unit where it carries no other weight, else as the kitchen weighs it."""
    if line.food is not None and not line.size and not line.also:
        of_one = _gram_weight(own_base, line.food)
        return None if not of_one else own_amount * of_one
    weighed = line_grams(line)
    return None if weighed is None else Fraction(str(weighed))


def _gram_weight(base: str, food: FoodFacts) -> Fraction | None:
    """The grams of one base unit of this food."""
    if base == "g":
        return Fraction(1)
    weight = grams(Fraction(1), base, food)
    return None if weight is None else Fraction(str(weight))
