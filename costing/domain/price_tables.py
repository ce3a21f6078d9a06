"""A table of prices as a spreadsheet or a shop wrote it: which row names the columns, what stands in each, and the day in a cell.

The rule. A column is what its name says, in the words of some languages (from memory); where no row names them, what most of its
cells can be read as. Nothing is read twice, and what is not pointed at is left out.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from costing.domain.prices import parse_price
from costing.domain.tables import MOST_ROWS, unguarded
from energy.meters.files.columns.shape import LogShape, UnreadableFile
from energy.meters.files.tables.text_rows import delimiter_of, first_rows
from kitchen.domain.packs import parse_pack

COLUMNS = ("food", "brand", "pack", "price", "currency", "shop", "day", "last day", "note")
MOST_COLUMNS = 30
_NAMES = {
    "food": "food item product article name description ingredient artikel bezeichnung produkt lebensmittel zutat alimento",
    "brand": "brand make marke marque marca",
    "pack": "pack size content contents quantity amount packung menge inhalt größe taille contenance quantité formato cantidad",
    "price": "price paid cost preis betrag prix prezzo precio pris prijs",
    "currency": "currency währung devise valuta moneda",
    "shop": "shop store market supplier laden geschäft markt lieferant magasin negozio tienda winkel",
    "day": "day date datum tag fecha giorno",
    "last day": "until bis sale-until",
    "note": "note notes remark comment notiz bemerkung",
}
_BY_NAME = {word: column for column, words in _NAMES.items() for word in words.split()} | {column: column for column in COLUMNS}
_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?")
_PLAIN = re.compile(r"(\d{1,2})([-/.])(\d{1,2})\2(\d{4}|\d{2})(?:\s.*)?")


@dataclass(frozen=True)
class PriceTable:
    """The names of the columns (of a table without names their numbers), and each row with the line on which it stands."""

    names: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    named: bool


def read_table(text: str) -> PriceTable:
    """Return a table with its cells as they were before they were guarded.

    Raises
    ------
    ValueError
        If it holds no row, too many, or cannot be taken apart; with a sentence.

    Examples
    --------
    >>> read_table("food;price\\nonion;1,20").rows
    ((2, ('onion', '1,20')),)
    >>> read_table("onion,1.20").named
    False
    """
    lines = text.removeprefix("\ufeff").splitlines()
    try:
        found = first_rows(lines, LogShape(delimiter=delimiter_of(lines[:50])), MOST_ROWS + 2)
    except UnreadableFile:
        raise ValueError("The table cannot be taken apart. Save it as plain CSV, then try again.") from None
    rows = [(line, tuple(unguarded(cell.strip()) for cell in cells)) for line, cells in found]
    if len(rows) > MOST_ROWS + 1:
        raise ValueError(f"The table has more than {MOST_ROWS} rows. Bring it in in parts.")
    width = max((len(cells) for _, cells in rows), default=0)
    named = bool(rows) and _names_columns(rows[0][1])
    if len(rows) <= named or width < 2 or width > MOST_COLUMNS:
        raise ValueError("There is no table in it: a row for each price, with at least a food and its price.")
    names = rows[0][1] if named else ()
    padded = [(line, (*cells, *[""] * (width - len(cells)))) for line, cells in rows[named:]]
    return PriceTable((*names, *(f"column {n + 1}" for n in range(len(names), width))), tuple(padded), named)


def guessed_columns(table: PriceTable) -> tuple[str, ...]:
    """Return what stands in each column, empty where that is not known.

    Examples
    --------
    >>> guessed_columns(read_table("Artikel;Preis;Laden;Datum\\nZwiebeln;1,20;Kieler Hof;1.10.2026"))
    ('food', 'price', 'shop', 'day')
    >>> guessed_columns(read_table("onion,1 kg,1.20,2026-10-01\\nred lentils,500 g,2.35,2026-10-01"))
    ('food', 'pack', 'price', 'day')
    """
    found = [_BY_NAME.get(name.casefold(), _by_words(name)) for name in table.names] if table.named else [""] * len(table.names)
    for column, reads in (("day", _is_day), ("price", _is_price), ("pack", _is_pack), ("food", _is_words)):
        if column not in found:
            shares = [0.0 if found[place] else _share(table, place, reads) for place in range(len(found))]
            if max(shares) > 0.6 and not (table.named and column == "food"):
                found[shares.index(max(shares))] = column
    return tuple(column if column not in found[:place] else "" for place, column in enumerate(found))


def day_in(text: str, country: str) -> date:
    """Return the day that a cell says: year first, or day first, in the United States the month first.

    Raises
    ------
    ValueError
        If it is no day, or day and month may be either and the country is not known.

    Examples
    --------
    >>> str(day_in("1.10.2026", "DE")), str(day_in("10/1/26", "US")), str(day_in("25/10/2026", ""))
    ('2026-10-01', '2026-10-01', '2026-10-25')
    """
    iso, plain = _ISO.fullmatch(text), _PLAIN.fullmatch(text)
    try:
        return date(*map(int, iso.groups())) if iso else _plain_day(plain, country)
    except (TypeError, ValueError) as refused:
        either = "either" in str(refused)
        raise ValueError(str(refused) if either else "This is not a day. Write it like 2026-10-14.") from None


def _plain_day(found: re.Match[str] | None, country: str) -> date:
    if found is None:
        raise ValueError
    first, second, year = int(found[1]), int(found[3]), int(found[4]) % 2000 + 2000
    if found[2] == "/" and not country and first <= 12 and second <= 12 and first != second:
        raise ValueError("Day and month may be either. Say the country, or write it like 2026-10-14.")
    return date(year, first, second) if country == "US" or second > 12 else date(year, second, first)


def _names_columns(cells: Sequence[str]) -> bool:
    known = sum(bool(_BY_NAME.get(cell.casefold()) or _by_words(cell)) for cell in cells)
    return known >= 2 or (known >= 1 and not any(_is_price(cell) or _is_day(cell) for cell in cells))


def _by_words(name: str) -> str:
    """Return the column that a name of several words means: "Preis in EUR"."""
    return next((_BY_NAME[word] for word in re.findall(r"[^\W\d_]+", name.casefold()) if word in _BY_NAME), "")


def _share(table: PriceTable, place: int, reads: Callable[[str], bool]) -> float:
    cells = [cells[place] for _, cells in table.rows[:100] if cells[place]]
    return sum(map(reads, cells)) / len(cells) if cells else 0.0


def _is_price(cell: str) -> bool:
    try:
        return bool(re.search(r"\d[.,]\d\d?(?!\d)", cell)) and parse_price(cell, "EUR") is not None
    except ValueError:
        return False


def _is_pack(cell: str) -> bool:
    try:
        return parse_pack(cell) is not None
    except ValueError:
        return False


def _is_day(cell: str) -> bool:
    return bool(_ISO.fullmatch(cell) or _PLAIN.fullmatch(cell))


def _is_words(cell: str) -> bool:
    return bool(re.search(r"[^\W\d_]{3}", cell)) and not _is_pack(cell)
