"""What somebody says of a file beside what it tells itself: corrections of the guess, in words of a command line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from energy.importers.shape import ROLE_WORDS, UNITS, LogShape, UnreadableFile

DELIMITERS = {"comma": ",", "semicolon": ";", "tab": "\t", "pipe": "|", "space": " "}


def with_column(shape: LogShape, text: str) -> LogShape:
    """Return a shape with the use of one column as somebody says it: ``NAME=ROLE`` or ``NAME=ROLE:UNIT``, or its number from 1.

    Raises
    ------
    UnreadableFile
        If there is no such column, use or unit.

    Examples
    --------
    >>> shape = LogShape(header=("t", "P1", "P2"))
    >>> with_column(with_column(shape, "P2=power:kW"), "1=time").columns
    (ColumnRole(index=0, role='time', unit=''), ColumnRole(index=2, role='power', unit='kW'))
    """
    name, sign, use = text.rpartition("=")
    role, _, unit = use.partition(":")
    if not sign or role not in ROLE_WORDS:
        raise UnreadableFile(
            f"“{text}” says no use of a column. Write NAME=ROLE or NAME=ROLE:UNIT; roles: {', '.join(ROLE_WORDS)}."
        )
    if unit and unit not in UNITS.get(role, {}):
        raise UnreadableFile(f"“{unit}” is no unit of {ROLE_WORDS[role]}. Units: {', '.join(UNITS.get(role, {})) or 'none'}.")
    return shape.with_role(column_of(shape, name), role, unit)


def column_of(shape: LogShape, name: str) -> int:
    """Return the place of a column by its name or its number from 1.

    Raises
    ------
    UnreadableFile
        If there is none.
    """
    names = [each.strip().lower() for each in shape.header]
    if name.strip().lower() in names:
        return names.index(name.strip().lower())
    if name.strip().isdecimal() and len(name) < 6 and 1 <= int(name) <= max(len(names), 1000):
        return int(name) - 1
    raise UnreadableFile(
        f"There is no column “{name}”. Columns: {', '.join(shape.header) or 'without names: use their numbers'}."
    )


def only_column(shape: LogShape, role: str, name: str) -> LogShape:
    """Return a shape in which one column alone has a role: the answer to which of several it is."""
    place = column_of(shape, name)
    unit = next((column.unit for column in shape.places(role) if column.index == place), "")
    others: Sequence[int] = [column.index for column in shape.places(role) if column.index != place]
    kept = replace(shape, columns=tuple(column for column in shape.columns if column.index not in others))
    return kept.with_role(place, role, unit)
