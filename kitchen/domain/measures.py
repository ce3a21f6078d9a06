"""The best kitchen measure for an exact amount: spoons, cups, ounces and grams that a cook really has."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from kitchen.domain import foods, steps
from kitchen.domain.facts import FoodFacts
from kitchen.domain.measure_words import exact_words, parts_words
from kitchen.domain.rounding import MOST_ERROR, is_near, nearest, within
from kitchen.domain.spoons import LADDERS, Part, spoon_parts
from kitchen.domain.steps import STYLES, Steps
from kitchen.domain.systems import NOMINAL_ERROR, POURED_UNITS, SYSTEMS, US_SPOONS, MeasureSystem, SpoonSet, teaspoons
from kitchen.domain.units import convert, size_of, to_base


@dataclass(frozen=True)
class Shown:
    """A measure to print: its words, the exact amount, and how far they are apart; ``coarse`` where that is worth a word.

    ``parts`` holds the same as numbers with unit keys, largest first.
    """

    text: str
    exact_text: str
    error_pct: float
    coarse: bool = False
    parts: tuple[Part, ...] = ()


def kitchen_measure(
    amount: Fraction, unit: str, style: str = "school", system: str = "written", food: FoodFacts | None = None
) -> Shown:
    """Return the best kitchen measure of an exact amount.

    Parameters
    ----------
    amount : Fraction > 0
        The exact amount. [unit]
    unit : str
        A key of ``UNITS``; empty for whole things.
    style : str
        ``school``, ``forces`` or ``small``: whose table of steps.
    system : str
        A key of ``SYSTEMS``: ``written`` keeps the cook's own kind of unit, the others change it.
    food : FoodFacts, optional
        Lets a volume become a weight, or a small weight a spoon; says whether one piece is large enough to be quartered.

    Returns
    -------
    Shown
        Words, exact words, and the rounding error. [%]

    Raises
    ------
    ValueError
        If the amount is not above zero, or the style or system is unknown.

    Notes
    -----
    The table's step is made finer until the error is at most 5 %, down to the smallest spoon; what is left then is said. Things
    are whole where that is near enough, else they go to the nearest half, and one that weighs 55 g or more (a lemon, an onion, no
    egg) to the third or quarter that comes nearer. A splash or a glug is nobody's exact measure, so nothing is said of it.
    Metric and British readers weigh what is not poured, where its weight is known, and keep spoons up to three tablespoons;
    Australian ones have spoons and cups up to a litre.

    References
    ----------
    US school-meals "Guide for Rounding Off Weights and Measures"; US armed-forces recipe service, TM 10-412.

    Examples
    --------
    >>> kitchen_measure(Fraction("4.35"), "lb", "forces").text, kitchen_measure(Fraction("4.35"), "lb", "school").text
    ('4 lb 5½ oz', '4 lb 6 oz')
    >>> kitchen_measure(Fraction(14, 5), "tbsp", "small").text
    '2 tbsp 2⅜ tsp'
    >>> kitchen_measure(Fraction(1), "cup", system="au").text, kitchen_measure(Fraction(1), "pint_imp", system="uk").text
    ('¾ cup 2½ tbsp', '570 mL')
    >>> egg = kitchen_measure(Fraction(4, 3), "")
    >>> egg.text, egg.exact_text, egg.coarse
    ('1½', '1⅓', True)
    """
    if amount <= 0:
        raise ValueError("an amount to measure must be above zero")
    if style not in STYLES or system not in SYSTEMS:
        raise ValueError(f"“{style}” or “{system}” is not a way of measuring")
    return _measured(amount, unit, style, system, food)


# A page asks for the same few dozen amounts again and again, by two tables.
@lru_cache(maxsize=8192)
def _measured(amount: Fraction, unit: str, style: str, system: str, food: FoodFacts | None) -> Shown:
    if size_of(unit).dimension == "count":
        return _shown(((_things(amount, cut=_can_be_cut(unit, food)), unit),), amount, amount, unit, system)
    measures = SYSTEMS[system]
    if measures.spoons is not None and _is_spooned(amount, unit, measures):
        return _spooned(amount, unit, STYLES[style], measures, measures.spoons)
    target, target_unit = _target(amount, unit, measures, food, STYLES[style])
    parts = _parts(target, target_unit, unit, measures, STYLES[style])
    return _shown(parts, target, target, target_unit, system)


def _shown(parts: tuple[Part, ...], exact: Fraction, meant: Fraction, unit: str, system: str) -> Shown:
    """Return the measure with its error against ``exact``; ``meant`` is what words tell, a spoon being a spoon. [unit]"""
    rounded = sum((convert(number, key, unit) for number, key in parts), Fraction(0))
    error = (rounded - exact) / exact
    text = parts_words(parts, system)
    told = text if rounded == meant else exact_words(meant, unit, system)
    coarse = abs(error) > MOST_ERROR and unit not in _ROUGH
    return Shown(text, told, round(float(100 * error), 2), coarse, parts)


# What rounding may add where a US spoon stands for a metric one already.
_MOST_NOMINAL = (1 + MOST_ERROR) * (1 - NOMINAL_ERROR) - 1


def _is_spooned(amount: Fraction, unit: str, system: MeasureSystem) -> bool:
    """Say whether this is more than a pinch or two, of a volume for which the system has spoons or cups."""
    volume_ml, kind = to_base(amount, unit)
    return kind == "mL" and not (unit in ("pinch", "dash") and amount < 4) and system.has_spoons_for(volume_ml, unit)


def _spooned(amount: Fraction, unit: str, style: Steps, system: MeasureSystem, spoons: SpoonSet) -> Shown:
    meant, nominal = teaspoons(amount, unit, spoons)
    parts = spoon_parts(meant, style, spoons, most=_MOST_NOMINAL if nominal else MOST_ERROR)
    if system.dessert_spoon and parts == ((Fraction(2), spoons.tsp),) and unit != "tsp":
        parts = ((Fraction(1), system.dessert_spoon),)
    return _shown(parts, convert(amount, unit, spoons.tsp), meant, spoons.tsp, system.key)


def _target(amount: Fraction, unit: str, system: MeasureSystem, food: FoodFacts | None, style: Steps) -> Part:
    """Return the amount in the unit that is rounded: g, mL, oz, tsp, or the cook's own."""
    if system.customary:
        return _customary(amount, unit, food, style)
    if system.as_written or (unit in ("pinch", "dash") and amount < 4):
        return _as_written(amount, unit)
    base, kind = to_base(amount, unit)
    density = foods.g_per_ml(food) if kind == "mL" and system.weighs else None
    if density and food is not None and not foods.is_liquid(food):
        return base * Fraction(density).limit_denominator(10000), "g"
    return base, kind


