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
