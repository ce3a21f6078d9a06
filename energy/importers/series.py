"""Rows into series: times and values of each figure, of each device where a file has several. Streams; holds numbers only."""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from energy.importers.cells import number
from energy.importers.guessing import energy_role
from energy.importers.names import named, plain, unit_in
from energy.importers.shape import (
    CHARGE,
    DATE,
    DEVICE,
    END,
    INTERVAL,
    POWER,
    TIME,
    TOTAL,
    UNIT,
    UNITS,
    VALUE,
    LogShape,
    UnreadableFile,
)  # fmt: skip
from energy.importers.stamps import FIRST_YEAR, LAST_YEAR, Clock, Stamp, read_stamp

MOST_DEVICES = 200
LARGEST = 1e12
_ELAPSED_S = {"s": 1.0, "min": 60.0, "h": 3600.0, "ms": 0.001}
_NAN = float("nan")


@dataclass
class Series:
    """One figure over time: its role, what its values are multiplied by, and the device that it belongs to.

    ``values`` are as written; not-a-number where nothing was read. ``unit`` is empty where a name says none.
    """

    role: str
    unit: str
    name: str
    device: str = ""
    times_s: array[float] = field(default_factory=lambda: array("d"))
    values: array[float] = field(default_factory=lambda: array("d"))

    @property
    def factor(self) -> float:
        """What its values are multiplied by to become W, Wh or %."""
        return UNITS.get(self.role, {}).get(self.unit, 1.0)


@dataclass
class Account:
    """What was passed over while reading."""

    rows: int = 0
    skipped: int = 0
    first_skipped: int = 0
    unavailable: int = 0
    dated: bool = True
    first_offset: bool = False


def read_series(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, zone: str, account: Account) -> list[Series]:
    """Return the series of a file's rows.

    Parameters
    ----------
    rows : iterable of (number, cells)
        The rows below the names.
    shape : LogShape
        How they are laid out.
    zone : str
        The zone of times without one, where the shape names none.
    account : Account
        Takes what was passed over.

    Raises
    ------
    UnreadableFile
        If hardly a row holds a time.
    """
    clock = Clock(shape.zone or zone, day_first=shape.day_first)
    if shape.layout == "wide":
        found = _wide(rows, shape, clock, account)
    elif shape.places(DEVICE) or shape.places(UNIT):
        found = _by_device(rows, shape, clock, account)
    else:
        found = _side_by_side(rows, shape, clock, account)
    account.dated = clock.dated and not shape.elapsed
    read = account.rows - account.skipped
    if read <= 0 or account.skipped > 20 + read:
        raise UnreadableFile(_hardly(account))
    return found


def _hardly(account: Account) -> str:
    where = f" The first one without is row {account.first_skipped}." if account.first_skipped else ""
    return f"Of {account.rows:,} rows only {max(account.rows - account.skipped, 0):,} hold a time that can be read.{where} Point at the column with the time."


