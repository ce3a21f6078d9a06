"""The kitchen's units: an allow-list of our own with exact factors, and the program's one door to pint.

A word that a person typed is looked up in this list and nowhere else: a general unit library reads "pinch" as a pico-inch.
pint checks the list (``factors_by_pint``) and converts what is no kitchen measure (``by_pint``), with exact fractions throughout.
It hears only names that the program wrote, never what a person typed.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from kitchen.domain.unit_counts import COUNTS

_ML_PER_GALLON = 231 * Fraction("16.387064")  # 231 cubic inches
_ML_PER_IMPERIAL_GALLON = Fraction("4546.09")
_G_PER_POUND = Fraction("453.59237")


@dataclass(frozen=True)
class Unit:
    """One unit: its key, how it is printed, and its exact size.

    ``dimension`` is ``mass``, ``volume`` or ``count``; ``per_base`` is the size in g, mL or each. A count other than a single
    thing (a clove, a can) has no size of its own: the food gives it one.
    """

    key: str
    label: str
    plural: str
    dimension: str
    per_base: Fraction | None = None
    words: tuple[str, ...] = ()


def _mass(key: str, label: str, size: Fraction | int, words: str, plural: str = "") -> Unit:
    return Unit(key, label, plural or label, "mass", Fraction(size), _listed(words))


def _volume(key: str, label: str, size: Fraction | int, words: str, plural: str = "") -> Unit:
    return Unit(key, label, plural or label, "volume", Fraction(size), _listed(words))


def _count(label: str, plural: str, words: str = "") -> Unit:
    return Unit(label, label, plural, "count", None, (label, plural, *_listed(words)))


def _listed(words: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in words.split(",") if word.strip())


_TSP = _ML_PER_GALLON / 768

_ALL = (
    _mass("g", "g", 1, "g, gr, grs, gm, gms, gram, grams, gramme, grammes"),
    _mass("kg", "kg", 1000, "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes"),
    _mass("mg", "mg", Fraction(1, 1000), "mg, milligram, milligrams"),
    _mass("oz", "oz", _G_PER_POUND / 16, "oz, ozs, ounce, ounces"),
    _mass("lb", "lb", _G_PER_POUND, "lb, lbs, pound, pounds"),
    _volume("mL", "mL", 1, "ml, mls, cc, millilitre, millilitres, milliliter, milliliters"),
    _volume("cL", "cL", 10, "cl, centilitre, centilitres, centiliter, centiliters"),
    _volume("dL", "dL", 100, "dl, decilitre, decilitres, deciliter, deciliters"),
    _volume("L", "L", 1000, "l, lt, lts, ltr, ltrs, litre, litres, liter, liters"),
    _volume(
        "tsp",
        "tsp",
        _TSP,
        "tsp, tsps, tspn, tspns, ts, teas, teasp, teaspn, teaspoon, teaspoons, teaspoonful, teaspoonfuls, teaspoonsful, "
        "tea spoon, tea spoons, tl, c. à café",
    ),
    _volume(
        "dsp", "dsp", 10, "dsp, dsps, dstspn, dstsp, dessertsp, dessertspoon, dessertspoons, dessertspoonful, dessertspoonfuls"
    ),
    _volume(
        "tbsp",
        "tbsp",
        3 * _TSP,
        "tbsp, tbsps, tbs, tb, tblsp, tblsps, tbl, tbls, tblspn, tbspn, tbspns, tbspoon, tablesp, tablespoon, tablespoons, "
        "tablespoonful, tablespoonfuls, tablespoonsful, table spoon, table spoons, el, c. à soupe",
    ),
    # The spoons of metric kitchens: printed as plain spoons to a reader who chose such measures.
    _volume("tsp_metric", "metric tsp", 5, "metric tsp, metric teaspoon, metric teaspoons"),
    _volume("tbsp_metric", "metric tbsp", 15, "metric tbsp, metric tablespoon, metric tablespoons"),
    _volume("tbsp_au", "Australian tbsp", 20, "australian tbsp, australian tablespoon, australian tablespoons"),
    _volume(
        "floz",
        "fl oz",
        _ML_PER_GALLON / 128,
        "fl oz, floz, fl. oz, fl ozs, fl ounce, fl ounces, fluid ounce, fluid ounces, fluid oz",
    ),
    _volume("cup", "cup", _ML_PER_GALLON / 16, "cup, cups, c, cs, cp, cps, cupful, cupfuls, cupsful, us cup, us cups", "cups"),
    _volume("cup_metric", "metric cup", 250, "metric cup, metric cups", "metric cups"),
    _volume("gill", "gill", _ML_PER_GALLON / 32, "gill, gills", "gills"),
    _volume("pint", "pint", _ML_PER_GALLON / 8, "pint, pints, pt, pts, us pint, us pints", "pints"),
    _volume("quart", "quart", _ML_PER_GALLON / 4, "quart, quarts, qt, qts", "quarts"),
    _volume("gallon", "gallon", _ML_PER_GALLON, "gallon, gallons, gal, gals, us gallon, us gallons", "gallons"),
    # The dry peck of 537.605 cubic inches (NIST Handbook 44, Appendix C).
    _volume("peck", "peck", Fraction("537.605") * Fraction("16.387064"), "peck, pecks", "pecks"),
    _volume("floz_imp", "imperial fl oz", _ML_PER_IMPERIAL_GALLON / 160, "imperial fl oz, imperial fluid ounces, uk fl oz"),
    _volume(
        "pint_imp",
        "imperial pint",
        _ML_PER_IMPERIAL_GALLON / 8,
        "imperial pint, imperial pints, uk pint, uk pints",
        "imperial pints",
    ),
    _volume(
        "gallon_imp",
        "imperial gallon",
        _ML_PER_IMPERIAL_GALLON,
        "imperial gallon, imperial gallons, uk gallon",
        "imperial gallons",
    ),
    # Pinch and dash as spoon makers sell them (common practice).
    _volume("pinch", "pinch", _TSP / 16, "pinch, pinches", "pinches"),
    _volume("dash", "dash", _TSP / 8, "dash, dashes", "dashes"),
    Unit("each", "", "", "count", Fraction(1), ("each", "ea", "nos", "numbers")),
    *(_count(*row) for row in COUNTS),
)

UNITS: dict[str, Unit] = {unit.key: unit for unit in _ALL}
BASE = {"mass": "g", "volume": "mL", "count": "each"}

_BY_WORD = {word: unit for unit in _ALL for word in (*unit.words, unit.plural.lower()) if word}
# A capital tells a tablespoon from a teaspoon in many American family recipes.
_BY_EXACT_WORD = {"T": UNITS["tbsp"], "Tb": UNITS["tbsp"], "t": UNITS["tsp"], "C": UNITS["cup"]}


class CannotConvert(ValueError):
    """Two units measure different things, or a count has no size of its own."""


def find_unit(word: str) -> Unit | None:
    """Return the unit that a person's word means, or None: nothing outside the list is ever a unit.

    Examples
    --------
    >>> find_unit("Tbsp.").key, find_unit("T").key, find_unit("t").key, find_unit("fl. oz.").key, find_unit("tins").key
    ('tbsp', 'tbsp', 'tsp', 'floz', 'can')
    >>> find_unit("meter") is None
    True
    """
    plain = word.strip().rstrip(".")
    return _BY_EXACT_WORD.get(plain) or _BY_WORD.get(" ".join(plain.lower().split())) or UNITS.get(plain)


def size_of(unit_key: str) -> Unit:
    """Return the unit of a key; the empty key is a single thing.

    Raises
    ------
    CannotConvert
        If no such unit is in the list.
    """
    unit = UNITS.get(unit_key or "each")
    if unit is None:
        raise CannotConvert(f"“{unit_key}” is not one of the kitchen's units")
    return unit


def to_base(amount: Fraction, unit_key: str) -> tuple[Fraction, str]:
    """Return the amount in grams, millilitres or pieces, and which of the three.

    Parameters
    ----------
    amount : Fraction
        How many of the unit. [unit_key]
    unit_key : str
        A key of ``UNITS``; empty for single things.

    Returns
    -------
    tuple of (Fraction, str)
        Exact amount and ``"g"``, ``"mL"`` or ``"each"``. A clove or a can counts as one each.

    Raises
    ------
    CannotConvert
        If the unit is not in the list.

    References
    ----------
    NIST Handbook 44, Appendix C (gallon of 231 cubic inches, avoirdupois pound); UK Weights and Measures Act (imperial gallon).

    Examples
    --------
    >>> to_base(Fraction(1), "lb")
    (Fraction(45359237, 100000), 'g')
    >>> to_base(Fraction(2), "clove")
    (Fraction(2, 1), 'each')
    """
    unit = size_of(unit_key)
    return amount * (unit.per_base or 1), BASE[unit.dimension]


def volume_ml(amount: Fraction, unit_key: str) -> Fraction | None:
    """Return a volume in millilitres, exactly; None for a weight, a count or a unit that is not in the list. [mL]

    Examples
    --------
    >>> volume_ml(Fraction(2), "L"), volume_ml(Fraction(2), "g"), volume_ml(Fraction(2), "")
    (Fraction(2000, 1), None, None)
    """
    unit = UNITS.get(unit_key)
    return amount * unit.per_base if unit is not None and unit.dimension == "volume" and unit.per_base else None


def convert(amount: Fraction, from_key: str, to_key: str) -> Fraction:
    """Return the amount in another unit of the same dimension, exactly.

    Raises
    ------
    CannotConvert
        If the two measure different things, or are different counts; the message says so.

    Examples
    --------
    >>> convert(Fraction(1), "cup", "tbsp"), convert(Fraction(1), "lb", "oz")
    (Fraction(16, 1), Fraction(16, 1))
    >>> convert(Fraction(1), "cup", "g")
    Traceback (most recent call last):
    ...
    kitchen.domain.units.CannotConvert: cup measures volume and g measures mass: only the food itself can tell one from the other
    """
    start, end = size_of(from_key), size_of(to_key)
    if start.key == end.key:
        return amount
    if start.dimension != end.dimension:
        raise CannotConvert(
            f"{start.key} measures {start.dimension} and {end.key} measures {end.dimension}: "
            "only the food itself can tell one from the other"
        )
    if start.per_base is None or end.per_base is None:
        raise CannotConvert(f"a {start.key} and a {end.key} have no fixed size between them")
    return amount * start.per_base / end.per_base


def label_of(unit_key: str, amount: Fraction) -> str:
    """Return the unit as printed beside the amount: ``cup`` up to one, ``cups`` above."""
    unit = size_of(unit_key)
    return unit.label if amount <= 1 else unit.plural


_PINT_NAMES = {
    "kg": "kilogram",
    "mg": "milligram",
    "oz": "ounce",
    "lb": "pound",
    "cL": "centiliter",
    "dL": "deciliter",
    "L": "liter",
    "tsp": "teaspoon",
    "tbsp": "tablespoon",
    "floz": "fluid_ounce",
    "cup": "cup",
    "pint": "pint",
    "quart": "quart",
    "gallon": "gallon",
    "floz_imp": "imperial_fluid_ounce",
    "pint_imp": "imperial_pint",
    "gallon_imp": "imperial_gallon",
}


@cache
def _registry() -> Any:
    """Return pint's own list. It takes half a second to load, so that the server does it once, before its workers fork."""
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)


@cache
def by_pint(unit: str, into: str) -> tuple[Fraction, Fraction]:
    """Return what an amount is multiplied by, and what is then added, to stand in another unit. Asked of pint once for each pair.

    Parameters
    ----------
    unit, into : str
        Names as pint writes them.

    Examples
    --------
    >>> by_pint("kilowatt_hour", "watt_hour"), by_pint("degF", "degC")
    ((Fraction(1000, 1), Fraction(0, 1)), (Fraction(5, 9), Fraction(-160, 9)))
    """
    at_none, at_one = (Fraction(_registry().Quantity(Fraction(amount), unit).to(into).magnitude) for amount in (0, 1))
    return at_one - at_none, at_none


def factors_by_pint() -> dict[str, Fraction]:
    """Return the size of every unit that pint knows too, in g or mL, worked out by pint with exact fractions."""
    into = {"mass": "gram", "volume": "milliliter"}
    return {key: by_pint(name, into[UNITS[key].dimension])[0] for key, name in _PINT_NAMES.items()}
