"""What somebody says of a file beside what it tells itself: corrections of the guess, in words of a command line."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from energy.meters.files.columns.shape import (
    CHARGE,
    DATE,
    DEVICE,
    END,
    IGNORE,
    INTERVAL,
    POWER,
    ROLE_WORDS,
    STAGE,
    TIME,
    TOTAL,
    UNIT,
    UNITS,
    VALUE,
    LogShape,
    UnreadableFile,
)  # fmt: skip

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
    if unit and unit not in UNITS.get(role, ()):
        raise UnreadableFile(f"“{unit}” is no unit of {ROLE_WORDS[role]}. Units: {', '.join(UNITS.get(role, ())) or 'none'}.")
    return shape.with_role(column_of(shape, name), role, unit)


def with_columns(shape: LogShape, texts: Sequence[str]) -> LogShape:
    """Return a shape with the use of columns as somebody says it; several of one role that were named together add up.

    Examples
    --------
    >>> shape = LogShape(header=("t", "day", "night"))
    >>> with_columns(shape, ["day=energy_total:kWh", "night=energy_total:kWh"]).together
    ('energy_total',)
    """
    for text in texts:
        shape = with_column(shape, text)
    roles = [text.rpartition("=")[2].partition(":")[0] for text in texts]
    return replace(shape, together=tuple(role for role in (POWER, INTERVAL, TOTAL) if roles.count(role) > 1))


def column_of(shape: LogShape, name: str) -> int:
    """Return the place of a column by its number from 1, or by its name where one row names the columns and it stands there once.

    Raises
    ------
    UnreadableFile
        If there is none, or more than one.

    Examples
    --------
    >>> shape = LogShape(header=("t", "P1", "2"))
    >>> column_of(shape, "p1"), column_of(shape, "2"), column_of(shape, "3")
    (1, 1, 2)
    """
    asked = name.strip()
    if asked.isdecimal() and len(asked) < 6 and 1 <= int(asked) <= max(len(shape.header), 1000):
        return int(asked) - 1
    places = [place for place, each in enumerate(shape.header) if each.strip().lower() == asked.lower() and asked]
    if len(places) == 1:
        return places[0]
    if places:
        numbers = ", ".join(str(place + 1) for place in places)
        raise UnreadableFile(f"Several columns are called “{name}”. Use the number of the one that you mean: {numbers}.")
    raise UnreadableFile(
        f"There is no column “{name}”. Columns: {', '.join(filter(None, shape.header)) or 'without names: use their numbers'}."
    )


ROLE_EXAMPLES = {
    TIME: "1=time", DATE: "1=date", END: "2=end", POWER: "Leistung=power:kW", INTERVAL: "3=energy_interval:kWh",
    TOTAL: "Zählerstand=energy_total:kWh", CHARGE: "5=charge", VALUE: "state=value", UNIT: "4=unit", DEVICE: "entity_id=device",
    STAGE: "6=stage", IGNORE: "7=ignore",
}  # fmt: skip

ROLE_HELP = "\n".join(f"  {role:16} {ROLE_WORDS[role]}; like {example}" for role, example in ROLE_EXAMPLES.items())


def only_column(shape: LogShape, role: str, name: str) -> LogShape:
    """Return a shape in which one column alone has a role: the answer to which of several it is."""
    if name.strip() == "+":
        return replace(shape, together=(*shape.together, role))
    place = column_of(shape, name)
    unit = next((column.unit for column in shape.places(role) if column.index == place), "")
    others: Sequence[int] = [column.index for column in shape.places(role) if column.index != place]
    kept = replace(shape, columns=tuple(column for column in shape.columns if column.index not in others))
    return kept.with_role(place, role, unit)
