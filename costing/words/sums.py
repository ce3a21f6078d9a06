"""Sums with their currency and amounts to buy."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal
from fractions import Fraction
from math import floor, log10

from costing.domain.electricity import NOTHING_OFF, Off
from costing.words import english
from costing.words.remarks import ENGLISH, Language, sentence
from energy.words.figure_words import money_between
from kitchen.domain.money import format_money, places_of
from kitchen.domain.units import label_of

_NUMBERS: Mapping[Language, Sequence[str]] = {ENGLISH: english.NUMBERS}


def servings_words(servings: int, language: Language) -> str:
    """Return a number of servings in words up to twelve.

    Examples
    --------
    >>> servings_words(1, ENGLISH), servings_words(6, ENGLISH), servings_words(40, ENGLISH)
    ('One serving', 'Six servings', '40 servings')
    """
    numbers = _NUMBERS[language]
    number = numbers[servings] if servings < len(numbers) else str(servings)
    return sentence(language, "one_serving" if servings == 1 else "servings", number=number)


def sum_words(amount: Fraction, currency: str, language: Language, *, at_least: bool = False, off: Off = NOTHING_OFF) -> str:
    """Return a rounded sum with its currency: between which two it lies, and "at least" the lower one where something is missing.

    One that rounds to nothing but is not nothing is said to be less than the smallest coin; at least nothing is not known.

    Examples
    --------
    >>> sum_words(Fraction(758925, 100000), "USD", ENGLISH), sum_words(Fraction(1), "EUR", ENGLISH, at_least=True)
    ('$7.59', 'at least €1.00')
    >>> sum_words(Fraction(1999, 1000), "EUR", ENGLISH, at_least=True), sum_words(Fraction(1, 300), "EUR", ENGLISH, at_least=True)
    ('at least €1.99', 'at least €0.0033')
    >>> sum_words(Fraction(0), "EUR", ENGLISH, at_least=True)
    'not known'
    >>> sum_words(Fraction(1, 999), "EUR", ENGLISH), sum_words(Fraction(0), "EUR", ENGLISH)
    ('under €0.01', '€0.00')
    """
    low, high = amount - off[0], amount + off[1]
    if at_least:
        return sentence(language, "at_least", amount=least_words(low, currency)) if low > 0 else sentence(language, "not_known")
    return money_between(low, high, currency, language)


def least_words(amount: Fraction, currency: str) -> str:
    """Return the least of a sum, rounded down; one below the smallest coin with the two figures that say that it is not nothing.

    Examples
    --------
    >>> least_words(Fraction(1, 300), "EUR"), least_words(Fraction(0), "EUR")
    ('€0.0033', '€0.00')
    """
    places = places_of(currency)
    if 0 < amount < Fraction(1, 10**places):
        places = 1 - floor(log10(amount))
    return format_money(amount, currency, places, bound="least")


def kwh_words(low_wh: float, high_wh: float, language: Language, *, at_least: bool = False) -> str:
    """Return an energy from the wall in kilowatt-hours with two significant digits: a range, or the least of it.

    Examples
    --------
    >>> kwh_words(341.2, 344.0, ENGLISH), kwh_words(38.0, 1204.0, ENGLISH), kwh_words(228.0, 300.0, ENGLISH, at_least=True)
    ('0.34 kWh', '0.038 to 1.2 kWh', 'at least 0.22 kWh')
    """
    low, high = (_kwh(wh / 1000) for wh in (low_wh, high_wh))
    if at_least:
        return sentence(language, "at_least", amount=f"{_kwh(low_wh / 1000, down=True)} kWh")
    return sentence(language, "between", least=low, most=f"{high} kWh") if low != high else f"{low} kWh"


def _kwh(kwh: float, *, down: bool = False) -> str:
    rounded = float(f"{kwh:.2g}")
    if down and rounded > kwh:
        rounded -= 10.0 ** (floor(log10(kwh)) - 1)
    return f"{rounded:.10f}".rstrip("0").rstrip(".")


def bought_words(bought: Fraction, base: str) -> str:
    """Return a bought amount at three significant digits, in kg and L from a thousand on.

    Examples
    --------
    >>> bought_words(Fraction(2000, 3), "g"), bought_words(Fraction(1500), "mL"), bought_words(Fraction(5, 2), "each")
    ('667 g', '1.5 L', '2.5')
    """
    larger = {"g": "kg", "mL": "L"}.get(base)
    if larger and bought >= 1000:
        return f"{_three_digits(bought / 1000)} {larger}"
    return f"{_three_digits(bought)} {label_of(base, bought)}".strip()


def price_seen_words(price: Decimal, currency: str) -> str:
    """Return a price as it was seen, with all its decimals.

    Examples
    --------
    >>> price_seen_words(Decimal("0.1250"), "EUR"), price_seen_words(Decimal("3.4900"), "EUR")
    ('€0.125', '€3.49')
    """
    exponent = price.normalize().as_tuple().exponent
    return format_money(price, currency, max(places_of(currency), -exponent if isinstance(exponent, int) else 0))


def unit_price_words(price: Fraction, base: str, currency: str, language: Language) -> str:
    """Return a price by the kilogram, the litre, the piece or a household word.

    Examples
    --------
    >>> unit_price_words(Fraction(349, 100000), "g", "EUR", ENGLISH), unit_price_words(Fraction(9, 20), "each", "EUR", ENGLISH)
    ('€3.49 per kg', '€0.45 a piece')
    """
    code, units = larger_unit(base)
    return sentence(language, code, price=sum_words(price * units, currency, language), unit=base)


def larger_unit(base: str) -> tuple[str, int]:
    """Return the code of the measure in which a cook compares prices, and how many base units it has.

    Examples
    --------
    >>> larger_unit("mL"), larger_unit("bunch")
    (('per_litre', 1000), ('a_unit', 1))
    """
    return {"g": ("per_kilogram", 1000), "mL": ("per_litre", 1000), "each": ("a_piece", 1)}.get(base, ("a_unit", 1))


def percent_figures(percent: Decimal) -> str:
    """Return the figures of a percentage without trailing zeros.

    Examples
    --------
    >>> percent_figures(Decimal("84.00")), percent_figures(Decimal("100"))
    ('84', '100')
    """
    return f"{percent.normalize():f}"


def _three_digits(amount: Fraction) -> str:
    digits = float(amount)
    return f"{digits:.0f}" if digits >= 100 else f"{float(f'{digits:.3g}'):g}"
