"""Where the readings of a table begin: the row that names its columns, and a row of units below it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from energy.meters.files.clocks.stamps import any_stamp
from energy.meters.files.columns.cells import NO_NUMBER, number
from energy.meters.files.columns.names import looks_named, unit_in
from energy.meters.files.tables.day_slots import slots_at

_FEWEST_INSTANTS = 5


def header_place(rows: Sequence[tuple[int, list[str]]]) -> int:
    """Return which row names the columns: the last one of words above the first reading; -1 where none does."""
    first = _first_reading(rows)
    for place in range(min(first, 60) - 1, -1, -1):
        cells = rows[place][1]
        if names_columns(cells) or (looks_named(cells) and not has_reading(cells)):
            return place
    return -1


def _first_reading(rows: Sequence[tuple[int, list[str]]]) -> int:
    """Return which row is the first of those that hold readings: two of the next three do, too, and in as many cells."""
    for place, (_, cells) in enumerate(rows):
        following = [row for _, row in rows[place + 1 : place + 4]]
        alike = [row for row in following if has_reading(row) and abs(len(row) - len(cells)) <= 1]
        if has_reading(cells) and len(alike) >= min(len(following), 2) - (len(following) > 2) and not names_columns(cells):
            return place
    return len(rows)


def names_columns(cells: Sequence[str]) -> bool:
    """Return whether a row names columns by the times of a day, or by instants."""
    if slots_at(cells) is not None:
        return True
    stamps = [cell for cell in cells if len(cell) > 7 and (stamp := any_stamp(cell)) and (stamp.day or stamp.epoch_s)]
    return len(stamps) >= _FEWEST_INSTANTS and len(stamps) >= 0.7 * len(cells) and any_stamp(cells[0]) is None


def has_reading(cells: Sequence[str]) -> bool:
    """Return whether a row holds a time, or a number where a time is counted, and beside it a number or a state."""
    times = [place for place, cell in enumerate(cells) if any_stamp(cell) is not None]
    numbers = [place for place, cell in enumerate(cells) if number(cell, ".") is not None or number(cell, ",") is not None]
    states = [cell for cell in cells if cell.strip().lower() in NO_NUMBER - {""}]
    return bool(times and (set(numbers) - set(times[:1]) or states)) or len(numbers) >= 2


def units_row(below: Sequence[tuple[int, list[str]]], header: Sequence[str]) -> list[str]:
    """Return the row of units below the names, or nothing."""
    if not below or not header:
        return []
    cells = [cell.strip() for cell in below[0][1]]
    told = [cell for cell in cells if cell]
    units = [cell for cell in told if unit_in(cell) and len(cell) <= 12 and not re.search(r"\d", cell)]
    return cells if told and len(units) >= max(1, len(told) / 2) and not has_reading(cells) else []
