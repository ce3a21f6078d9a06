"""How a meter's file is laid out: what is guessed from its first rows, corrected by pointing at columns, and kept as a preset."""

from __future__ import annotations

import codecs
import re
from collections.abc import Sequence
from dataclasses import asdict, dataclass, fields, replace
from typing import Any
from zoneinfo import ZoneInfo

from kitchen.domain.technical_units import factor

TIME, DATE, POWER, INTERVAL, TOTAL, CHARGE, VALUE, UNIT, DEVICE, END, STAGE, IGNORE = (
    "time", "date", "power", "energy_interval", "energy_total", "charge", "value", "unit", "device", "end", "stage", "ignore",
)  # fmt: skip

ROLE_WORDS = {
    IGNORE: "not used",
    TIME: "time",
    DATE: "day",
    END: "end of the interval",
    POWER: "power",
    INTERVAL: "energy of each interval",
    TOTAL: "counter",
    CHARGE: "battery’s charge, %",
    VALUE: "value, as the name or unit beside it says",
    UNIT: "unit of the value",
    DEVICE: "which device or sensor",
    STAGE: "stage of the cook",
}

AS_WRITTEN = "as written"
"""In place of a unit: each cell has its own behind its number."""

BASE = {POWER: "W", INTERVAL: "Wh", TOTAL: "Wh", CHARGE: "%"}
"""What values of each role become."""

_ENERGIES = ("Wh", "kWh", "MWh", "W min", "mW min", "J", "kJ", "MJ", "mWh", AS_WRITTEN)
UNITS = {POWER: ("W", "kW", "mW", "MW", AS_WRITTEN), INTERVAL: _ENERGIES, TOTAL: _ENERGIES, CHARGE: ("%",)}
"""The units that a value of each role can have."""


def in_base(role: str, unit: str) -> float:
    """Return what a value is multiplied by to become W, Wh or %; 1 where its unit is not known.

    Examples
    --------
    >>> in_base(POWER, "kW"), in_base(TOTAL, "W min") == 1 / 60, in_base(CHARGE, ""), in_base(POWER, AS_WRITTEN)
    (1000.0, True, 1.0, 1.0)
    """
    return factor(unit, BASE[role]) if unit != AS_WRITTEN and unit in UNITS.get(role, ()) else 1.0


ELAPSED = ("s", "min", "h", "ms", "mm:ss", "day number")
"""Ways in which a column counts time without naming a moment."""


_LOOSE = ("header", "columns", "held", "day_first", "together", "year")


def parts_columns(sign: str) -> bool:
    """Return whether a sign can part columns: one character, and none that begins a quoted cell or ends a line.

    Examples
    --------
    >>> [parts_columns(sign) for sign in (",", "\\t", "ä", '"', "\\n", ";;", "")]
    [True, True, True, False, False, False, False]
    """
    return len(sign) == 1 and sign not in '"\r\n\0'


class UnreadableFile(ValueError):
    """A file that cannot be read; the message says why, with the row where one is at fault, and what to do."""


@dataclass(frozen=True)
class ColumnRole:
    """What one column holds: its place from 0, its role (a key of ``ROLE_WORDS``) and the unit of its values."""

    index: int
    role: str
    unit: str = ""


