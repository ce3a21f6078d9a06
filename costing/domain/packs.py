"""What a person types about a price: "2 x 500 g" and "3.49", read into exact values or refused in one sentence."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from fractions import Fraction

from kitchen.domain.amounts import format_amount
from kitchen.domain.line_measures import Measure, read_bare_unit, read_measure
from kitchen.domain.line_units import CONTAINERS
from kitchen.domain.money import round_half_up
from kitchen.domain.typed_quantity import refuse_two_readings
from kitchen.domain.units import UNITS, find_unit

MOST_PACKS = 1000
MOST_PRICE = Decimal("9999999.9999")
_PACKS = re.compile(r"(\d{1,6})\s*[x×*]\s*(?=\S)", re.IGNORECASE)
_PIECES = {"", "each", "piece"}
_LONGEST = 100
# "case of 12", "bag (2 kg)": what holds it, and how much that is.
_HOLDS = re.compile(
    r"(?:(?P<packs>\d{1,6}|an?|one)\s+)?(?P<held>[a-z]+)(?:\s+of\s+|\s*\(\s*|\s*,\s*)(?P<inside>\d[^()]*)\)?$", re.IGNORECASE
)
_ONE = {"a", "an", "one"}
_NOTHING = re.compile(r"0+(?:[.,]0+)?(?![\d.,/])")
_SIGNS = {"€": "EUR", "£": "GBP", "$": "USD", "¥": "JPY", "₹": "INR"}
_DOLLARS = {"USD", "AUD", "CAD", "NZD"}


@dataclass(frozen=True)
class Pack:
    """``packs`` packs of ``amount`` ``unit`` each; the unit is a key of the unit list, empty for pieces."""

    amount: Fraction
    unit: str = ""
    packs: int = 1


def parse_pack(text: str) -> Pack:
    """Return the pack that a person typed.

    Parameters
    ----------
    text : str
        An amount with a unit, or a number of pieces; "2 x" before it says how many packs the price buys. Words mean what they
        mean in a line of a recipe: a dozen is twelve, a tin a can, and a "400 g tin" holds 400 g.

    Returns
    -------
    Pack
        Exact.

    Raises
    ------
    ValueError
        With a sentence that can stand beside the field.

    Examples
    --------
    >>> parse_pack("2 x 500 g")
    Pack(amount=Fraction(500, 1), unit='g', packs=2)
    >>> parse_pack("1½ kg"), parse_pack("12")
    (Pack(amount=Fraction(3, 2), unit='kg', packs=1), Pack(amount=Fraction(12, 1), unit='', packs=1))
    >>> parse_pack("a dozen"), parse_pack("6 x 400 g tins")
    (Pack(amount=Fraction(12, 1), unit='', packs=1), Pack(amount=Fraction(400, 1), unit='g', packs=6))
    >>> parse_pack("1,500 g")
    Traceback (most recent call last):
    ...
    kitchen.domain.typed_quantity.TwoReadings: two_readings
    >>> parse_pack("0 g")
    Traceback (most recent call last):
    ...
    ValueError: A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.
    """
    typed = text.strip()
    refuse_two_readings(typed)  # the price of a gram depends on it
    packs, rest = _packs_of(typed)
    if packs < 1 or _NOTHING.match(rest):
        raise ValueError("A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.")
    words = f"{rest} of it"
    measure = read_measure(words) or read_bare_unit(words, 0) if len(rest) <= _LONGEST and rest.lower() not in _ONE else None
    if measure is None or measure.low != measure.high:
        raise ValueError(f"“{_shortened(typed)}” is not a pack. Type an amount and a unit, like “500 g”, “2 x 400 g” or “12”.")
    if rest[measure.end :].strip(" ."):
        raise ValueError(
            f"“{_shortened(rest[measure.end :].strip())}” is not a unit we know. "
            "Use g, kg, mL, L, lb, oz, cups, bunch ... or only a number of pieces."
        )
    if packs > MOST_PACKS:
        raise ValueError(f"{packs} packs are more than fit here; at most {MOST_PACKS}.")
    return _held(measure, packs)


def pack_words(amount: Fraction, unit: str, packs: int = 1) -> str:
    """Return a pack as a person would type it; `parse_pack` reads it back.

    Examples
    --------
    >>> pack_words(Fraction(500), "g", 2), pack_words(Fraction(12), "")
    ('2 x 500 g', '12')
    """
    words = f"{format_amount(amount)} {_unit_label(amount, unit)}".strip()
    return f"{packs} x {words}" if packs != 1 else words


def parse_price(text: str, currency: str) -> tuple[Decimal, str]:
    """Return the price that a person typed and its currency.

    Parameters
    ----------
    text : str
        Figures with a point or a comma, with or without a currency sign or a three-letter code.
    currency : str
        The currency meant when none is typed (ISO 4217 code).

    Raises
    ------
    ValueError
        With a sentence that can stand beside the field.

    Examples
    --------
    >>> parse_price("3.49", "EUR"), parse_price("3,5", "EUR"), parse_price("4.20 chf", "EUR"), parse_price("$2", "AUD")
    ((Decimal('3.49'), 'EUR'), (Decimal('3.5'), 'EUR'), (Decimal('4.20'), 'CHF'), (Decimal('2'), 'AUD'))
    >>> parse_price("three", "EUR")
    Traceback (most recent call last):
    ...
    ValueError: “three” is not a price. Type it in figures, like “3.49”.
    """
    typed = text.strip()
    figures, found = _without_currency(typed, currency)
    if re.fullmatch(r"-?\d{1,3}[.,]\d{3}", figures) and "," in figures:
        raise ValueError(
            f"“{_shortened(typed)}” can be read in two ways. Type “{figures.replace(',', '')}” or “{figures.replace(',', '.')}”."
        )
    try:
        price = Decimal(figures.replace(",", ".") if figures.count(",") == 1 and "." not in figures else figures)
    except InvalidOperation:
        raise ValueError(f"“{_shortened(typed)}” is not a price. Type it in figures, like “3.49”.") from None
    return _checked_price(price, typed), found


def price_words(price: Decimal, currency: str, usual: str) -> str:
    """Return a price as a person would type it: trailing zeros gone, the code only when it is not the usual one.

    Examples
    --------
    >>> price_words(Decimal("3.4900"), "EUR", "EUR"), price_words(Decimal("12.0000"), "CHF", "EUR")
    ('3.49', '12.00 CHF')
    """
    whole = round_half_up(price, 2)
    exact = whole if whole == price else price.normalize()
    return f"{exact:f}" if currency == usual else f"{exact:f} {currency}"


def _packs_of(typed: str) -> tuple[int, str]:
    found = _PACKS.match(typed)
    if found:
        return int(found[1]), typed[found.end() :]
    held = _HOLDS.match(typed) if len(typed) <= _LONGEST else None
    unit = find_unit(held["held"]) if held else None
    if held is None or unit is None or unit.key not in CONTAINERS:
        return 1, typed
    number = (held["packs"] or "one").lower()
    return 1 if number in _ONE else int(number), held["inside"].strip()


def _held(measure: Measure, packs: int) -> Pack:
    """Return the pack of a measure; of tins whose size is told, that size."""
    if measure.size:
        size = read_measure(f"{measure.size} of it")
        if size is not None and size.unit and measure.low.denominator == 1:
            return Pack(size.low, size.unit, packs * int(measure.low))
    return Pack(measure.low, "" if measure.unit in _PIECES else measure.unit, packs)


def _unit_label(amount: Fraction, unit: str) -> str:
    known = UNITS.get(unit)
    if known is None:
        return unit
    return known.label if amount <= 1 else known.plural


def _without_currency(typed: str, currency: str) -> tuple[str, str]:
    for sign, code in _SIGNS.items():
        if sign in typed:
            found = currency if sign == "$" and currency in _DOLLARS else code
            return typed.replace(sign, "", 1).strip(), found
    code_found = re.fullmatch(r"(?:([A-Za-z]{3})\s*)?(-?[\d.,]+)(?:\s*([A-Za-z]{3}))?", typed)
    if code_found is None or (code_found[1] and code_found[3]):
        return typed, currency
    return code_found[2], (code_found[1] or code_found[3] or currency).upper()


def _checked_price(price: Decimal, typed: str) -> Decimal:
    if not price.is_finite():
        raise ValueError(f"“{_shortened(typed)}” is not a price. Type it in figures, like “3.49”.")
    if price < 0:
        raise ValueError("A price cannot be below zero. Type what was paid, like “3.49”, or 0 for something that was free.")
    exponent = price.as_tuple().exponent
    if isinstance(exponent, int) and exponent < -4:
        raise ValueError("A price has at most four decimals here.")
    if price > MOST_PRICE:
        raise ValueError(f"A price of more than {MOST_PRICE:,.0f} cannot be kept. Check the figures.")
    return price


def _shortened(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:40]}…"
