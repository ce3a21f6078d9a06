"""Sections of a table: the row of names comes again further down, for another meter or the other direction at the same times."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from energy.meters.files.columns.names import looks_named, named
from energy.meters.files.columns.shape import DEVICE, TIME, ColumnRole, LogShape, UnreadableFile
from energy.meters.files.tables.heading import has_reading

SECTION = "section"
_SHARED = 0.5
_BEGUN = 500

Row = tuple[int, Sequence[str]]


def sectioned(rows: Iterable[Row], header_row: int, width: int) -> Iterator[Row]:
    """Yield the readings with the name of their section behind: its title, else what its figures are called.

    Parameters
    ----------
    rows : iterable of (number, cells)
        All rows of the file.
    header_row : int
        Which of them names the columns first.
    width : int
        How many columns there are.
    """
    title, part, name = "", 0, ""
    for place, (number, cells) in enumerate(rows):
        told = [cell.strip() for cell in cells if cell.strip()]
        if place == header_row or (place > header_row and names_again(cells)):
            part += 1
            figures = " ".join(cell for cell in told if named(cell).role != TIME)
            name, title = title or f"{figures} {part}", ""
        elif len(told) <= 2 and not has_reading(cells):
            title = " ".join(told) or title
        elif place > header_row:
            yield number, [*cells[:width], *[""] * (width - len(cells)), name]


def refuse_anew(rows: Iterable[Row], shape: LogShape) -> Iterator[Row]:
    """Yield the readings of a file whose beginning shows one section.

    Raises
    ------
    UnreadableFile
        If its columns are named again further down than anybody looked, and the times of its beginning come again there: which
        of the sections counts was not asked, and reading them as one would mix them.

    Examples
    --------
    >>> shape = LogShape(header=("time", "W"), columns=(ColumnRole(0, TIME),))
    >>> twice = [(2, ["8:00", "5"]), (3, ["8:01", "5"]), (4, ["time", "W"]), (5, ["8:00", "9"])]
    >>> len(list(refuse_anew([*twice[:3], (5, ["8:02", "9"])], shape)))
    4
    >>> list(refuse_anew(twice, shape))
    Traceback (most recent call last):
    ...
    energy.meters.files.columns.shape.UnreadableFile: Row 4 names the columns again, ...
    """
    time = next((column.index for column in shape.places(TIME)), -1)
    first = shape.header[time].strip() if 0 <= time < len(shape.header) else ""
    if not first or shape.layout != "long" or shape.places(DEVICE):
        yield from rows
        return
    begun: set[str] = set()
    named_in = 0
    for row in rows:
        cell = row[1][time].strip() if time < len(row[1]) else ""
        if cell == first:
            named_in = row[0]
        elif named_in and cell in begun:
            raise UnreadableFile(
                f"Row {named_in} names the columns again, and the times begin anew below it: the file holds several logs. Cut it "
                "there, and read in the one of the cooker."
            )
        elif len(begun) < _BEGUN:
            begun.add(cell)
        yield row


def rows_of_shape(rows: Sequence[Row], shape: LogShape) -> tuple[Row, ...]:
    """Return the readings among the first rows of a file."""
    if shape.sections:
        return tuple(sectioned(rows, shape.header_row, len(shape.header) - 1))
    return tuple(rows[shape.header_row + 1 + shape.units_row :])


def names_again(cells: Sequence[str]) -> bool:
    """Return whether a row below the first readings names columns."""
    return len(cells) >= 2 and looks_named(cells) and not has_reading(cells) and any(named(cell).role == TIME for cell in cells)


def in_sections(shape: LogShape, below: Sequence[Row]) -> LogShape:
    """Return the shape with its sections as devices, where the row of names comes again and the times do too.

    Examples
    --------
    >>> shape = LogShape(header=("time", "kWh"), columns=(ColumnRole(0, TIME),))
    >>> twice = [(n, ["8:00", "1"]) for n in range(3)] + [(9, ["time", "kWh"]), (10, ["8:00", "2"])]
    >>> in_sections(shape, twice).header, in_sections(shape, twice[:3]).header
    (('time', 'kWh', 'section'), ('time', 'kWh'))
    """
    time = next((column.index for column in shape.places(TIME)), -1)
    if shape.kind != "table" or shape.layout != "long" or shape.header_row < 0 or time < 0 or shape.places(DEVICE):
        return shape
    parts: list[set[str]] = [set()]
    for _, cells in below:
        if names_again(cells):
            parts.append(set())
        elif time < len(cells) and has_reading(cells):
            parts[-1].add(cells[time].strip())
    if len(parts) < 2 or len(parts[0] & parts[1]) < _SHARED * max(min(len(parts[0]), len(parts[1])), 1):
        return shape
    columns = (*shape.columns, ColumnRole(len(shape.header), DEVICE))
    return replace(shape, header=(*shape.header, SECTION), columns=columns, sections=True)
