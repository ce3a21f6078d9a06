"""Rows into series: times and values of each figure, of each device where a file has several. Streams; holds numbers only."""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import islice

from energy.meters.files.clocks.moments import Moments
from energy.meters.files.clocks.stamps import Clock, Stamp, read_stamp
from energy.meters.files.clocks.time_columns import numbered_step_s
from energy.meters.files.columns.cells import number
from energy.meters.files.columns.mixed_units import as_written
from energy.meters.files.columns.names import unit_in
from energy.meters.files.columns.sensors import Series, group_of, roles_told, series_of
from energy.meters.files.columns.shape import (
    CHARGE,
    DATE,
    DEVICE,
    INTERVAL,
    POWER,
    STAGE,
    TIME,
    TOTAL,
    UNIT,
    UNITS,
    VALUE,
    LogShape,
    UnreadableFile,
)  # fmt: skip
from energy.meters.files.series.strict import Strict
from energy.meters.files.tables.day_records import Register
from energy.meters.files.tables.day_slots import STEPS_S

MOST_DEVICES = 200
LARGEST = 1e12
_NAN = float("nan")


@dataclass
class Account:
    """What was passed over while reading; ``stages`` are the cells that name one, with their moment and row. [s]"""

    rows: int = 0
    skipped: int = 0
    first_skipped: int = 0
    unavailable: int = 0
    dated: bool = True
    stages: list[tuple[float, int, str]] = field(default_factory=list)


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
    clock = Clock(shape.zone or zone, day_first=shape.day_first is not False)
    if shape.layout == "wide":
        found = _series_of_days(rows, shape, clock, account)
    elif shape.layout == "records":
        found = _records(rows, shape, clock, account)
    elif shape.layout == "across":
        found = _series_across(rows, shape, clock, account)
    elif shape.places(DEVICE) or shape.places(UNIT):
        found = _by_device(rows, shape, clock, account)
    else:
        found = _side_by_side(rows, shape, clock, account)
    account.dated = clock.dated
    if clock.mixed or len(clock.zoned) > 1:
        what = "its day" if clock.mixed else "its zone"
        raise UnreadableFile(f"Some times name {what} and others do not. Write all of them in one way, then try again.")
    read = account.rows - account.skipped
    if account.rows == 0:
        raise UnreadableFile("The file names its columns but has no readings below them. Choose another, or add the readings.")
    if read <= 0 or account.skipped > 20 + read:
        raise UnreadableFile(_hardly_read_words(account))
    return found


def _hardly_read_words(account: Account) -> str:
    where = f" The first one without is row {account.first_skipped}." if account.first_skipped else ""
    read = max(account.rows - account.skipped, 0)
    return f"Of {account.rows:,} rows only {read:,} hold a time that can be read.{where} Point at the column with the time."


