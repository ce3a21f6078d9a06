"""Prices by the clock: bands of a tariff by local time, weekday and month, and which of them holds at an instant.

A band's window lies inside one local day; one that ends before it begins covers the early and the late hours of the same day.
Where several bands match, the one with more conditions wins (months, weekdays or holidays named); of two with as many, one with
a window wins over one for the whole day, which so means the rest. Two that are as particular are an overlap, and an instant that
none matches is a gap. Both are refused before a tariff is kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from decimal import Decimal
from functools import cached_property
from itertools import groupby, pairwise
from zoneinfo import ZoneInfo

DAY_MIN = 24 * 60
HOLIDAY = 7
"""The day class of a holiday; 0 is Monday, 6 Sunday."""

WEEKDAYS = ("Mondays", "Tuesdays", "Wednesdays", "Thursdays", "Fridays", "Saturdays", "Sundays", "holidays")
MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


@dataclass(frozen=True)
class Band:
    """One price of the clock.

    Attributes
    ----------
    name : str
        "off-peak", "night" ...
    price_per_kwh : Decimal
        Price of a kilowatt-hour, before the tariff's tax.
    start_min, end_min : int
        Local minutes of the day; ``end_min`` is not in it. Both 0: the whole day.
    days : frozenset of int
        Day classes, 0 Monday to 6 Sunday and 7 a holiday; empty: every day.
    months : frozenset of int
        1 to 12; empty: every month.
    """

    name: str
    price_per_kwh: Decimal
    start_min: int = 0
    end_min: int = 0
    days: frozenset[int] = frozenset()
    months: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        """Refuse minutes, days and months that there are not."""
        if not (0 <= self.start_min < DAY_MIN and 0 <= self.end_min <= DAY_MIN):
            raise ValueError(f"“{self.name}” begins and ends within a day: minutes from 0 to {DAY_MIN}")
        if not self.days <= frozenset(range(8)) or not self.months <= frozenset(range(1, 13)):
            raise ValueError(f"“{self.name}” names a day or a month that there is not")

    @property
    def particular(self) -> tuple[int, bool]:
        """How particular it is: how many of months and days are named, then whether hours are."""
        return bool(self.months) + bool(self.days), (self.start_min, self.end_min % DAY_MIN) != (0, 0)

    def covers(self, month: int, day_class: int, minute: int) -> bool:
        """Return whether a local minute is in it.

        Examples
        --------
        >>> night = Band("night", Decimal("0.10"), 22 * 60, 6 * 60)
        >>> [night.covers(1, 0, hour * 60) for hour in (5, 6, 21, 22)]
        [True, False, False, True]
        """
        if (self.months and month not in self.months) or (self.days and day_class not in self.days):
            return False
        start, end = self.start_min, self.end_min or DAY_MIN
        return start <= minute < end if start < end else minute >= start or minute < end


@dataclass(frozen=True)
class Hours:
    """The bands of one tariff in one zone, with the dates that count as holidays."""

    bands: tuple[Band, ...]
    zone: str
    holidays: frozenset[date] = field(default_factory=frozenset)

    @cached_property
    def _tables(self) -> dict[tuple[int, int], tuple[int, ...]]:
        return {}

    @cached_property
    def zone_info(self) -> ZoneInfo:
        """The zone; raises ``zoneinfo.ZoneInfoNotFoundError`` for a name that there is not."""
        return ZoneInfo(self.zone)

    def day_class(self, day: date) -> int:
        """Return 0 (Monday) to 6 (Sunday), or 7 on a holiday that some band names; a holiday is a Sunday where none does."""
        if day not in self.holidays:
            return day.weekday()
        return HOLIDAY if any(HOLIDAY in band.days for band in self.bands) else 6

    def at(self, instant: datetime) -> Band:
        """Return the band that holds at an instant.

        Raises
        ------
        LookupError
            In a gap; a tariff that was checked has none.
        """
        local = instant.astimezone(self.zone_info)
        number = self._table(local.month, self.day_class(local.date()))[local.hour * 60 + local.minute]
        if number < 0:
            raise LookupError(f"No price is given for {local:%A %H:%M} in {MONTHS[local.month - 1]}.")
        return self.bands[number]

    def pieces(self, start: datetime, end: datetime) -> Iterator[tuple[datetime, datetime, Band]]:
        """Yield a span cut at every change of band, in the order of time; the clock's jumps fall where the zone has them.

        Notes
        -----
        Band limits are whole local minutes and the clock jumps at whole half-hours of UTC, so that cutting at both is exact.
        """
        here = start
        while here < end:
            band = self.at(here)
            there = min(self._until(here), end)
            while there < end and self.at(there) == band:
                there = min(self._until(there), end)
            yield here, there, band
            here = there

    def _until(self, instant: datetime) -> datetime:
        """Return the next instant at which the band may change: the end of its local run, or the next half-hour of UTC."""
        local = instant.astimezone(self.zone_info)
        table = self._table(local.month, self.day_class(local.date()))
        minute = local.hour * 60 + local.minute
        run = next((later for later in range(minute, DAY_MIN) if table[later] != table[minute]), DAY_MIN)
        whole = instant - timedelta(seconds=instant.second, microseconds=instant.microsecond)
        half = timedelta(minutes=30 - whole.minute % 30)
        return whole + min(timedelta(minutes=run - minute), half)

    def _table(self, month: int, day_class: int) -> tuple[int, ...]:
        """Return the number of the band of each minute of such a day, -1 in a gap."""
        key = (month, day_class)
        if key not in self._tables:
            self._tables[key] = tuple(self._number(month, day_class, minute) for minute in range(DAY_MIN))
        return self._tables[key]

    def _number(self, month: int, day_class: int, minute: int) -> int:
        found = [number for number, band in enumerate(self.bands) if band.covers(month, day_class, minute)]
        return max(found, key=lambda number: self.bands[number].particular, default=-1)

    def week(self, month: int) -> tuple[tuple[tuple[int, int, Band | None], ...], ...]:
        """Return the seven days of a week in a month, each as runs (start minute, end minute, band or None in a gap)."""
        return tuple(tuple(self._runs(month, day)) for day in range(7))

    def _runs(self, month: int, day_class: int) -> Iterator[tuple[int, int, Band | None]]:
        for number, minutes in groupby(range(DAY_MIN), key=self._table(month, day_class).__getitem__):
            run = list(minutes)
            yield run[0], run[-1] + 1, None if number < 0 else self.bands[number]

    def mistakes(self) -> list[str]:
        """Return what is wrong with the bands, a sentence each: gaps and overlaps. Empty for a tariff that may be kept."""
        if not self.bands:
            return ["A tariff by the clock needs a band at least."]
        return [
            *_window_sentences(self._gaps(), "No price is given"),
            *_window_sentences(self._overlaps(), "Two prices are given"),
        ]

    def _gaps(self) -> Iterator[tuple[str, int, int]]:
        for month, day_class in self._kinds_of_day():
            for start, end, band in self._runs(month, day_class):
                if band is None:
                    yield f"{start // 60:02d}:{start % 60:02d} to {end // 60:02d}:{end % 60:02d}", month, day_class

    def _overlaps(self) -> Iterator[tuple[str, int, int]]:
        limits = sorted({0, DAY_MIN, *(limit for band in self.bands for limit in (band.start_min, band.end_min))})
        for month, day_class in self._kinds_of_day():
            doubled = [
                minute
                for start, end in pairwise(limits)
                if len(self._best(month, day_class, start)) > 1
                for minute in range(start, end)
            ]
            for start, end in _spans(doubled):
                names = sorted({band.name for band in self._best(month, day_class, start)})
                window = f"{start // 60:02d}:{start % 60:02d} to {end // 60:02d}:{end % 60:02d} ({' and '.join(names)})"
                yield window, month, day_class

    def _kinds_of_day(self) -> Iterable[tuple[int, int]]:
        classes = range(8) if any(HOLIDAY in band.days for band in self.bands) else range(7)
        return [(month, day_class) for month in range(1, 13) for day_class in classes]

    def _best(self, month: int, day_class: int, minute: int) -> list[Band]:
        found = [band for band in self.bands if band.covers(month, day_class, minute)]
        most = max((band.particular for band in found), default=None)
        return [band for band in found if band.particular == most]


def _spans(minutes: Sequence[int]) -> Iterator[tuple[int, int]]:
    for _, run in groupby(enumerate(minutes), key=lambda pair: pair[1] - pair[0]):
        members = [minute for _, minute in run]
        yield members[0], members[-1] + 1


def _window_sentences(found: Iterable[tuple[str, int, int]], words: str) -> list[str]:
    """Return one sentence for each window and set of days, with all its months together."""
    windows: dict[str, dict[int, set[int]]] = {}
    for window, month, day_class in found:
        windows.setdefault(window, {}).setdefault(day_class, set()).add(month)
    said = []
    for window, days in windows.items():
        for months in sorted({tuple(sorted(held)) for held in days.values()}):
            named = [WEEKDAYS[day] for day, held in sorted(days.items()) if tuple(sorted(held)) == months]
            said.append(f"{words} from {window}, {_days_words(named)}{_months_words(months)}.")
    return said


def _days_words(named: Sequence[str]) -> str:
    if len(named) >= 7:
        return "any day"
    return f"{', '.join(named[:-1])} and {named[-1]}" if len(named) > 1 else named[0]


def _months_words(months: Sequence[int]) -> str:
    if len(months) == 12:
        return ""
    names = [MONTHS[month - 1] for month in months]
    return f" in {', '.join(names[:-1])} and {names[-1]}" if len(names) > 1 else f" in {names[0]}"
