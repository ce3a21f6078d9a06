"""The moment of each row: from one column, a day beside a clock, a day above, or a count."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, datetime, timedelta

from energy.meters.files.clocks.bare_clocks import bare_clock_s
from energy.meters.files.clocks.stamps import FIRST_YEAR, LAST_YEAR, Clock, Stamp, read_stamp
from energy.meters.files.clocks.yearless import SOME_YEAR, Years, with_year
from energy.meters.files.columns.cells import number
from energy.meters.files.columns.shape import DATE, TIME, LogShape

_ELAPSED_S = {"s": 1.0, "min": 60.0, "h": 3600.0, "ms": 0.001}


_FIRST_DAY = datetime(1899, 12, 30)  # the wall clock of whoever exported it
"""Day 0 of spreadsheets."""


def _numbered(elapsed: str) -> tuple[float, int] | None:
    """Return step and first number of intervals that are numbered in their day, as ``60 min from 1`` says."""
    found = re.fullmatch(r"(\d+) min from ([01])", elapsed)
    return None if found is None else (int(found[1]) * 60.0, int(found[2]))


_LONGEST_S = 1e10
"""A count of time beyond this is none. [s]"""


class Moments:
    """Reads the moment of a row: one column, a day beside a clock, a day carried down from a row above, or a count."""

    def __init__(self, shape: LogShape, clock: Clock) -> None:
        self.clock, self.shape, self.day_first = clock, shape, shape.day_first is not False
        time, day = shape.places(TIME), shape.places(DATE)
        self.time = time[0].index if time else (day[0].index if day else -1)
        self.day = day[0].index if day and time else -1
        self.scale = _ELAPSED_S.get(shape.elapsed, 0.0)
        self.numbered = _numbered(shape.elapsed)
        self.whole = self.day < 0
        self._halves: dict[str, Stamp | None] = {}
        self._stamps: dict[str, Stamp | None] = {}
        self.years = Years(shape.year or SOME_YEAR) if shape.year != 0 else None
        self._day_cell = ""
        self._day_stamp: Stamp | None = None

    def of(self, cells: Sequence[str]) -> float | None:
        """Return the seconds of a row, or None where it holds no moment."""
        if self.time >= len(cells):
            return None
        cell = cells[self.time]
        if self.years is not None:
            return self._yearless_s(cell)
        if self.numbered is not None:
            return self._numbered_s(cell, cells)
        if self.shape.elapsed in ("day number", "mm:ss"):
            return self._counted_s(cell)
        if self.scale:
            return self._elapsed_s(cell)
        if self.whole and (plain := self._plain_s(cell)) is not None:
            return plain
        return self._stamped_s(cell, cells)

    def _yearless_s(self, cell: str) -> float | None:
        """Return the seconds of a moment whose day names no year."""
        assert self.years is not None
        stamp = read_stamp(with_year(cell, self.years.year), self.day_first)
        if stamp is None or stamp.day is None:
            return None
        try:
            day = stamp.day.replace(year=self.years.take(stamp.day))
        except ValueError:  # a 29th of February that this year does not have
            return None
        return self.clock.seconds(Stamp(day, stamp.clock_s, stamp.offset_min))

    def _elapsed_s(self, cell: str) -> float | None:
        """Return the seconds of a plain number that counts time from the start of the log."""
        value = number(cell, self.shape.decimal)
        if value is None or not -_LONGEST_S < value * self.scale < _LONGEST_S:
            return None
        return self.clock.counted(value * self.scale)

    def _plain_s(self, cell: str) -> float | None:
        """Return the seconds of a whole moment as machines write it: a number since 1970, or ISO 8601; the usual, and quick."""
        if cell.isdecimal() and len(cell) in (10, 13) and cell.isascii():
            return self.clock.seconds(Stamp(epoch_s=float(cell) if len(cell) == 10 else float(cell) / 1000))
        try:
            moment = datetime.fromisoformat(cell)
        except ValueError:
            return None
        return self.clock.seconds_of(moment) if len(cell) > 10 and FIRST_YEAR <= moment.year < LAST_YEAR else None

    def _stamped_s(self, cell: str, cells: Sequence[str]) -> float | None:
        """Return the seconds of a moment as people write it, with its day from its own column where it stands there."""
        stamp = self._quick(cell) or self._stamp(cell) or self._bare_clock_stamp(cell)
        if stamp is None or (stamp.clock_s is None and stamp.epoch_s is None and self.day >= 0):
            return None
        if self.day >= 0 and stamp.day is None and stamp.epoch_s is None:
            day = self._day_of(cells)
            if day is None:
                return None
            stamp = Stamp(day, stamp.clock_s, stamp.offset_min)
        return self.clock.seconds(stamp)

    def _numbered_s(self, cell: str, cells: Sequence[str]) -> float | None:
        """Return the beginning of an interval that is numbered in its day: so many steps after midnight, on long days too."""
        day = self._day_of(cells)
        if day is None or not cell.strip().isdecimal() or self.numbered is None:
            return None
        step_s, first = self.numbered
        return self.clock.seconds(Stamp(day, 0.0)) + (int(cell) - first) * step_s

    def _counted_s(self, cell: str) -> float | None:
        """Return the seconds of minutes and seconds, or of a spreadsheet's day number."""
        if self.shape.elapsed == "mm:ss":
            minutes, colon, seconds = cell.strip().replace(",", ".").partition(":")
            try:
                return self.clock.counted(int(minutes) * 60 + float(seconds)) if colon else None
            except ValueError:
                return None
        value = number(cell, self.shape.decimal)
        if value is None or not 0 < value < 100_000:
            return None
        moment = _FIRST_DAY + timedelta(seconds=round(value * 86400, 2))
        return self.clock.seconds_of(moment)

    def _quick(self, cell: str) -> Stamp | None:
        """Return what a cell of one day and one clock says, each half remembered; None for any other."""
        day_text, space, clock_text = cell.partition(" ")
        if not space or " " in clock_text or self.day >= 0:
            return None
        day = self._stamp_of_half(day_text)
        clock = self._stamp_of_half(clock_text)
        if day is None or clock is None or day.day is None or day.clock_s is not None or clock.day is not None:
            return None
        return Stamp(day.day, clock.clock_s, clock.offset_min)

    def _bare_clock_stamp(self, cell: str) -> Stamp | None:
        """Return what a clock without colons says beside a day."""
        clock_s = bare_clock_s(cell) if self.day >= 0 else None
        return None if clock_s is None else Stamp(None, clock_s)

    def _stamp_of_half(self, text: str) -> Stamp | None:
        if text not in self._halves:
            if len(self._halves) > 200_000:
                self._halves.clear()
            self._halves[text] = read_stamp(text, self.day_first)
        return self._halves[text]

    def _stamp(self, cell: str) -> Stamp | None:
        if (self.day >= 0 or len(cell) <= 12) and not cell.isdecimal():
            if cell not in self._stamps:
                if len(self._stamps) > 100_000:
                    self._stamps.clear()
                self._stamps[cell] = read_stamp(cell, self.day_first)
            return self._stamps[cell]
        return read_stamp(cell, self.day_first)

    def _day_of(self, cells: Sequence[str]) -> date | None:
        cell = cells[self.day] if self.day < len(cells) else ""
        if cell.strip() and cell != self._day_cell:
            self._day_cell, self._day_stamp = cell, read_stamp(cell, self.day_first)
        return None if self._day_stamp is None else self._day_stamp.day

    def day_row(self, cells: Sequence[str]) -> bool:
        """Take over the day of a row that holds nothing but one, and return whether it does."""
        told = [cell for cell in cells if cell.strip()]
        if not self.shape.day_rows or len(told) > 2:
            return False
        for cell in told:
            stamp = read_stamp(cell, self.day_first)
            if stamp is not None and stamp.day is not None and stamp.clock_s is None:
                self.clock.seconds(Stamp(stamp.day, 0.0))
                return True
        return False