@dataclass(frozen=True)
class LogShape:
    """How a file is read.

    Attributes
    ----------
    kind : str
        ``table`` (text in columns), ``json`` (objects or rows in JSON, one document or one a line), ``xml`` (the utilities' open
        interval standard), ``pairs`` (``name=value`` several times on each line).
    encoding, delimiter, decimal : str
        How text is taken apart; ``decimal`` is ``.`` or ``,``.
    header_row : int
        The row that names the columns, from 0; -1 where none does.
    header : tuple of str
        The names of the columns, by which a preset is found again.
    units_row : bool
        Whether the row below the names holds units.
    columns : tuple of ColumnRole
        What is used; columns that are not named are passed over.
    layout : str
        ``long`` (a row a moment), ``wide`` (a row a day, a column a quarter-hour or hour from ``first_slot`` on), ``across``
        (a row a sensor, a column a moment from ``first_slot`` on) or ``records`` (rows that begin with a number for their kind:
        200 says what follows, 300 is a day).
    day_first : bool or None
        Whether 3/4 is the third of April; None where that matters and nothing tells: then it is asked.
    zone : str
        The zone of times without one; empty: the site's.
    elapsed : str
        ``""`` for clock times, else the unit of plain numbers counted from the start: ``s``, ``min``, ``h``, ``ms``; ``mm:ss``;
        ``day number`` of spreadsheets; ``60 min from 1`` where intervals are numbered in their day.
    at_end : bool
        Whether an interval's stamp is its end.
    held : bool or None
        Whether watts are changes that hold; None: their rhythm tells.
    device : str
        Which device's rows are read, where the file has several.
    day_rows : bool
        Whether days stand on rows of their own, above times without a day.
    means : bool
        Whether watts are the mean of the interval at their time, not what was drawn at one moment.
    sections : bool
        Whether the row of names comes again for each meter or direction; the last column is then the name of the section.
    together : tuple of str
        Roles of which several columns add up, because somebody pointed at them together.
    year : int or None
        The year of days that name none; 0 where they do, None where it is asked.
    strict : bool
        Whether a cell that cannot be read refuses the file: somebody typed it, and can put it right.
    """

    kind: str = "table"
    encoding: str = "utf-8"
    delimiter: str = ","
    decimal: str = "."
    header_row: int = 0
    header: tuple[str, ...] = ()
    units_row: bool = False
    columns: tuple[ColumnRole, ...] = ()
    layout: str = "long"
    first_slot: int = 0
    slots: int = 0
    day_first: bool | None = True
    zone: str = ""
    elapsed: str = ""
    at_end: bool = False
    held: bool | None = None
    device: str = ""
    day_rows: bool = False
    means: bool = False
    strict: bool = False
    sections: bool = False
    together: tuple[str, ...] = ()
    year: int | None = 0

    def places(self, *roles: str) -> list[ColumnRole]:
        """Return the columns of some roles, in their order."""
        return [column for column in self.columns if column.role in roles]

    def with_role(self, index: int, role: str, unit: str = "") -> LogShape:
        """Return the shape with another role for one column."""
        others = tuple(column for column in self.columns if column.index != index)
        if role == IGNORE:
            return replace(self, columns=others)
        return replace(self, columns=tuple(sorted((*others, ColumnRole(index, role, unit)), key=lambda column: column.index)))

    def with_sums(self, pointed: Sequence[str]) -> LogShape:
        """Return the shape in which several columns of one role add up, where somebody pointed at one of them as another."""
        roles = [column.role for column in self.columns]
        added = [role for role in (POWER, INTERVAL, TOTAL) if role in pointed and roles.count(role) > 1]
        return replace(self, together=tuple(dict.fromkeys((*self.together, *added))))

    def to_dict(self) -> dict[str, Any]:
        """Return the shape as plain JSON."""
        held = asdict(self)
        columns = [asdict(column) for column in self.columns]
        return {**held, "header": list(self.header), "columns": columns, "together": list(self.together)}

    @classmethod
    def from_dict(cls, held: dict[str, Any]) -> LogShape:
        """Return the shape that was kept; what this program does not know is passed over, and nonsense is refused.

        Raises
        ------
        UnreadableFile
            If what was kept is no shape.
        """
        try:
            known = {field.name: held[field.name] for field in fields(cls) if field.name in held}
            columns = tuple(
                ColumnRole(int(one["index"]), str(one["role"]), str(one.get("unit", ""))) for one in known.get("columns", ())
            )
            if any(type(value) is not type(getattr(cls, name)) for name, value in known.items() if name not in _LOOSE):
                raise TypeError("a figure where a word belongs")
            known["together"] = tuple(str(role) for role in known.get("together", ()))
            if known.get("year", 0) is not None and not 0 <= int(known.get("year", 0)) <= 9999:
                raise TypeError("no year")
            shape = cls(**{**known, "header": tuple(str(name) for name in known.get("header", ())), "columns": columns})
        except (TypeError, KeyError, ValueError) as error:
            raise UnreadableFile("What was kept is no way of reading a file.") from error
        shape.refuse_nonsense()
        return shape

    def refuse_nonsense(self) -> None:
        """Refuse roles, units and marks that there are not."""
        for column in self.columns:
            if column.role not in ROLE_WORDS or column.index < 0:
                raise UnreadableFile(f"“{column.role}” is no use of a column.")
            if column.unit and column.role in UNITS and column.unit not in UNITS[column.role]:
                raise UnreadableFile(f"“{column.unit}” is no unit of {ROLE_WORDS[column.role]}.")
        self._refuse_times()
        layouts = ("long", "wide", "across", "records")
        if self.kind not in ("table", "json", "xml", "pairs") or self.layout not in layouts or self.decimal not in (".", ","):
            raise UnreadableFile("What was kept is no way of reading a file.")
        if self.layout == "wide" and not (self.slots > 0 and self.places(POWER, INTERVAL) and self.places(DATE, TIME)):
            raise UnreadableFile("A row a day needs a column with the day, and the first column with values.")
        try:
            codecs.lookup(self.encoding)
        except LookupError as error:
            raise UnreadableFile(f"“{self.encoding}” is no encoding of text.") from error
        if not parts_columns(self.delimiter):
            raise UnreadableFile("One sign parts the columns, such as a comma.")

    def _refuse_times(self) -> None:
        """Refuse zones that there are not, and ways of counting time that are not known."""
        if self.zone:
            try:
                ZoneInfo(self.zone)
            except (ValueError, LookupError, OSError) as error:
                raise UnreadableFile(f"“{self.zone}” is no time zone. Write it like Europe/Vienna.") from error
        if self.elapsed not in ("", *ELAPSED) and not re.fullmatch(r"(15|30|60) min from [01]", self.elapsed):
            raise UnreadableFile(f"“{self.elapsed}” is no way of counting time.")
