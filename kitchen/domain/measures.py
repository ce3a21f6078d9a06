"""The best kitchen measure for an exact amount: spoons, cups, ounces and grams that a cook really has."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from kitchen.domain import foods, steps
from kitchen.domain.amounts import format_amount, format_decimal
from kitchen.domain.facts import FoodFacts
from kitchen.domain.steps import STYLES, Steps
from kitchen.domain.units import UNITS, convert, label_of, size_of, to_base

MOST_ERROR = Fraction(5, 100)
SYSTEMS = ("written", "metric", "us")

Part = tuple[Fraction, str]


@dataclass(frozen=True)
class Shown:
    """A measure to print: its words, the exact amount, how far they are apart, and a few words where that is more than 5 %.

    ``parts`` holds the same as numbers with unit keys, largest first.
    """

    text: str
    exact_text: str
    error_pct: float
    said: str = ""
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
        ``written`` keeps the cook's own kind of unit, ``metric`` and ``us`` change it.
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
    The table's step is halved until the error is at most 5 %, down to the smallest spoon; what is left then is said. Things are
    whole where that is near enough, else they go to the nearest half, and one that weighs 55 g or more (a lemon, an onion, no
    egg) to the third or quarter that comes nearer. A splash or a glug is nobody's exact measure, so nothing is said of it.

    References
    ----------
    US school-meals "Guide for Rounding Off Weights and Measures"; US armed-forces recipe service, TM 10-412.

    Examples
    --------
    >>> kitchen_measure(Fraction("4.35"), "lb", "forces").text, kitchen_measure(Fraction("4.35"), "lb", "school").text
    ('4 lb 5½ oz', '4 lb 6 oz')
    >>> kitchen_measure(Fraction(14, 5), "tbsp", "small").text
    '2 tbsp 2⅜ tsp'
    >>> egg = kitchen_measure(Fraction(4, 3), "")
    >>> egg.text, egg.said
    ('1½', 'rounded from 1⅓')
    """
    if amount <= 0:
        raise ValueError("an amount to measure must be above zero")
    if style not in STYLES or system not in SYSTEMS:
        raise ValueError(f"“{style}” or “{system}” is not a way of measuring")
    target, target_unit = _target(amount, unit, system, food, STYLES[style])
    if size_of(target_unit).dimension == "count":
        parts: tuple[Part, ...] = ((_things(target, cut=_can_be_cut(target_unit, food)), target_unit),)
    else:
        parts = _parts(target, target_unit, unit, system, STYLES[style])
    rounded = sum((convert(number, key, target_unit) for number, key in parts), Fraction(0))
    return _shown(parts, target, target_unit, rounded)


def _shown(parts: tuple[Part, ...], target: Fraction, target_unit: str, rounded: Fraction) -> Shown:
    error = (rounded - target) / target
    exact = exact_words(target, target_unit)
    said = f"rounded from {exact}" if abs(error) > MOST_ERROR and target_unit not in _ROUGH else ""
    return Shown(parts_words(parts), exact, round(float(100 * error), 2), said, parts)


def _target(amount: Fraction, unit: str, system: str, food: FoodFacts | None, style: Steps) -> Part:
    """Return the amount in the unit that is rounded: g, mL, oz, tsp, or the cook's own."""
    dimension = size_of(unit).dimension
    if system == "metric" and dimension != "count":
        return _metric(amount, unit, food)
    if system == "us" and dimension != "count":
        return _customary(amount, unit, food, style)
    return _as_written(amount, unit)


def _as_written(amount: Fraction, unit: str) -> Part:
    if unit in ("g", "kg", "mg"):
        return convert(amount, unit, "g"), "g"
    if unit in ("mL", "cL", "dL", "L"):
        return convert(amount, unit, "mL"), "mL"
    if unit in ("oz", "lb"):
        return convert(amount, unit, "oz"), "oz"
    if unit in _LADDERS or (unit in ("pinch", "dash") and amount >= 4):
        return convert(amount, unit, "tsp"), "tsp"
    return amount, unit


_SPOONS = frozenset({"tsp", "tbsp", "pinch", "dash"})
_MOST_SPOONS_ML = 45


def _metric(amount: Fraction, unit: str, food: FoodFacts | None) -> Part:
    base, kind = to_base(amount, unit)
    if unit in _SPOONS and base < _MOST_SPOONS_ML:
        return _as_written(amount, unit)
    if kind == "mL" and food is not None and food.g_per_ml and not foods.is_liquid(food):
        return base * Fraction(food.g_per_ml).limit_denominator(10000), "g"
    return base, kind


