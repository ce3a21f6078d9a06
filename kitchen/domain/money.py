"""Money: exact while it is added and multiplied, rounded once at the end. The only place that rounds money."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor
from typing import Literal

_SYMBOLS = {
    "EUR": "€",
    "USD": "$",
    "GBP": "£",
    "AUD": "A$",
    "CAD": "C$",
    "NZD": "NZ$",
    "JPY": "¥",
    "INR": "₹",
    "ILS": "₪",
    "KRW": "₩",
    "BRL": "R$",
    "ZAR": "R",
}
# Currencies whose smallest coin in use is not a hundredth (ISO 4217).
_NO_PLACES = frozenset(
    {"BIF", "CLP", "DJF", "GNF", "ISK", "JPY", "KMF", "KRW", "PYG", "RWF", "UGX", "VND", "VUV", "XAF", "XOF", "XPF"}
)
_THREE_PLACES = frozenset({"BHD", "IQD", "JOD", "KWD", "LYD", "OMR", "TND"})

CURRENCIES = frozenset(
    re.findall(
        "...",
        "AEDAFNALLAMDAOAARSAUDAWGAZNBAMBBDBDTBGNBHDBIFBMDBNDBOBBRLBSDBTNBWPBYNBZDCADCDFCHFCLPCNYCOPCRCCUPCVECZKDJFDKK"
        "DOPDZDEGPERNETBEURFJDFKPGBPGELGHSGIPGMDGNFGTQGYDHKDHNLHTGHUFIDRILSINRIQDIRRISKJMDJODJPYKESKGSKHRKMFKPWKRWKWD"
        "KYDKZTLAKLBPLKRLRDLSLLYDMADMDLMGAMKDMMKMNTMOPMRUMURMVRMWKMXNMYRMZNNADNGNNIONOKNPRNZDOMRPABPENPGKPHPPKRPLNPYG"
        "QARRONRSDRUBRWFSARSBDSCRSDGSEKSGDSHPSLESOSSRDSSPSTNSVCSYPSZLTHBTJSTMTTNDTOPTRYTTDTWDTZSUAHUGXUSDUYUUZSVESVND"
        "VUVWSTXAFXCDXOFXPFYERZARZMWZWG",
    )
)
"""The currencies in which somebody pays, of ISO 4217: those of Debian's iso-codes 4.15.0 without funds, metals, units of account
and what was withdrawn since (ANG, CUC, HRK, SLL, ZWL; these five and ZWG from memory)."""

Bound = Literal["", "least", "most"]
"""Whether an amount is the least or the most of something."""

UNIT_PRICE_PLACES = 5
"""Decimals of a price for a kilowatt-hour, as tariffs print them."""


class CurrencyMismatch(ValueError):
    """Two currencies cannot be added or compared; the message names both."""


@dataclass(frozen=True)
class Money:
    """An exact amount of one currency.

    ``amount`` may be given as a Decimal, a Fraction or an int and is kept as an exact Fraction; a float is refused because it
    has lost the cent already.

    Examples
    --------
    >>> (Money(Decimal("0.10"), "EUR") + Money(Decimal("0.20"), "EUR")) * 3
    Money(amount=Fraction(9, 10), currency='EUR')
    >>> Money(Decimal("1"), "EUR") + Money(Decimal("1"), "USD")
    Traceback (most recent call last):
    ...
    kitchen.domain.money.CurrencyMismatch: EUR and USD cannot be added
    """

    amount: Fraction | Decimal | int
    currency: str

    def __post_init__(self) -> None:
        if isinstance(self.amount, float):
            raise TypeError("money is never made from a float; give a Decimal or a Fraction")
        object.__setattr__(self, "amount", Fraction(self.amount))

    @property
    def exact(self) -> Fraction:
        """The amount as a Fraction."""
        return Fraction(self.amount)

    def __add__(self, other: Money) -> Money:
        self._same_currency(other, "added")
        return Money(self.exact + other.exact, self.currency)

    def __sub__(self, other: Money) -> Money:
        self._same_currency(other, "subtracted")
        return Money(self.exact - other.exact, self.currency)

    def __mul__(self, factor: Fraction | Decimal | int) -> Money:
        if isinstance(factor, float):
            raise TypeError("money is never multiplied by a float; give a Decimal or a Fraction")
        return Money(self.exact * Fraction(factor), self.currency)

    __rmul__ = __mul__

    def __truediv__(self, divisor: Fraction | Decimal | int) -> Money:
        if isinstance(divisor, float):
            raise TypeError("money is never divided by a float; give a Decimal or a Fraction")
        return Money(self.exact / Fraction(divisor), self.currency)

    def __lt__(self, other: Money) -> bool:
        self._same_currency(other, "compared")
        return self.exact < other.exact

    def rounded(self) -> Decimal:
        """Return the amount rounded half up to the currency's smallest coin."""
        return round_half_up(self.exact, places_of(self.currency))

    def words(self) -> str:
        """Return the amount with the currency's code: ``"1.12 EUR"``."""
        return f"{self.rounded():,} {self.currency}"

    def _same_currency(self, other: Money, verb: str) -> None:
        if self.currency != other.currency:
            raise CurrencyMismatch(f"{self.currency} and {other.currency} cannot be {verb}")


