"""What a person types about a price: "2 x 500 g" and "3.49", read into exact values or refused in one sentence."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from fractions import Fraction

from kitchen.domain.amounts import format_amount, read_number
from kitchen.domain.units import UNITS, find_unit

MOST_PACKS = 1000
MOST_PRICE = Decimal("9999999.9999")
_PACKS = re.compile(r"(\d{1,6})\s*[x×*]\s*(?=\S)", re.IGNORECASE)
_PIECE_WORDS = {"", "each", "ea", "piece", "pieces", "pc", "pcs"}
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
        An amount with a unit, or a number of pieces; "2 x" before it says how many packs the price buys.

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
    >>> parse_pack("0 g")
    Traceback (most recent call last):
    ...
    ValueError: A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.
    """
    typed = text.strip()
    packs, rest = _packs_of(typed)
    number = read_number(rest)
    if number is None:
        raise ValueError(f"“{_shown(typed)}” is not a pack. Type an amount and a unit, like “500 g”, “2 x 400 g” or “12”.")
    amount, end = number
    if amount <= 0 or packs < 1:
        raise ValueError("A pack must hold more than nothing. Type how much is in it, like “500 g” or “12”.")
    if packs > MOST_PACKS:
        raise ValueError(f"{packs} packs are more than fit here; at most {MOST_PACKS}.")
    return Pack(amount, _unit_of(rest[end:].strip()), packs)


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
            f"“{_shown(typed)}” can be read in two ways. Type “{figures.replace(',', '')}” or “{figures.replace(',', '.')}”."
        )
    try:
        price = Decimal(figures.replace(",", ".") if figures.count(",") == 1 and "." not in figures else figures)
    except InvalidOperation:
        raise ValueError(f"“{_shown(typed)}” is not a price. Type it in figures, like “3.49”.") from None
    return _checked_price(price, typed), found


def price_words(price: Decimal, currency: str, usual: str) -> str:
    """Return a price as a person would type it: trailing zeros gone, the code only when it is not the usual one.

    Examples
    --------
    >>> price_words(Decimal("3.4900"), "EUR", "EUR"), price_words(Decimal("12.0000"), "CHF", "EUR")
    ('3.49', '12.00 CHF')
    """
    exact = price.quantize(Decimal("0.01")) if price == price.quantize(Decimal("0.01")) else price.normalize()
    return f"{exact:f}" if currency == usual else f"{exact:f} {currency}"


def _packs_of(typed: str) -> tuple[int, str]:
    found = _PACKS.match(typed)
    return (int(found[1]), typed[found.end() :]) if found else (1, typed)


def _unit_of(word: str) -> str:
    if word.casefold().rstrip(".") in _PIECE_WORDS:
        return ""
    unit = find_unit(word)
    if unit is None:
        raise ValueError(
            f"“{_shown(word)}” is not a unit we know. Use g, kg, mL, L, lb, oz, cups, bunch ... or only a number of pieces."
        )
    return unit.key


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
        raise ValueError(f"“{_shown(typed)}” is not a price. Type it in figures, like “3.49”.")
    if price < 0:
        raise ValueError("A price cannot be below zero. Type what was paid, like “3.49”, or 0 for something that was free.")
    exponent = price.as_tuple().exponent
    if isinstance(exponent, int) and exponent < -4:
        raise ValueError("A price has at most four decimals here.")
    if price > MOST_PRICE:
        raise ValueError(f"A price of more than {MOST_PRICE:,.0f} cannot be kept. Check the figures.")
    return price


def _shown(text: str) -> str:
    return text if len(text) <= 40 else f"{text[:40]}…"
