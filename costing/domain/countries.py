"""How shops of a country print a price: in which currency, and whether the comma is the decimal sign. Pure data.

The currencies follow ISO 4217, the decimal signs common practice (from memory). A country that is not listed prints as nobody
knows: what could be read in two ways is then asked.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Country:
    """``code`` after ISO 3166-1; ``comma``: the comma is its decimal sign; ``tax_in``: shelf prices hold the tax."""

    code: str
    name: str
    currency: str
    comma: bool
    tax_in: bool = True


_ALL = (
    Country("AT", "Austria", "EUR", comma=True),
    Country("AU", "Australia", "AUD", comma=False),
    Country("BE", "Belgium", "EUR", comma=True),
    Country("BG", "Bulgaria", "EUR", comma=True),
    Country("BR", "Brazil", "BRL", comma=True),
    Country("CA", "Canada", "CAD", comma=False, tax_in=False),
    Country("CH", "Switzerland", "CHF", comma=False),
    Country("CZ", "Czechia", "CZK", comma=True),
    Country("DE", "Germany", "EUR", comma=True),
    Country("DK", "Denmark", "DKK", comma=True),
    Country("ES", "Spain", "EUR", comma=True),
    Country("FI", "Finland", "EUR", comma=True),
    Country("FR", "France", "EUR", comma=True),
    Country("GB", "United Kingdom", "GBP", comma=False),
    Country("GR", "Greece", "EUR", comma=True),
    Country("HR", "Croatia", "EUR", comma=True),
    Country("HU", "Hungary", "HUF", comma=True),
    Country("IE", "Ireland", "EUR", comma=False),
    Country("IN", "India", "INR", comma=False),
    Country("IT", "Italy", "EUR", comma=True),
    Country("JP", "Japan", "JPY", comma=False),
    Country("LU", "Luxembourg", "EUR", comma=True),
    Country("MX", "Mexico", "MXN", comma=False),
    Country("NL", "Netherlands", "EUR", comma=True),
    Country("NO", "Norway", "NOK", comma=True),
    Country("NZ", "New Zealand", "NZD", comma=False),
    Country("PL", "Poland", "PLN", comma=True),
    Country("PT", "Portugal", "EUR", comma=True),
    Country("RO", "Romania", "RON", comma=True),
    Country("SE", "Sweden", "SEK", comma=True),
    Country("SI", "Slovenia", "EUR", comma=True),
    Country("SK", "Slovakia", "EUR", comma=True),
    Country("US", "United States", "USD", comma=False, tax_in=False),
    Country("ZA", "South Africa", "ZAR", comma=True),
)

COUNTRIES: dict[str, Country] = {country.code: country for country in _ALL}
"""The countries by their codes."""


def comma_in(code: str) -> bool | None:
    """Return whether the comma is the decimal sign in a country; None where that is not known.

    Examples
    --------
    >>> comma_in("DE"), comma_in("GB"), comma_in("")
    (True, False, None)
    """
    country = COUNTRIES.get(code)
    return None if country is None else country.comma
