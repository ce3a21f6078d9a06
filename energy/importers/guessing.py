"""The first guess at how a file is laid out, from its first rows alone."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.importers.cells import decimal_of
from energy.importers.day_tables import wide_columns
from energy.importers.figure_columns import figure_columns, no_figures
from energy.importers.heading import header_place, units_row
from energy.importers.names import says_end
from energy.importers.shape import DATE, TIME, VALUE, ColumnRole, LogShape, UnreadableFile
from energy.importers.time_columns import counted_in, has_day_rows, order_of, time_columns, unsure_order


@dataclass(frozen=True)
class Guess:
    """A shape, the rows below the names, and what could not be told: pairs of a question's key and why."""

    shape: LogShape
    data: tuple[tuple[int, list[str]], ...]
    unsure: tuple[str, ...] = ()


def guess(rows: Sequence[tuple[int, list[str]]], shape: LogShape) -> Guess:
    """Return how the rows of a file are laid out.

    Parameters
    ----------
    rows : sequence of (number, cells)
        The first rows, from the top.
    shape : LogShape
        What is known: kind, encoding, delimiter, zone.

    Raises
    ------
    UnreadableFile
        If no row holds a time, or no column holds a figure.
    """
    if not rows:
        raise UnreadableFile("This file is empty. Choose another, or paste its text.")
    top = 0 if shape.kind == "json" else header_place(rows)
    header = tuple(cell.strip().strip('"﻿') for cell in rows[top][1]) if top >= 0 else ()
    below = list(rows[top + 1 :])
    units = units_row(below, header)
    if units:
        below = below[1:]
    width = max((len(cells) for _, cells in below[:50]), default=len(header))
    names = [header[place] if place < len(header) else "" for place in range(width)]
    known = replace(shape, header_row=top, header=tuple(names), units_row=bool(units))
    unit_cells = units or [""] * width
    if wide := wide_columns(known, names, below, unit_cells):
        return Guess(wide[0], tuple(below), wide[1])
    return _long(known, names, below, unit_cells)


def _long(shape: LogShape, names: Sequence[str], below: Sequence[tuple[int, list[str]]], units: Sequence[str]) -> Guess:
    """Return the guess at a table with a row a moment."""
    rows = [cells for _, cells in below]
    wide_rows = [cells for cells in rows if len(cells) >= 2]
    if not wide_rows:
        raise UnreadableFile("No row holds a time and a figure beside it. Choose another file, or export it with its times.")
    width = len(names)
    columns = [[cells[place] for cells in wide_rows if place < len(cells)] for place in range(width)]
    times = time_columns(names, columns)
    decimal = decimal_of(
        [cell for place, cells in enumerate(columns) if place not in dict(times) for cell in cells[:200]], shape.delimiter
    )
    known = replace(shape, decimal=decimal)
    elapsed = counted_in(names, columns, times)
    used = {place for place, _ in times}
    roles = [ColumnRole(place, role) for place, role in times]
    figures, unsure = figure_columns(known, names, units, columns, used)
    if not figures:
        raise UnreadableFile(no_figures(names, units))
    stamps = [cell for place, role in times if role in (TIME, DATE) for cell in columns[place]]
    order = order_of(stamps)
    day_rows = has_day_rows(rows, times, width)
    end = says_end(names[times[0][0]]) if times and names else None
    known = replace(
        known,
        columns=tuple(sorted((*roles, *figures), key=lambda column: column.index)),
        day_first=order is not False,
        at_end=bool(end),
        elapsed=elapsed,
        day_rows=day_rows,
        held=True if any(column.role == VALUE for column in figures) else None,
    )
    return Guess(known, tuple(below), (*unsure, *unsure_order(stamps)))