class Moments:
    """Reads the moment of a row: one column, a day beside a clock, a day carried down from a row above, or a count."""

    def __init__(self, shape: LogShape, clock: Clock) -> None:
        self.clock, self.shape = clock, shape
        time, day = shape.places(TIME), shape.places(DATE)
        self.time = time[0].index if time else (day[0].index if day else -1)
        self.day = day[0].index if day and time else -1
        self.scale = _ELAPSED_S.get(shape.elapsed, 0.0)
        self.whole = self.day < 0
        self._halves: dict[str, Stamp | None] = {}
        self._stamps: dict[str, Stamp | None] = {}
        self._day_cell, self._day_stamp = "", None

    def of(self, cells: Sequence[str]) -> float | None:
        """Return the seconds of a row, or None where it holds no moment."""
        if self.time >= len(cells):
            return None
        cell = cells[self.time]
        if self.scale:
            value = number(cell, self.shape.decimal)
            return None if value is None else self.clock.counted(value * self.scale)
        if self.whole:
            try:
                moment = datetime.fromisoformat(cell)
                if len(cell) > 10 and FIRST_YEAR <= moment.year < LAST_YEAR:
                    return self.clock.seconds_of(moment)
            except ValueError:
                pass
        stamp = self._quick(cell) or self._stamp(cell)
        if stamp is None or (stamp.clock_s is None and stamp.epoch_s is None and self.day >= 0):
            return None
        if self.day >= 0 and stamp.day is None and stamp.epoch_s is None:
            day = self._day_of(cells)
            if day is None:
                return None
            stamp = Stamp(day, stamp.clock_s, stamp.offset_min)
        return self.clock.seconds(stamp)

    def _quick(self, cell: str) -> Stamp | None:
        """Return what a cell of one day and one clock says, each half remembered; None for any other."""
        day_text, space, clock_text = cell.partition(" ")
        if not space or " " in clock_text or self.day >= 0:
            return None
        day = self._half(day_text)
        clock = self._half(clock_text)
        if day is None or clock is None or day.day is None or day.clock_s is not None or clock.day is not None:
            return None
        return Stamp(day.day, clock.clock_s, clock.offset_min)

    def _half(self, text: str) -> Stamp | None:
        if text not in self._halves:
            if len(self._halves) > 200_000:
                self._halves.clear()
            self._halves[text] = read_stamp(text, self.shape.day_first)
        return self._halves[text]

    def _stamp(self, cell: str) -> Stamp | None:
        if (self.day >= 0 or len(cell) <= 12) and not cell.isdigit():
            if cell not in self._stamps:
                if len(self._stamps) > 100_000:
                    self._stamps.clear()
                self._stamps[cell] = read_stamp(cell, self.shape.day_first)
            return self._stamps[cell]
        return read_stamp(cell, self.shape.day_first)

    def _day_of(self, cells: Sequence[str]) -> object:
        cell = cells[self.day] if self.day < len(cells) else ""
        if cell.strip() and cell != self._day_cell:
            self._day_cell, self._day_stamp = cell, read_stamp(cell, self.shape.day_first)
        return None if self._day_stamp is None else self._day_stamp.day

    def day_row(self, cells: Sequence[str]) -> bool:
        """Take over the day of a row that holds nothing but one, and return whether it does."""
        told = [cell for cell in cells if cell.strip()]
        if not self.shape.day_rows or len(told) > 2:
            return False
        for cell in told:
            stamp = read_stamp(cell, self.shape.day_first)
            if stamp is not None and stamp.day is not None and stamp.clock_s is None:
                self.clock.seconds(Stamp(stamp.day, 0.0))
                return True
        return False


