"""Interval data in numbered records: 200 says which register follows, in which unit and steps; 300 is a day of values."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from energy.meters.files.columns.names import unit_in
from energy.meters.files.columns.shape import DATE, INTERVAL, UNITS, ColumnRole, LogShape
from energy.meters.files.tables.table import Guess, Table

_FEWEST_VALUES = 24


def records_guess(table: Table) -> Guess | None:
    """Return the guess at a file of numbered records, or None."""
    shape = record_shape(table.rows, table.shape)
    return None if shape is None else Guess(shape, table.rows)


def record_shape(rows: Sequence[tuple[int, list[str]]], shape: LogShape) -> LogShape | None:
    """Return the shape of a file of numbered records, or None.

    Examples
    --------
    >>> rows = [(1, "200,M1,E1,1,E1,N,S,KWH,30".split(",")), (2, ["300", "20261014", *["0.1"] * 48])]
    >>> record_shape(rows, LogShape()).layout, record_shape([(1, ["time", "W"])], LogShape())
    ('records', None)
    """
    says = [cells for _, cells in rows[:40] if cells[0].strip() == "200" and len(cells) >= 9 and cells[8].strip().isdecimal()]
    days = [cells for _, cells in rows[:40] if cells[0].strip() == "300" and len(cells) >= 2 + _FEWEST_VALUES]
    if not says or not days:
        return None
    columns = (ColumnRole(1, DATE), ColumnRole(2, INTERVAL, "kWh"))
    return replace(shape, layout="records", header_row=-1, header=(), columns=columns, first_slot=2, decimal=".", day_first=True)


class Register:
    """What the rows of days below a 200 belong to: its name, its unit, how long its intervals are. [s]"""

    def __init__(self) -> None:
        self.name, self.unit, self.step_s = "", "kWh", 1800.0

    def take(self, cells: Sequence[str]) -> None:
        """Take over what a row that begins with 200 says."""
        self.name = cells[4].strip() if len(cells) > 4 else ""
        self.unit = unit_in(cells[7]) if len(cells) > 7 else "kWh"
        minutes = cells[8].strip() if len(cells) > 8 else ""
        self.step_s = int(minutes) * 60.0 if minutes.isdecimal() and int(minutes) > 0 else 1800.0

    @property
    def counts(self) -> bool:
        """Whether it is energy that was taken: its unit is one of energy and its name is no register of what was sent out."""
        return self.unit in UNITS[INTERVAL] and not self.name.upper().startswith("B")

    def values(self, cells: Sequence[str]) -> Iterator[tuple[float, str]]:
        """Yield the seconds after midnight at which each interval of a day's row begins, and its cell."""
        count = round(86400 / self.step_s)
        for slot, cell in enumerate(cells[2 : 2 + count]):
            yield slot * self.step_s, cell