def _as_written(amount: Fraction, unit: str) -> Part:
    if unit in ("g", "kg", "mg"):
        return convert(amount, unit, "g"), "g"
    if unit in POURED_UNITS:
        return convert(amount, unit, "mL"), "mL"
    if unit in ("oz", "lb"):
        return convert(amount, unit, "oz"), "oz"
    if unit in LADDERS or (unit in ("pinch", "dash") and amount >= 4):
        return convert(amount, unit, "tsp"), "tsp"
    return amount, unit


def _customary(amount: Fraction, unit: str, food: FoodFacts | None, style: Steps) -> Part:
    base, kind = to_base(amount, unit)
    if kind == "mL":
        return (amount, unit) if unit in ("pinch", "dash") and amount < 4 else (convert(base, "mL", "tsp"), "tsp")
    ounces, density = convert(base, "g", "oz"), foods.g_per_ml(food)
    if ounces < 2 and density and not is_near(ounces, nearest(ounces, steps.SMALLEST_OUNCES)):
        return convert(base / Fraction(density).limit_denominator(10000), "mL", "tsp"), "tsp"
    return ounces, "oz"


def _parts(target: Fraction, target_unit: str, unit: str, system: MeasureSystem, style: Steps) -> tuple[Part, ...]:
    if target_unit == "g":
        return _metric_parts(target, "g", "kg")
    if target_unit == "mL":
        return _in_own_unit(_metric_parts(target, "mL", "L"), unit if system.as_written else "mL")
    if target_unit == "oz":
        return _ounce_parts(target, style)
    if target_unit == "tsp":
        own = system.as_written or unit in ("pinch", "dash")
        return spoon_parts(target, style, US_SPOONS, LADDERS.get(unit, LADDERS["tsp"]) if own else ())
    smallest = Fraction(1, 2) if target_unit in ("pinch", "dash") else steps.SMALLEST_TEASPOON
    return ((within(target, max(_own_step(target), smallest), smallest), target_unit),)