def _side_by_side(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return one series a figure column; they share their times."""
    moments = Moments(shape, clock)
    figures = shape.places(POWER, INTERVAL, TOTAL, CHARGE, VALUE)
    times = array("d")
    found = [Series(_plain_role(column.role), column.unit, _name_of(shape, column.index), times_s=times) for column in figures]
    pairs = [(column.index, series.values, column.unit == "as written") for column, series in zip(figures, found, strict=True)]
    decimal, fast = shape.decimal, shape.decimal == "."
    stage = next((column.index for column in shape.places(STAGE)), -1)
    strict = Strict(shape, moments.time) if shape.strict else None
    for row, cells in rows:
        account.rows += 1
        if shape.day_rows and moments.day_row(cells):
            account.rows -= 1
            continue
        at_s = moments.of(cells)
        if strict is not None and any(cells):
            strict.check(row, cells, at_s)
        if at_s is None:
            _skip(account, row, cells)
            continue
        times.append(at_s)
        if 0 <= stage < len(cells) and cells[stage].strip():
            account.stages.append((at_s, row, cells[stage].strip()))
        for place, values, mixed in pairs:
            cell = cells[place] if place < len(cells) else ""
            if mixed:
                values.append(as_written(cell, decimal))
                continue
            try:
                value = float(cell) if fast else float(cell.replace(",", ".")) if "." not in cell else _NAN
                if math.isnan(value) or "_" in cell:
                    raise ValueError
            except ValueError:
                value = _number(cell, decimal, account)
            values.append(value if -LARGEST < value < LARGEST else _NAN)
    return found


def _number(cell: str, decimal: str, account: Account) -> float:
    value = number(cell, decimal)
    if value is None or not -LARGEST < value < LARGEST:
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
    devices = [column.index for column in shape.places(DEVICE)]
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
        who = " ".join([cells[place].strip() for place in devices if place < len(cells)])
        what = cells[unit].strip() if 0 <= unit < len(cells) else ""
        for column in figures:
            key = (who, what, column.index)
            if key not in found:
                if len(found) >= MOST_DEVICES:
                    raise UnreadableFile(
                        f"The file has more than {MOST_DEVICES} devices or sensors. Export those of the cooker alone."
                    )
                found[key] = series_of(column.role, column.unit, who, what, _name_of(shape, column.index))
            series = found[key]
            if series is None:
                continue
            if shape.sections:
                series.device = who.lower()
            cell = cells[column.index] if column.index < len(cells) else ""
            try:
                value = float(cell) if fast else _number(cell, shape.decimal, account)
            except ValueError:
                value = _number(cell, shape.decimal, account)
            series.times_s.append(at_s)
            series.values.append(value if -LARGEST < value < LARGEST else _NAN)
    return roles_told([series for series in found.values() if series is not None])


def _records(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return the series of numbered records, one a register that counts what was taken."""
    register, found = Register(), dict[str, Series]()
    for row, cells in rows:
        kind = cells[0].strip()
        if kind == "200":
            register.take(cells)
        if kind != "300" or not register.counts:
            continue
        account.rows += 1
        stamp = read_stamp(cells[1]) if len(cells) > 1 else None
        if stamp is None or stamp.day is None:
            _skip(account, row, cells)
            continue
        start_s = clock.seconds(Stamp(stamp.day, 0.0))
        series = found.setdefault(register.name, Series(INTERVAL, register.unit, register.name, register.name.lower()))
        for after_s, cell in register.values(cells):
            series.times_s.append(start_s + after_s)
            series.values.append(_number(cell, shape.decimal, account))
    return list(found.values())


def _series_across(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return the series of a table with a row a sensor and a column a moment."""
    stamps = [read_stamp(name, shape.day_first is not False) for name in shape.header[shape.first_slot :]]
    times = [None if stamp is None else clock.seconds(stamp) for stamp in stamps]
    found = []
    days = _DaysAcross(times, shape.decimal, account)
    told_rows = list(islice(rows, _MOST_ACROSS))
    numbered = numbered_step_s([cells[0] for _, cells in told_rows])
    for _, cells in told_rows:
        told = [cell.strip() for cell in cells[: shape.first_slot]]
        account.rows += 1
        unit = next((cell for cell in told if unit_in(cell) in (*UNITS[POWER], *UNITS[INTERVAL]) and len(cell) <= 5), "")
        who = next((cell for cell in told if cell and cell != unit), "")
        clock_s = _clock_of(who)
        if numbered is not None:
            clock_s = (int(cells[0]) - numbered[1]) * numbered[0] if cells[0].strip().isdecimal() else None
        if clock_s is not None:
            days.take(clock_s, cells[shape.first_slot :])
            continue
        series = series_of(VALUE, "", who, unit, who)
        if series is None:
            continue
        for at_s, cell in zip(times, cells[shape.first_slot :], strict=False):
            if at_s is not None and cell.strip():
                series.times_s.append(at_s)
                series.values.append(_number(cell, shape.decimal, account))
        found.append(series)
    return roles_told([*found, *days.found()])


def _clock_of(cell: str) -> float | None:
    """Return the seconds after midnight at which a row of a table with days across begins; None where it names a sensor."""
    stamp = read_stamp(cell)
    return None if stamp is None or stamp.day is not None or stamp.epoch_s is not None else stamp.clock_s


_MOST_ACROSS = 20_000


class _DaysAcross:
    """Collects the values of rows that are clocks, below columns that are days."""

    def __init__(self, days_s: Sequence[float | None], decimal: str, account: Account) -> None:
        self.days_s, self.decimal, self.account = days_s, decimal, account
        self.series = Series("", "", "the table")

    def take(self, clock_s: float, cells: Sequence[str]) -> None:
        for day_s, cell in zip(self.days_s, cells, strict=False):
            if day_s is not None and cell.strip():
                self.series.times_s.append(day_s + clock_s)
                self.series.values.append(_number(cell, self.decimal, self.account))

    def found(self) -> list[Series]:
        """Return the one series, in the order of time, or nothing where no row was a clock."""
        order = sorted(range(len(self.series.times_s)), key=self.series.times_s.__getitem__)
        if not order:
            return []
        times, values = self.series.times_s, self.series.values
        return [
            Series(INTERVAL, "", "the table", "", array("d", (times[n] for n in order)), array("d", (values[n] for n in order)))
        ]


def _series_of_days(rows: Iterable[tuple[int, Sequence[str]]], shape: LogShape, clock: Clock, account: Account) -> list[Series]:
    """Return the series of a table with a row a day; its columns are evenly spaced, on longer and shorter days too."""
    figure = shape.places(POWER, INTERVAL)[0]
    day_place = shape.places(DATE, TIME)[0].index
    device = next((column.index for column in shape.places(DEVICE)), -1)
    step_s = STEPS_S.get(shape.slots, 86400 / shape.slots)
    found: dict[str, Series] = {}
    for row, cells in rows:
        account.rows += 1
        stamp = read_stamp(cells[day_place], shape.day_first is not False) if day_place < len(cells) else None
        if stamp is None or (stamp.day is None and stamp.epoch_s is None):
            _skip(account, row, cells)
            continue
        start_s = clock.seconds(Stamp(stamp.day, 0.0, None, stamp.epoch_s))
        who = cells[device].strip() if 0 <= device < len(cells) else ""
        unit = unit_in(who) if len(who) <= 6 else ""
        if unit and unit not in UNITS[figure.role]:
            continue
        series = found.setdefault(who, Series(figure.role, unit or figure.unit, who or "the table", group_of(who) if who else ""))
        for slot, cell in enumerate(cells[shape.first_slot : shape.first_slot + shape.slots]):
            value = _number(cell, shape.decimal, account)
            if not math.isnan(value) or cell.strip():
                series.times_s.append(start_s + (slot + shape.at_end) * step_s)
                series.values.append(value)
    return list(found.values())