def _customary(amount: Fraction, unit: str, food: FoodFacts | None, style: Steps) -> Part:
    base, kind = to_base(amount, unit)
    if kind == "mL":
        return (amount, unit) if unit in ("pinch", "dash") and amount < 4 else (convert(base, "mL", "tsp"), "tsp")
    ounces = convert(base, "g", "oz")
    if ounces < 2 and food is not None and food.g_per_ml and not _nearly(ounces, _nearest(ounces, steps.SMALLEST_OUNCES)):
        return convert(base / Fraction(food.g_per_ml).limit_denominator(10000), "mL", "tsp"), "tsp"
    return ounces, "oz"


def _nearly(exact: Fraction, rounded: Fraction) -> bool:
    return abs(rounded - exact) <= MOST_ERROR * exact


def _nearest(exact: Fraction, step: Fraction) -> Fraction:
    """Round half up to the step, never down to nothing."""
    return max(step * ((2 * exact + step) // (2 * step)), step)


def _within(exact: Fraction, step: Fraction, smallest: Fraction) -> Fraction:
    """Round to the step, halved as often as 5 % asks and the smallest measure allows."""
    rounded = _nearest(exact, step)
    while not _nearly(exact, rounded) and step > smallest:
        step = max(step / 2, smallest)
        rounded = _nearest(exact, step)
    return rounded


_LADDERS: dict[str, tuple[str, ...]] = {
    "tsp": ("tbsp", "tsp"),
    "tbsp": ("tbsp", "tsp"),
    "cup": ("cup", "tbsp", "tsp"),
    "quart": ("quart", "cup", "tbsp", "tsp"),
    "gallon": ("gallon", "quart", "cup", "tbsp", "tsp"),
}
_WHOLE_LADDER = ("gallon", "quart", "pint", "cup", "tbsp", "tsp")


def _parts(target: Fraction, target_unit: str, unit: str, system: str, style: Steps) -> tuple[Part, ...]:
    if target_unit == "g":
        return _metric_parts(target, "g", "kg")
    if target_unit == "mL":
        return _in_own_unit(_metric_parts(target, "mL", "L"), unit if system == "written" else "mL")
    if target_unit == "oz":
        return _ounce_parts(target, style)
    if target_unit == "tsp":
        ladder = _LADDERS.get(unit, _LADDERS["tsp"]) if system == "written" or unit in ("pinch", "dash") else _LADDERS["gallon"]
        return _spoon_parts(target, ladder, style)
    smallest = Fraction(1, 2) if target_unit in ("pinch", "dash") else steps.SMALLEST_TEASPOON
    return ((_within(target, max(_own_step(target), smallest), smallest), target_unit),)


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
        return _nearest(amount, Fraction(1, 8))
    for step in (Fraction(1), Fraction(1, 2)):
        if _nearly(amount, rounded := _nearest(amount, step)):
            return rounded
    nearest = [_nearest(amount, Fraction(1, parts)) for parts in ((2, 3, 4) if cut else (2,))]
    return min(nearest, key=lambda rounded: (abs(rounded - amount), rounded.denominator))


# Measures that no two hands take alike.
_ROUGH = frozenset({"dollop", "drizzle", "drop", "glug", "handful", "knob", "splash"})
# What can be cut or poured at a third or a quarter, unlike an egg or a clove of garlic.
_DIVISIBLE = _ROUGH | frozenset(
    {"bag", "bar", "block", "bottle", "box", "bunch", "can", "carton", "glass", "head", "jar", "ladle", "loaf", "mug"}
    | {"ball", "packet", "piece", "pot", "punnet", "sachet", "scoop", "sheet", "stick", "tube"}
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
    rounded = _nearest(amount, step)
    if not _nearly(amount, rounded):
        rounded = _nearest(amount, Fraction(1, 10))
    return ((rounded / 1000, large),) if rounded >= 1000 else ((rounded, small),)


def _ounce_parts(ounces: Fraction, style: Steps) -> tuple[Part, ...]:
    rounded = _within(ounces, style.ounce_step(ounces), steps.SMALLEST_OUNCES / 2)
    pounds, rest = divmod(rounded, 16)
    parts = [(Fraction(pounds), "lb")] if pounds else []
    return (*parts, (rest, "oz")) if rest or not parts else tuple(parts)


def _spoon_parts(teaspoons: Fraction, ladder: tuple[str, ...], style: Steps) -> tuple[Part, ...]:
    if style is steps.FORCES:
        rounded = _within(teaspoons, style.teaspoon_step(teaspoons), steps.SMALLEST_TEASPOON)
        largest = _WHOLE_LADDER.index(ladder[0])
        return _whole_parts(rounded, _WHOLE_LADDER[largest:])
    if teaspoons % 12 == 0 or (teaspoons % 16 == 0 and teaspoons < 2 * steps.QUART):
        return _cup_parts(teaspoons, ladder)
    return _cup_parts(_within(teaspoons, style.teaspoon_step(teaspoons), steps.SMALLEST_TEASPOON), ladder)


def _whole_parts(teaspoons: Fraction, ladder: tuple[str, ...]) -> tuple[Part, ...]:
    """Take whole measures from the largest down; the last takes what is left, with its fraction."""
    parts: list[Part] = []
    for key in ladder[:-1]:
        size = convert(Fraction(1), key, "tsp")
        number, teaspoons = divmod(teaspoons, size)
        if number:
            parts.append((Fraction(number), key))
    return (*parts, (teaspoons, ladder[-1])) if teaspoons or not parts else tuple(parts)


def _cup_parts(teaspoons: Fraction, ladder: tuple[str, ...]) -> tuple[Part, ...]:
    """Take gallons and quarts whole, cups in the fractions that are sold, then spoons."""
    above = [key for key in ladder if key in ("gallon", "quart")]
    parts = list(_whole_parts(teaspoons, (*above, "tsp"))) if above else [(teaspoons, "tsp")]
    rest = parts.pop()[0] if parts[-1][1] == "tsp" else Fraction(0)
    if "cup" in ladder and rest >= 12:
        step = 16 if rest % 16 == 0 else 12
        cups = rest // step * step
        parts.append((Fraction(cups, steps.CUP), "cup"))
        rest -= cups
    return (*parts, *_spoons(rest)) if rest else tuple(parts)


def _spoons(teaspoons: Fraction) -> tuple[Part, ...]:
    if teaspoons < steps.TBSP:
        return ((teaspoons, "tsp"),)
    if teaspoons % Fraction(3, 2) == 0:
        return ((teaspoons / steps.TBSP, "tbsp"),)
    return _whole_parts(teaspoons, ("tbsp", "tsp"))


_SHORT = {"quart": "qt", "gallon": "gal", "pint": "pt"}
_DECIMAL = frozenset({"g", "kg", "mg", "mL", "cL", "dL", "L"})


def parts_words(parts: tuple[Part, ...]) -> str:
    """Return the parts as printed: ``4 lb 5½ oz``; several parts use the short names of large measures."""
    several = len(parts) > 1
    return " ".join(part_words(number, key, short=several) for number, key in parts)


def part_words(number: Fraction, key: str, *, short: bool = False) -> str:
    """Return one number with its unit."""
    label = _SHORT.get(key, "") if short else ""
    return f"{number_words(number, key)} {label or label_of(key, number)}".strip()


def number_words(number: Fraction, key: str) -> str:
    """Return the number alone: a decimal for metric units, a kitchen fraction for all others."""
    if key not in _DECIMAL:
        return format_amount(number)
    return f"{float(number):.3f}".rstrip("0").rstrip(".") if 1000 % number.denominator == 0 else format_decimal(number, 4)


# From how many on the exact amount is told in a larger unit: not "306 tsp" but "6⅜ cups".
_TOLD_LARGER = {"oz": ((40, "lb"),), "tsp": ((48, "cup"), (9, "tbsp")), "g": ((1000, "kg"),), "mL": ((1000, "L"),)}


def exact_words(amount: Fraction, unit: str) -> str:
    """Return the exact amount as close as words allow: ``1⅓``, ``4.35 lb``, ``2.4 tsp``."""
    key = next((larger for bound, larger in _TOLD_LARGER.get(unit, ()) if amount > bound), unit)
    number = convert(amount, unit, key)
    plain = (
        format_amount(number)
        if number.denominator in (1, 2, 3, 4, 6, 8) and key not in _DECIMAL
        else format_decimal(number, 4 if key in _DECIMAL else 3)
    )
    return f"{plain} {label_of(key, number)}".strip()


def weight_words(mass_g: float) -> str:
    """Return a weight as it stands beside a spoon or a count: to the gram, below 10 g to the tenth.

    Examples
    --------
    >>> weight_words(656.2), weight_words(1.93), weight_words(2406.0)
    ('656 g', '1.9 g', '2.41 kg')
    """
    if mass_g >= 999.5:
        return f"{format_decimal(Fraction(mass_g) / 1000, 3)} kg"
    return f"{mass_g:.0f} g" if mass_g >= 9.95 else f"{max(mass_g, 0.1):.1f}".removesuffix(".0") + " g"


def is_weight(parts: tuple[Part, ...]) -> bool:
    """Say whether the measure is a weight already."""
    return bool(parts) and UNITS[parts[0][1] or "each"].dimension == "mass"