def _in_own_unit(parts: tuple[Part, ...], unit: str) -> tuple[Part, ...]:
    """Keep a cook's decilitres and centilitres as long as they are at least one and less than a litre."""
    number, key = parts[0]
    if unit not in ("cL", "dL") or key != "mL" or number < convert(Fraction(1), unit, "mL"):
        return parts
    return ((convert(number, "mL", unit), unit),)


def _own_step(amount: Fraction) -> Fraction:
    return Fraction(1, 2) if amount >= 10 else Fraction(1, 4)


def _things(amount: Fraction, *, cut: bool) -> Fraction:
    """Return whole things where that is near enough, else halves, and for what can be ``cut`` the nearest third or quarter.

    Less than a quarter of one goes to the nearest eighth.
    """
    if amount < Fraction(1, 4):
        return nearest(amount, Fraction(1, 8))
    for step in (Fraction(1), Fraction(1, 2)):
        if is_near(amount, rounded := nearest(amount, step)):
            return rounded
    marks = [nearest(amount, Fraction(1, parts)) for parts in ((2, 3, 4) if cut else (2,))]
    return min(marks, key=lambda rounded: (abs(rounded - amount), rounded.denominator))


# Measures that no two hands take alike.
_ROUGH = frozenset({"dollop", "drizzle", "drop", "glug", "handful", "knob", "splash"})
# What can be cut or poured at a third or a quarter, unlike an egg or a clove of garlic.
_DIVISIBLE = _ROUGH | frozenset(
    {"bag", "bar", "block", "bottle", "box", "bulb", "bunch", "can", "carton", "glass", "head", "jar", "mug"}
    | {"ball", "case", "ladle", "loaf", "packet", "piece", "pot", "punnet", "sachet", "scoop", "sheet", "stick", "tray", "tube"}
)
_LARGE_PIECE_G = 55


def _can_be_cut(unit: str, food: FoodFacts | None) -> bool:
    """Say whether a third or a quarter of one is a sensible thing to ask for; of whole things only the large ones are cut."""
    if unit in ("", "each"):
        return (foods.grams(Fraction(1), unit, food) or 0) >= _LARGE_PIECE_G
    return unit in _DIVISIBLE


_METRIC_STEPS = (
    (10, Fraction(1, 2)),
    (100, Fraction(1)),
    (500, Fraction(5)),
    (1000, Fraction(10)),
    (5000, Fraction(50)),
)


def _metric_parts(amount: Fraction, small: str, large: str) -> tuple[Part, ...]:
    step = next((step for bound, step in _METRIC_STEPS if amount < bound), Fraction(100))
    rounded = nearest(amount, step)
    if not is_near(amount, rounded):
        rounded = nearest(amount, Fraction(1, 10))
    return ((rounded / 1000, large),) if rounded >= 1000 else ((rounded, small),)


def _ounce_parts(ounces: Fraction, style: Steps) -> tuple[Part, ...]:
    rounded = within(ounces, style.ounce_step(ounces), steps.SMALLEST_OUNCES / 2)
    pounds, rest = divmod(rounded, 16)
    parts = [(Fraction(pounds), "lb")] if pounds else []
    return (*parts, (rest, "oz")) if rest or not parts else tuple(parts)