def places_of(currency: str) -> int:
    """Return how many decimal places the currency is written with: 2 unless ISO 4217 says otherwise."""
    if currency in _NO_PLACES:
        return 0
    return 3 if currency in _THREE_PLACES else 2


def round_half_up(amount: Fraction | Decimal | int, places: int) -> Decimal:
    """Return the amount with the given number of decimal places, halves rounded away from zero.

    Examples
    --------
    >>> round_half_up(Decimal("0.125"), 2), round_half_up(Decimal("-0.125"), 2), round_half_up(Fraction(1, 3), 4)
    (Decimal('0.13'), Decimal('-0.13'), Decimal('0.3333'))
    """
    numerator, denominator = amount.as_integer_ratio()
    whole = (2 * abs(numerator) * 10**places + denominator) // (2 * denominator)
    sign = 1 if numerator < 0 and whole else 0
    return Decimal((sign, Decimal(whole).as_tuple().digits, -places))


def round_bound(amount: Fraction | Decimal | int, places: int, bound: Bound) -> Decimal:
    """Return the amount with the given number of decimal places: the least of something rounded down, the most of it up.

    Examples
    --------
    >>> round_bound(Decimal("0.129"), 2, "least"), round_bound(Decimal("0.121"), 2, "most"), round_bound(Decimal("0.125"), 2, "")
    (Decimal('0.12'), Decimal('0.13'), Decimal('0.13'))
    """
    if not bound:
        return round_half_up(amount, places)
    scaled = Fraction(amount) * 10**places
    whole = floor(scaled) if bound == "least" else ceil(scaled)
    return Decimal((1 if whole < 0 else 0, Decimal(abs(whole)).as_tuple().digits, -places))


def printed_ends(low: Fraction, high: Fraction, currency: str) -> tuple[Decimal, Decimal]:
    """Return between which two rounded sums something is printed to lie: its middle twice where that is within one smallest coin.

    Examples
    --------
    >>> printed_ends(Fraction("0.052"), Fraction("0.071"), "EUR"), printed_ends(Fraction("0.864"), Fraction("0.866"), "EUR")
    ((Decimal('0.05'), Decimal('0.07')), (Decimal('0.87'), Decimal('0.87')))
    """
    places = places_of(currency)
    least, most = round_half_up(low, places), round_half_up(high, places)
    if least == most or (least and high - low < Fraction(1, 10**places)):
        least = most = round_half_up((low + high) / 2, places)
    return least, most


def total(amounts: list[Money], currency: str) -> Money:
    """Return the exact sum; the currency is that of an empty sum.

    Raises
    ------
    CurrencyMismatch
        If any amount is in another currency.
    """
    result = Money(Fraction(0), currency)
    for amount in amounts:
        result = result + amount
    return result


def format_money(amount: Fraction | Decimal | int, currency: str, places: int | None = None, bound: Bound = "") -> str:
    """Return the amount as people write it, rounded half up; the ``least`` of something down, the ``most`` of it up.

    Parameters
    ----------
    amount : Fraction, Decimal or int
        The exact amount. [currency]
    currency : str
        ISO 4217 code.
    places : int, optional
        Decimal places; by default the currency's own. Unit prices below a cent are shown with more.

    Returns
    -------
    str
        Symbol before the number where the currency has a common one, else the code after it.

    Examples
    --------
    >>> format_money(Decimal("1.115"), "EUR"), format_money(Decimal("1.12"), "CHF"), format_money(1200, "JPY")
    ('€1.12', '1.12 CHF', '¥1,200')
    >>> format_money(Decimal("-0.5"), "GBP"), format_money(Fraction(22, 10000), "USD", places=4)
    ('-£0.50', '$0.0022')
    """
    number = round_bound(amount, places_of(currency) if places is None else places, bound)
    sign = "-" if number < 0 else ""
    symbol = _SYMBOLS.get(currency)
    return f"{sign}{symbol}{abs(number):,}" if symbol else f"{number:,} {currency}"
