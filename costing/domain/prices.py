"""Reading a price as a shelf ticket prints it: "3.49", "2,35 €/kg", "99p", "2 for £3", "free"; or refusing it in one sentence.

The rule. Figures with at most one currency, whose sign, code or smallest coin may stand on either side. A unit behind says that
the price is for so much, a number before "for" that it is for so many packs. Where the shop's country is known, its decimal sign
and its currency count; else a sign before three digits is asked.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from costing.domain.countries import COUNTRIES, comma_in
from kitchen.domain.figures import read_figures
from kitchen.domain.money import CURRENCIES, round_half_up
from kitchen.domain.packs import Pack, parse_pack
from kitchen.domain.typed_quantity import TwoReadings, two_readings
from kitchen.domain.units import CannotConvert, convert

MOST_PRICE = Decimal("9999999.9999")
_LONGEST = 60
_SIGNS: Mapping[str, str] = {
    "NZ$": "NZD", "R$": "BRL", "A$": "AUD", "C$": "CAD", "€": "EUR", "£": "GBP", "¥": "JPY", "円": "JPY", "₹": "INR", "₪": "ILS",
    "₩": "KRW", "zł": "PLN", "Kč": "CZK", "Ft": "HUF", "Fr.": "CHF", "Rs.": "INR", "Rs": "INR", "euro": "EUR",
    "R": "ZAR", "lei": "RON",
}  # fmt: skip
_SHARED: Mapping[str, frozenset[str]] = {
    "$": frozenset({"USD", "AUD", "CAD", "NZD", "MXN", "SGD", "HKD"}),
    "kr": frozenset({"SEK", "NOK", "DKK", "ISK"}),
}
_SIGN = f"(?:{'|'.join(re.escape(sign) for sign in sorted([*_SIGNS, *_SHARED], key=len, reverse=True))})"
_FIGURES = r"(?:[-–—][.,]\d{1,4}|\d[\d.,'’ \u00a0\u202f]*(?:[.,][-–—]{1,2})?|[.,]\d{1,4})"
_MONEY = re.compile(
    rf"^(?P<before>{_SIGN}|[A-Z]{{3}}(?![A-Za-z]))?\s*(?P<figures>{_FIGURES})\s*(?P<after>{_SIGN}\.?|[A-Z]{{3}})?$", re.IGNORECASE
)
_COINS = re.compile(r"^(?P<figures>\d{1,3}(?:\.\d)?)\s*(?P<coin>c|¢|p|ct|cts|cents?|pence)\.?$", re.IGNORECASE)
_SIGN_INSIDE = re.compile(rf"^(\d{{1,7}})({_SIGN})(\d{{2}})$")
_COLON = re.compile(r"^(\D*\d{1,7}):(\d{2}\D*|[-–—]{1,2})$")
_FREE = re.compile(r"^(?:for\s+)?(?:free|gratis|kostenlos|gratuit)$", re.IGNORECASE)
_NOW = re.compile(
    r"^(?:was|statt|instead of|au lieu de|van)\s+\S+(?:\s*,)?\s+(?:now|nur|only|jetzt|voor)\s+(?P<now>.+)$", re.IGNORECASE
)
_AROUND = re.compile(
    r"^\((?P<inside>[^()]+)\)$|^(?:je|nur|only|now|mrp|税込|本体)\s+(?P<only>[^\d\s]*\s?\d.*)$|^(?P<starred>.*\d)\s?[*¹²]$",
    re.IGNORECASE,
)
_BESIDE = re.compile(r"^(?P<price>[^()]*\d[^()]*?)\s*\((?P<by>[^()]+)\)$")
_FOR = re.compile(
    r"^(?:any\s+|buy\s+|les\s+)?(?P<count>\d{1,3})(?:\s*(?:for|für|pour|per|voor|för|por|za|um|@)\s+|\s*/\s*(?=[^\d\s])|\s+/\s+(?=\d+[.,]\d)|\s*(?:stück|stk\.?|st|kpl|szt\.?|ks|:)\s+)"
    r"(?P<price>.+)$",
    re.IGNORECASE,
)
_EQUALS = re.compile(r"^(?P<unit>\d[\d.,]*\s*(?:[a-z]+\s*=|(?:kg|g|lb|l|ml|cl)(?=\s)))\s*(?P<price>.+)$", re.IGNORECASE)
_PER = re.compile(
    r"^(?P<price>.*?\d.*?)\s*(?:\bp/|/|\b(?:per|les?|la|al|je|pro|the)\b|\bl['’])\s*(?P<unit>(?:\d[\d.,]*\s*)?[^\W\d_]+\.?)$",
    re.IGNORECASE,
)
_EACH = re.compile(r"^(?P<price>.*\S)(?:\s+|(?<=\d))(?P<unit>each|ea\.?|unidad|pièce|lb|kg)$", re.IGNORECASE)
_PARTED = re.compile(r"\d\s\d{1,2}(?!\d)|\d\s\d{4}|\d\s+\d+[.,]\d+\s*[.,]")


@dataclass(frozen=True)
class Price:
    """``price`` for ``count`` packs, or for the amount ``per`` where the ticket names one."""

    price: Decimal
    currency: str
    per: Pack | None = None
    count: int = 1


def parse_price(text: str, currency: str, country: str = "") -> Price:
    """Return the price that a person typed or a ticket prints.

    Parameters
    ----------
    text : str
        As it stands there.
    currency : str
        The currency meant when none is typed (ISO 4217 code).
    country : str
        The shop's country (ISO 3166-1), empty where nobody said; its currency is meant then.

    Raises
    ------
    TwoReadings
        Where it can be read in two ways.
    ValueError
        With a sentence that can stand beside the field.

    Examples
    --------
    >>> [(str(one.price), one.currency) for one in (parse_price(text, "EUR") for text in ("3,5", "4.20 chf", "99c", "free"))]
    [('3.5', 'EUR'), ('4.2', 'CHF'), ('0.99', 'EUR'), ('0', 'EUR')]
    >>> parse_price("$2", "AUD").currency, parse_price("2 for £3", "EUR").count, parse_price("2.35/kg", "EUR").per.unit
    ('AUD', 2, 'kg')
    >>> parse_price("three", "EUR")
    Traceback (most recent call last):
    ...
    ValueError: “three” is not a price. Type it in figures, like “3.49”.
    """
    typed = " ".join(text.split())
    home = COUNTRIES.get(country)
    if len(typed) > _LONGEST:
        raise _no_price(typed)
    found = _read(typed, _Till(typed, currency if home is None else home.currency, comma_in(country)))
    _check(found.price)
    return found


def price_words(price: Decimal, currency: str, usual: str) -> str:
    """Return a price as a person would type it: trailing zeros gone, the code only when it is not the usual one.

    Examples
    --------
    >>> [price_words(Decimal(price), code, "EUR") for price, code in (("3.4900", "EUR"), ("12.0000", "CHF"), ("1.2990", "EUR"))]
    ['3.49', '12.00 CHF', '1.2990']
    """
    exact = next(shorter for places in (2, 4) if (shorter := round_half_up(price, places)) == price)
    return f"{exact:f}" if currency == usual else f"{exact:f} {currency}"


@dataclass(frozen=True)
class _Till:
    """What was typed as a whole, and how figures are read there."""

    typed: str
    currency: str
    comma: bool | None


def _read(words: str, till: _Till) -> Price:
    if _FREE.match(words):
        return Price(Decimal(0), till.currency)
    around = _NOW.match(words) or _AROUND.match(words)
    if around:
        return _read(next(filter(None, around.groups())).strip(), till)
    beside = _BESIDE.match(words)
    if beside:
        return _told_twice(beside, till)
    several = _FOR.match(words)
    if several:
        return _several(several, till)
    per = _EQUALS.match(words) or _PER.match(words) or _EACH.match(words)
    if per and not _is_currency(per["unit"]):
        return replace(_money(per["price"].strip(), till), per=_unit(per["unit"].rstrip(" ="), till))
    return _money(words, till)


def _told_twice(found: re.Match[str], till: _Till) -> Price:
    """Return a price beside which the same is told by the unit: "1.99 (4.98/kg)", "4.39/kg (1.99/lb)"."""
    first, by = _read(found["price"], till), _read(found["by"], till)
    if by.per is None or by.currency != first.currency:
        raise _no_price(till.typed)
    if first.per is not None:
        try:
            told = Fraction(by.price) * convert(first.per.amount, first.per.unit, by.per.unit) / by.per.amount
        except CannotConvert:
            raise _no_price(till.typed) from None
        if abs(told - Fraction(first.price)) > Fraction(first.price) / 50:
            raise _no_price(till.typed)
    return first


def _several(found: re.Match[str], till: _Till) -> Price:
    price, count = found["price"].strip(), int(found["count"])
    if re.fullmatch(r"\d{1,3}", price):  # "3 for 2": three packs for two coins, or for the price of two
        raise two_readings(till.typed, f"{count} for {price}.00", f"the price of {price}, for {count}")
    if not count:
        raise _no_price(till.typed)
    return replace(_money(price, till), count=count)


def _unit(words: str, till: _Till) -> Pack:
    try:
        return parse_pack(f"per {words}")
    except TwoReadings:
        raise
    except ValueError:
        raise _no_price(till.typed) from None


def _is_currency(word: str) -> bool:
    return word.upper() in CURRENCIES or word in _SIGNS or word in _SHARED


def _money(words: str, till: _Till) -> Price:
    coins = _COINS.match(words)
    if coins:
        currency = "GBP" if coins["coin"].lower() in ("p", "pence") else till.currency
        return Price(_decimal(Fraction(coins["figures"]) / 100), currency)
    words = _COLON.sub(r"\1.\2", _SIGN_INSIDE.sub(r"\1.\3\2", words))
    found = _MONEY.match(words)
    if found is None or (found["before"] and found["after"]) or _PARTED.search(found["figures"]):
        raise _below_zero() if re.match(r"[-−]\s*\d", words) else _no_price(till.typed)
    sign = found["before"] or found["after"] or ""
    try:
        exact = read_figures(found["figures"], comma=till.comma)
    except TwoReadings:
        raise
    except ValueError:
        raise _no_price(till.typed) from None
    return Price(_decimal(exact), _currency(sign.rstrip(), till))


def _currency(sign: str, till: _Till) -> str:
    if not sign:
        return till.currency
    known = next((code for own, code in _SIGNS.items() if own.casefold() == sign.casefold()), None)
    shared = _SHARED.get(sign.casefold().rstrip("."))
    if shared is not None:
        if till.currency not in shared and sign != "$":
            raise _no_price(till.typed)
        return till.currency if till.currency in shared else "USD"
    code = known or sign.upper()
    if code not in CURRENCIES:
        raise ValueError(f"“{sign}” is not a currency. Use its three letters, like EUR or USD.")
    return code


def _decimal(exact: Fraction) -> Decimal:
    """Return a price with its decimals as they were printed; a fraction of figures is always a decimal."""
    numerator, denominator = exact.as_integer_ratio()
    places = 0
    while denominator != 1 and 10**places % denominator:
        places += 1
    return Decimal(numerator * 10**places // denominator).scaleb(-places)


def _check(price: Decimal) -> None:
    exponent = price.as_tuple().exponent
    if isinstance(exponent, int) and exponent < -4:
        raise ValueError("A price has at most four decimals here.")
    if price > MOST_PRICE:
        raise ValueError(f"A price of more than {MOST_PRICE:,.0f} cannot be kept. Check the figures.")


def _below_zero() -> ValueError:
    return ValueError("A price cannot be below zero. Type what was paid, like “3.49”, or 0 for something that was free.")


def _no_price(typed: str) -> ValueError:
    shown = typed if len(typed) <= 40 else f"{typed[:40]}…"
    return ValueError(f"“{shown}” is not a price. Type it in figures, like “3.49”.")