def _side_by_side(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return one series a figure column; they share their times."""
    moments = Moments(shape, clock)
    figures = shape.places(POWER, INTERVAL, TOTAL, CHARGE, VALUE)
    times = array("d")
    found = [Series(_plain_role(column.role), column.unit, _name_of(shape, column.index), times_s=times) for column in figures]
    pairs = [(column.index, series.values) for column, series in zip(figures, found, strict=True)]
    decimal, fast = shape.decimal, shape.decimal == "."
    ends = shape.places(END)
    for row, cells in rows:
        account.rows += 1
        if shape.day_rows and moments.day_row(cells):
            account.rows -= 1
            continue
        at_s = moments.of(cells)
        if at_s is None:
            _skip(account, row, cells)
            continue
        times.append(at_s)
        for place, values in pairs:
            cell = cells[place] if place < len(cells) else ""
            try:
                value = float(cell) if fast else float(cell.replace(",", ".")) if "." not in cell else _NAN
                if value != value or "_" in cell:
                    raise ValueError
            except ValueError:
                value = _number(cell, decimal, account)
            values.append(value if -LARGEST < value < LARGEST else _NAN)
    del ends
    return found


def _number(cell: str, decimal: str, account: Account) -> float:
    value = number(cell, decimal)
    if value is None:
        account.unavailable += bool(cell.strip())
        return _NAN
    return value


def _skip(account: Account, row: int, cells: Sequence[str]) -> None:
    """Count a row that holds no moment; an empty one is none."""
    if any(cell.strip() for cell in cells):
        account.skipped += 1
        account.first_skipped = account.first_skipped or row
    else:
        account.rows -= 1


def _plain_role(role: str) -> str:
    return POWER if role == VALUE else role


def _name_of(shape: LogShape, place: int) -> str:
    return shape.header[place] if place < len(shape.header) else ""


def _by_device(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return one series for each device and figure column; values without a role take that of the device's name or the unit."""
    moments = Moments(shape, clock)
    device = next((column.index for column in shape.places(DEVICE)), -1)
    unit = next((column.index for column in shape.places(UNIT)), -1)
    figures = shape.places(POWER, INTERVAL, TOTAL, CHARGE, VALUE)
    found: dict[tuple[str, str, int], Series | None] = {}
    fast = shape.decimal == "."
    for row, cells in rows:
        account.rows += 1
        at_s = moments.of(cells)
        if at_s is None:
            _skip(account, row, cells)
            continue
        who = cells[device].strip() if 0 <= device < len(cells) else ""
        what = cells[unit].strip() if 0 <= unit < len(cells) else ""
        for column in figures:
            key = (who, what, column.index)
            if key not in found:
                if len(found) >= MOST_DEVICES:
                    raise UnreadableFile(
                        f"The file has more than {MOST_DEVICES} devices or sensors. Export those of the cooker alone."
                    )
                found[key] = _series_of(column.role, column.unit, who, what, _name_of(shape, column.index))
            series = found[key]
            if series is None:
                continue
            cell = cells[column.index] if column.index < len(cells) else ""
            try:
                value = float(cell) if fast else _number(cell, shape.decimal, account)
            except ValueError:
                value = _number(cell, shape.decimal, account)
            series.times_s.append(at_s)
            series.values.append(value if -LARGEST < value < LARGEST else _NAN)
    return _roles_told([series for series in found.values() if series is not None])


def _series_of(role: str, unit: str, who: str, what: str, column: str) -> Series | None:
    """Return an empty series for a device's figure, or None where its name says that it is neither power nor energy."""
    if role != VALUE:
        return Series(role, unit, column, group_of(who))
    said = named(who)
    told = unit_in(what) or said.unit
    if said.export or told in ("VA", "A", "V", "PF", "Hz", "other"):
        return None
    if told in UNITS[POWER]:
        return Series(POWER, told, who, group_of(who))
    if told in UNITS[INTERVAL]:
        return Series(said.role if said.role in (TOTAL, INTERVAL) else "", told, who, group_of(who))
    if told == "%" or said.role == CHARGE:
        return Series(CHARGE, "%", who, group_of(who)) if said.role == CHARGE else None
    if said.role in (POWER, TOTAL, INTERVAL):
        return Series(said.role, "", who, group_of(who))
    if what or said.role:
        return None if what else Series(VALUE, "", who, group_of(who))
    return Series(VALUE, "", who, group_of(who))


def _roles_told(found: list[Series]) -> list[Series]:
    """Give a role to the series whose names said none: a counter climbs, watts go up and down."""
    for series in found:
        values = [value for value in series.values if not math.isnan(value)]
        if series.role == "":
            series.role = energy_role("", values)
        elif series.role == VALUE:
            climbing = energy_role("", values) == TOTAL and len(set(values[:2000])) > 2
            series.role, series.unit = (TOTAL, "kWh") if climbing else (POWER, "W")
    return found


def group_of(device: str) -> str:
    """Return what is left of a sensor's name without the words for its quantity: the device that it belongs to.

    Examples
    --------
    >>> group_of("sensor.kitchen_plug_power"), group_of("sensor.kitchen_plug_energy_total"), group_of("Kettle")
    ('sensor kitchen plug', 'sensor kitchen plug', 'kettle')
    """
    words = plain(device).split(" ")
    quantities = {
        "power", "energy", "total", "consumption", "current", "voltage", "watt", "watts", "w", "kwh", "wh", "kw", "apparent", "reactive",
        "factor", "state", "value", "leistung", "energie", "verbrauch", "gesamt", "today", "daily", "sum", "summation", "delivered", "active",
        "va", "v", "a", "hz", "battery", "charge", "soc", "instantaneous", "demand",
    }  # fmt: skip
    return " ".join(word for word in words if word not in quantities) or plain(device)


def _wide(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return the series of a table with a row a day; its columns are evenly spaced over the day, also over a longer or shorter one."""
    figure = shape.places(POWER, INTERVAL)[0]
    day_place = shape.places(DATE, TIME)[0].index
    device = next((column.index for column in shape.places(DEVICE)), -1)
    step_s = _step_s(shape.slots)
    found: dict[str, Series] = {}
    for row, cells in rows:
        account.rows += 1
        stamp = read_stamp(cells[day_place], shape.day_first) if day_place < len(cells) else None
        if stamp is None or (stamp.day is None and stamp.epoch_s is None):
            _skip(account, row, cells)
            continue
        start_s = clock.seconds(Stamp(stamp.day, 0.0, None, stamp.epoch_s))
        who = cells[device].strip() if 0 <= device < len(cells) else ""
        series = found.setdefault(who, Series(figure.role, figure.unit, who or "the table", group_of(who) if who else ""))
        for slot, cell in enumerate(cells[shape.first_slot : shape.first_slot + shape.slots]):
            value = _number(cell, shape.decimal, account)
            if not math.isnan(value) or cell.strip():
                series.times_s.append(start_s + slot * step_s + (step_s if shape.at_end and figure.role == POWER else 0.0))
                series.values.append(value)
    return list(found.values())


def _step_s(slots: int) -> float:
    return {24: 3600, 23: 3600, 25: 3600, 48: 1800, 50: 1800, 46: 1800, 96: 900, 92: 900, 100: 900, 288: 300}.get(
        slots, 86400 / slots
    )
