"""Measures in words: numbers as a cook writes them, with their units."""

from __future__ import annotations

from fractions import Fraction

from kitchen.domain.amounts import format_amount, format_decimal
from kitchen.domain.spoons import Part
from kitchen.domain.systems import METRIC_UNITS, SYSTEMS, US_SPOONS, plain_key
from kitchen.domain.units import UNITS, convert, label_of

_SHORT = {"quart": "qt", "gallon": "gal", "pint": "pt"}


def parts_words(parts: tuple[Part, ...], system: str = "written") -> str:
    """Return the parts as printed: ``4 lb 5½ oz``; several parts use the short names of large measures.

    Examples
    --------
    >>> parts_words(((Fraction(1, 2), "cup_metric"), (Fraction(2), "tbsp_au")), "au"), parts_words(((Fraction(2), "tbsp_au"),))
    ('½ cup 2 tbsp', '2 Australian tbsp')
    """
    several = len(parts) > 1
    return " ".join(part_words(number, plain_key(key, system), short=several) for number, key in parts)


def part_words(number: Fraction, key: str, *, short: bool = False) -> str:
    """Return one number with its unit."""
    label = _SHORT.get(key, "") if short else ""
    return f"{number_words(number, key)} {label or label_of(key, number)}".strip()


def number_words(number: Fraction, key: str) -> str:
    """Return the number alone: a decimal for metric units, a kitchen fraction for all others."""
    if key not in METRIC_UNITS:
        return format_amount(number)
    return f"{float(number):.3f}".rstrip("0").rstrip(".") if 1000 % number.denominator == 0 else format_decimal(number, 4)


# From how many on the exact amount is told in a larger unit: not "306 tsp" but "6⅜ cups".
_TOLD_LARGER = {"oz": ((40, "lb"),), "tsp": US_SPOONS.told_larger, "g": ((1000, "kg"),), "mL": ((1000, "L"),)}


def exact_words(amount: Fraction, unit: str, system: str = "written") -> str:
    """Return the exact amount as close as words allow: ``1⅓``, ``4.35 lb``, ``2.4 tsp``."""
    spoons = SYSTEMS[system].spoons
    told_larger = spoons.told_larger if spoons is not None and unit == spoons.tsp else _TOLD_LARGER.get(unit, ())
    key = next((larger for bound, larger in told_larger if amount > bound), unit)
    number = convert(amount, unit, key)
    plain = (
        format_amount(number)
        if number.denominator in (1, 2, 3, 4, 6, 8) and key not in METRIC_UNITS
        else format_decimal(number, 4 if key in METRIC_UNITS else 3)
    )
    return f"{plain} {label_of(plain_key(key, system), number)}".strip()


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
