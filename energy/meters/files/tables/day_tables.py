"""The guess at a table with a row a day and a column for each interval of it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from energy.meters.files.clocks.time_columns import is_day, order_of, unsure_order
from energy.meters.files.columns.cells import decimal_of, unit_behind
from energy.meters.files.columns.names import named, unit_in
from energy.meters.files.columns.shape import DATE, DEVICE, INTERVAL, POWER, UNITS, ColumnRole
from energy.meters.files.tables.day_slots import slot_s, slots_at
from energy.meters.files.tables.table import Guess, Table


def days_guess(table: Table) -> Guess | None:
    """Return the guess at a table with a row a day, or None."""
    shape, names, below = table.shape, table.names, table.below
    slots = slots_at(names)
    if slots is None:
        return None
    first, count = slots
    before = [(place, name) for place, name in enumerate(names) if place < first]
    days = [place for place, _ in before if sum(is_day(cells, place) for _, cells in below[:20]) >= max(1, len(below[:20]) // 2)]
    if not days:
        return None
    written = [cells[days[0]] for _, cells in below if len(cells) > days[0]]
    values = [cell for _, cells in below[:20] for cell in cells[first : first + count]]
    decimal = decimal_of(values, shape.delimiter)
    words = [*table.units, *names[:first], *names[first + count :], *(cell for _, cells in below[:1] for cell in cells[:first])]
    words += names[first : first + 1]
    unit = _any_unit(words) or table.above or unit_behind(values[0] if values else "") or "kWh"
    role = POWER if unit in UNITS[POWER] else INTERVAL
    unit = unit if unit in UNITS[role] else "kWh"
    columns = [ColumnRole(days[0], DATE), *_device_columns(names[:first], below, days[0])]
    known = replace(
        shape,
        layout="wide",
        first_slot=first,
        slots=count,
        decimal=decimal,
        at_end=_says_end(names[first], names[first + count - 1]),
        means=role == POWER,
        columns=(*columns, ColumnRole(first, role, unit)),
        day_first=order_of(written) is not False,
    )
    return Guess(known, below, unsure_order(written))


def _any_unit(words: Sequence[str]) -> str:
    found = (unit_in(word) for word in words)
    return next((unit for unit in found if unit in UNITS[INTERVAL] or unit in UNITS[POWER]), "")


def _says_end(first: str, last: str) -> bool:
    """Return whether the times that name the columns are the ends of their intervals."""
    if re.search(r"\d\s*[-–]\s*\d", first):
        return False
    begins = re.fullmatch(r"\D*\d{1,3}\D*", first) is None and (slot_s(first) or 0.0) > 0
    return begins or bool(re.match(r"\s*(?:00?:00|24:00)", last))


def _device_columns(names: Sequence[str], below: Sequence[tuple[int, list[str]]], day: int) -> list[ColumnRole]:
    """Return the column that tells several devices apart, where one does."""
    for place, name in enumerate(names):
        if place == day:
            continue
        told = {cells[place].strip() for _, cells in below if place < len(cells)} - {""}
        if len(told) > 1 and (named(name).role == DEVICE or len(told) <= 12):
            return [ColumnRole(place, DEVICE)]
    return []
