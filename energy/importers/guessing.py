"""The first guess at how a file is laid out, from its first rows alone."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import median

from energy.importers.cells import decimal_of
from energy.importers.day_records import record_shape
from energy.importers.day_tables import wide_columns
from energy.importers.figure_columns import figure_columns, no_figures
from energy.importers.heading import header_place, units_row
from energy.importers.names import plain, says_end
from energy.importers.shape import DATE, DEVICE, POWER, TIME, VALUE, ColumnRole, LogShape, UnreadableFile
from energy.importers.stamps import any_stamp
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
    if records := record_shape(rows, shape):
        return Guess(records, tuple(rows))
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
    above = _unit_above(rows[: max(top, 0)])
    if wide := wide_columns(known, names, below, unit_cells, above):
        return Guess(wide[0], tuple(below), wide[1])
    if across := _across(known, names, below):
        return Guess(across, tuple(below))
    return _long(known, names, below, unit_cells, above)


def _unit_above(rows: Sequence[tuple[int, list[str]]]) -> str:
    """Return the unit of power or energy that the lines above the names tell, where they tell one."""
    told = [unit for _, cells in rows for cell in cells if (unit := _told_unit(cell))]
    return told[0] if told and len(set(told)) == 1 else ""


def _told_unit(cell: str) -> str:
    found = re.search(r"(?<![A-Za-z])(k?Wh?|MWh?)(?![A-Za-z])", cell)
    return found[1] if found and (len(cell.strip()) <= 8 or re.search(r"\b(in|unit|einheit|unité)\b|[(\[]", cell.lower())) else ""


def _across(shape: LogShape, names: Sequence[str], below: Sequence[tuple[int, list[str]]]) -> LogShape | None:
    """Return the shape of a table with a row a sensor and a column a moment, or None."""
    stamps = {place: any_stamp(name) for place, name in enumerate(names) if len(name) > 7}
    dated = [place for place, stamp in stamps.items() if stamp is not None and (stamp.day or stamp.epoch_s)]
    if len(dated) < 3 or len(dated) < 0.7 * (len(names) - 4) or dated[0] == 0 or not below:
        return None
    decimal = decimal_of([cell for _, cells in below for cell in cells[dated[0] :]], shape.delimiter)
    order = order_of([names[place] for place in dated])
    columns = (ColumnRole(0, DEVICE), ColumnRole(dated[0], VALUE))
    known = replace(shape, layout="across", first_slot=dated[0], slots=len(dated), decimal=decimal, columns=columns)
    return replace(known, day_first=order is not False)


def _long(
    shape: LogShape, names: Sequence[str], below: Sequence[tuple[int, list[str]]], units: Sequence[str], above: str
) -> Guess:
    """Return the guess at a table with a row a moment."""
    rows = [cells for _, cells in below]
    wide_rows = [cells for cells in rows if len(cells) >= 2]
    if not wide_rows:
        raise UnreadableFile("No row holds a time and a figure beside it. Choose another file, or export it with its times.")
    _refuse_torn(shape, wide_rows)
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
    figures, unsure = figure_columns(known, names, units, columns, used, above=above)
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
        zone="UTC" if any(re.search(r"\b(?:utc|gmt)\b", plain(names[place])) for place, _ in times) else shape.zone,
        elapsed=elapsed,
        day_rows=day_rows,
        means=_are_means(names, figures, columns, times),
        held=True if any(column.role == VALUE for column in figures) else None,
    )
    return Guess(known, tuple(below), (*unsure, *unsure_order(stamps)))


def _refuse_torn(shape: LogShape, rows: Sequence[Sequence[str]]) -> None:
    """Refuse a table whose decimal commas were taken for the commas between its columns."""
    named = len([name for name in shape.header if name])
    if shape.delimiter != "," or shape.header_row < 0 or named < 2:
        return
    torn = sum(bool(cells[-1]) and len(cells) > named and all(cell.strip().isdigit() for cell in cells[named:]) for cells in rows)
    if torn >= 0.5 * len(rows):
        raise UnreadableFile(
            f"Row {shape.header_row + 2 + shape.units_row} has more cells than there are names: its decimals have commas, and so "
            "have its columns. Export the log with semicolons or tabs between the columns."
        )


_MEANS = re.compile(r"(?<![a-z])(?:mean|avg|average|mittel\w*|moyenne?|media|promedio|gemiddeld\w*|demand)(?![a-z])")
_LONG_S, _LONGER_S = 120.0, 840.0


def _are_means(
    names: Sequence[str], figures: Sequence[ColumnRole], columns: Sequence[Sequence[str]], times: Sequence[tuple[int, str]]
) -> bool:
    """Return whether watts are means of even intervals: their name says so, or the intervals are as long as suppliers' are."""
    power = [column for column in figures if column.role == POWER]
    if not power or len(power) < len([column for column in figures if column.role != DEVICE]):
        return False
    step_s = _even_step_s(columns, times)
    said = any(_MEANS.search(plain(names[column.index])) for column in power)
    return step_s >= (_LONG_S if said else _LONGER_S)


def _even_step_s(columns: Sequence[Sequence[str]], times: Sequence[tuple[int, str]]) -> float:
    """Return the step between clocks that come evenly, 0 where they do not. [s]"""
    cells = zip(*(columns[place][:200] for place, _ in times), strict=False)
    clocks = []
    for parts in cells:
        stamp = any_stamp(" ".join(parts))
        if stamp is None:
            continue
        clocks.append(stamp.epoch_s if stamp.epoch_s is not None else stamp.clock_s or 0.0)
    steps = [abs(later - earlier) for earlier, later in itertools.pairwise(clocks) if abs(later - earlier) < 43_200]
    if len(steps) < 4:
        return 0.0
    usual = median(steps)
    return usual if sum(abs(step - usual) <= 1 for step in steps) >= 0.9 * len(steps) else 0.0
