"""The beginning of a file as a table: the row that names its columns, that of their units, and the rows below."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.meters.files.columns.shape import LogShape, UnreadableFile
from energy.meters.files.tables.heading import header_place, units_row

Rows = Sequence[tuple[int, list[str]]]
Readings = Sequence[tuple[int, Sequence[str]]]


@dataclass(frozen=True)
class Table:
    """What every reader is shown: what is known of the shape, names of the columns, their units, the rows below them.

    ``above`` is the unit that the lines above the names tell; ``rows`` are all of them.
    """

    shape: LogShape
    rows: Rows
    names: list[str]
    units: list[str]
    below: Rows
    above: str = ""


@dataclass(frozen=True)
class Guess:
    """A shape, the rows below the names, and what could not be told: keys of questions."""

    shape: LogShape
    data: Readings
    unsure: tuple[str, ...] = ()


def table_of(rows: Rows, shape: LogShape, header_line: int | None = None) -> Table:
    """Return the beginning of a file as a table.

    Parameters
    ----------
    rows : sequence of (number, cells)
        The first rows, from the top.
    shape : LogShape
        What is known: kind, encoding, delimiter, zone.
    header_line : int, optional
        The line of the file that names the columns, 0 where none does; it is looked for where that is not said.

    Raises
    ------
    UnreadableFile
        If there are no rows, or no such line.
    """
    if not rows:
        raise UnreadableFile("This file is empty. Choose another, or paste its text.")
    top = _place_of(rows, header_line) if header_line is not None else 0 if shape.kind != "table" else header_place(rows)
    header = tuple(cell.strip().strip('"﻿') for cell in rows[top][1]) if top >= 0 else ()
    below = list(rows[top + 1 :])
    if top < 0:
        below = [row for row in below if not _hints(row[1])]
    units = units_row(below, header)
    if units:
        below = below[1:]
    width = max((len(cells) for _, cells in below[:50]), default=len(header))
    names = [header[place] if place < len(header) else "" for place in range(width)]
    known = replace(shape, header_row=top, header=tuple(names) if top >= 0 else (), units_row=bool(units))
    return Table(known, rows, names, units, below, _unit_above(rows[: max(top, 0)]))


def _hints(cells: Sequence[str]) -> bool:
    return bool(cells) and cells[0].strip().lower().startswith("sep=")


def _place_of(rows: Rows, line: int) -> int:
    if line == 0:
        return -1
    found = next((place for place, (number, _) in enumerate(rows) if number == line), None)
    if found is None:
        raise UnreadableFile(
            f"Line {line} holds no row of a table. Name the line that holds the names of the columns, 0 for none."
        )
    return found


def _unit_above(rows: Rows) -> str:
    """Return the unit of power or energy that the lines above the names tell, where they tell one."""
    told = [unit for _, cells in rows for cell in cells if (unit := _told_unit(cell))]
    return told[0] if told and len(set(told)) == 1 else ""


def _told_unit(cell: str) -> str:
    found = re.search(r"(?<![A-Za-z])(k?Wh?|MWh?)(?![A-Za-z])", cell)
    return found[1] if found and (len(cell.strip()) <= 8 or re.search(r"\b(in|unit|einheit|unité)\b|[(\[]", cell.lower())) else ""
