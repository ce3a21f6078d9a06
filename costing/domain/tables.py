"""Tables that a spreadsheet opens: no cell is ever run as a formula, and reading takes the guard off again."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

_RUN = ("=", "+", "-", "@", "\t", "\r")
MOST_ROWS = 20_000


def guarded(cell: str) -> str:
    """Return a cell that a spreadsheet shows and never runs: what would begin a formula gets an apostrophe before it.

    Examples
    --------
    >>> guarded("=1+1"), guarded("'tis"), guarded("red lentils")
    ("'=1+1", "''tis", 'red lentils')
    >>> [unguarded(guarded(cell)) for cell in ("=1+1", "'tis", "red lentils")]
    ['=1+1', "'tis", 'red lentils']
    """
    return f"'{cell}" if cell.startswith((*_RUN, "'")) else cell


def unguarded(cell: str) -> str:
    """Return the cell as it was before it was guarded."""
    return cell[1:] if cell.startswith("'") and cell[1:].startswith((*_RUN, "'")) else cell


def csv_of(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a table as CSV (RFC 4180), every cell guarded.

    Examples
    --------
    >>> csv_of(["food", "price"], [["=cmd", "1.20"]])
    "food,price\\r\\n'=cmd,1.20\\r\\n"
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow(head)
    writer.writerows([guarded(cell) for cell in row] for row in rows)
    return out.getvalue()


def rows_of(text: str, head: Sequence[str]) -> list[dict[str, str]]:
    """Return the rows of a table as they were before they were guarded.

    Raises
    ------
    ValueError
        If a column is missing or there are too many rows; the message says which.

    Examples
    --------
    >>> rows_of("food,price\\r\\n'=cmd,1.20", ["food", "price"])
    [{'food': '=cmd', 'price': '1.20'}]
    """
    reader = csv.DictReader(io.StringIO(text.removeprefix("\ufeff")))
    missing = [name for name in head if name not in (reader.fieldnames or ())]
    if missing:
        raise ValueError(f"The table has no column “{missing[0]}”. Its first line names the columns: {', '.join(head)}.")
    found: list[dict[str, str]] = []
    for row in reader:
        if len(found) >= MOST_ROWS:
            raise ValueError(f"The table has more than {MOST_ROWS} rows. Bring it in in parts.")
        found.append({name: unguarded((row[name] or "").strip()) for name in head})
    return found
