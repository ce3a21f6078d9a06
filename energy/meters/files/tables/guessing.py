"""The guess at a table with a row a moment, or a row a sensor and a column a moment."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import replace
from statistics import median

from energy.meters.files.clocks.stamps import any_stamp
from energy.meters.files.clocks.time_columns import counted_in, has_day_rows, order_of, time_columns, unsure_order
from energy.meters.files.clocks.yearless import SOME_YEAR, are_yearless, with_year
from energy.meters.files.columns.cells import decimal_of
from energy.meters.files.columns.names import plain, says_end
from energy.meters.files.columns.shape import DATE, DEVICE, POWER, TIME, VALUE, ColumnRole, LogShape, UnreadableFile
from energy.meters.files.tables.figure_columns import figure_columns, no_figures
from energy.meters.files.tables.table import Guess, Table


def across_guess(table: Table) -> Guess | None:
    """Return the guess at a table with a row a sensor and a column a moment, or None."""
    shape, names, below = table.shape, table.names, table.below
    stamps = {place: any_stamp(name) for place, name in enumerate(names) if len(name) > 7}
    dated = [place for place, stamp in stamps.items() if stamp is not None and (stamp.day or stamp.epoch_s)]
    if len(dated) < 3 or len(dated) < 0.7 * (len(names) - 4) or dated[0] == 0 or not below:
        return None
    decimal = decimal_of([cell for _, cells in below for cell in cells[dated[0] :]], shape.delimiter)
    order = order_of([names[place] for place in dated])
    columns = (ColumnRole(0, DEVICE), ColumnRole(dated[0], VALUE))
    known = replace(shape, layout="across", first_slot=dated[0], slots=len(dated), decimal=decimal, columns=columns)
    return Guess(replace(known, day_first=order is not False), below)


def moments_guess(table: Table) -> Guess:
    """Return the guess at a table with a row a moment.

    Raises
    ------
    UnreadableFile
        If no row holds a time, or no column holds a figure.
    """
    shape, names, below, above = table.shape, table.names, table.below, table.above
    units = table.units or [""] * len(names)
    rows = [cells for _, cells in below]
    wide_rows = [cells for cells in rows if len(cells) >= 2]
    if not wide_rows:
        raise UnreadableFile("No row holds a time and a figure beside it. Choose another file, or export it with its times.")
    _refuse_torn(shape, wide_rows)
    width = len(names)
    columns = [[cells[place] for cells in wide_rows if place < len(cells)] for place in range(width)]
    yearless = {place for place, cells in enumerate(columns) if are_yearless(cells)}
    columns = [[with_year(cell, SOME_YEAR) for cell in cells] if n in yearless else cells for n, cells in enumerate(columns)]
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
        year=None if yearless & {place for place, _ in times} else 0,
        day_rows=day_rows,
        means=_are_means(names, figures, columns, times),
        held=True if any(column.role == VALUE for column in figures) else None,
    )
    return Guess(known, below, (*unsure, *unsure_order(stamps)))


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
