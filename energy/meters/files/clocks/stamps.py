"""Times as meters' files write them: with a day or without, in many orders, with a zone or in the site's."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan janv january januar janvier enero ene gennaio gen januari",
            "feb febr february februar fev févr fév février febrero febbraio februari",
            "mar march märz maerz mär mrz mars marzo maart mrt",
            "apr april avr avril abril abr aprile",
            "may mai mayo maggio mag mei",
            "jun june juni juin junio giugno giu",
            "jul july juli juillet juil julio luglio lug",
            "aug august août aout agosto ago augustus",
            "sep sept september septembre septiembre settembre set",
            "oct october okt oktober octobre octubre ottobre ott",
            "nov november novembre noviembre",
            "dec december dez dezember déc décembre dic diciembre dicembre",
        ),
        1,
    )
    for name in names.split()
}
_ZONES = {
    "z": 0, "utc": 0, "gmt": 0, "cet": 60, "cest": 120, "mez": 60, "mesz": 120,
    "bst": 60, "wet": 0, "west": 60, "eet": 120, "eest": 180,
    "est": -300, "edt": -240, "cst": -360, "cdt": -300, "mst": -420,
    "mdt": -360, "pst": -480, "pdt": -420, "aest": 600, "aedt": 660,
}  # fmt: skip
_CLOCK = re.compile(r"(?<![\d.])(\d{1,3})[:h](\d{2})(?:[:m](\d{2})(?:[.,](\d{1,9}))?)?s?(?:\s*([AaPp])\.?\s?[Mm]\.?)?(?![\d:])")
_DAY = re.compile(r"(?<!\d)(\d{1,4})([./-])\s?(\d{1,2})\2\s?(\d{1,4})(?!\d)")
_NAMED = re.compile(r"(?<!\d)(\d{1,2})[.\s/-]*([^\W\d_]{3,9})\.?,?[\s/-]*(\d{4}|\d{2})(?![\d:])")
_NAMED_FIRST = re.compile(r"([^\W\d_]{3,9})\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})")
_UNIX = re.compile(r"([^\W\d_]{3,9})\s+(\d{1,2})\s+(?:[A-Z]{1,5}\s+)?(\d{4})$")
_COMPACT = re.compile(r"^(\d{4})(\d{2})(\d{2})(?:[T _-]?(\d{2})(\d{2})(\d{2})?)?(?:\.\d+)?(Z)?$")
_ZONE = re.compile(r"(?:\s*(Z|[+-]\d{2}:?\d{2}|[+-]\d{2})|\s+\(?([A-Za-z]{3,4})\)?)(?=$|\s+\(?[A-Z]{2,5}\)?$)")
_NUMBER = re.compile(r"^\d{9,19}(?:\.\d+)?$|^\d(?:\.\d+)?[eE]\+?\d{1,2}$")

FIRST_YEAR, LAST_YEAR = 1990, 2200


@dataclass(frozen=True)
class Stamp:
    """What a cell says of a moment: a day, seconds of the day, the zone's offset in minutes; None where it does not say."""

    day: date | None = None
    clock_s: float | None = None
    offset_min: int | None = None
    epoch_s: float | None = None


def read_stamp(cell: str, day_first: bool = True) -> Stamp | None:
    """Return what a cell says of a moment, or None where it says nothing of one.

    Examples
    --------
    >>> read_stamp("14.10.2026 19:05:30").clock_s, read_stamp("10/14/2026 7:05 PM", day_first=False).clock_s
    (68730.0, 68700.0)
    >>> read_stamp("2026-10-14T19:05:00+02:00").offset_min, read_stamp("1760461500").epoch_s, read_stamp("watts")
    (120, 1760461500.0, None)
    """
    text = _rewritten(cell.strip().strip('"'))
    if not text or len(text) > 60 or not any(sign.isdecimal() for sign in text):
        return None
    if text[0].isalpha() and _SUM.match(text):
        return None
    if text.isdecimal() and 9 <= len(text) <= 13:
        return _epoch(float(text)) or _compact(text)
    if _NUMBER.match(text):
        return _epoch(float(text)) or _compact(text)
    if compact := _compact(text):
        return compact
    clock = _CLOCK.search(text)
    clock_s = None if clock is None else _clock_s(clock)
    if clock is not None and clock_s is None:
        return None
    rest = text if clock is None else f"{text[: clock.start()]} {text[clock.end() :]}"
    day = _day(text if clock is None else text[: clock.start()] or text[clock.end() :], day_first) or _day(rest, day_first)
    if day is None and clock_s is None:
        return None
    if (day is None and _ODD.search(rest)) or (day is not None and clock_s is not None and clock_s > 86400):
        return None
    return Stamp(day, clock_s, _offset(text, clock))


_POINTED = re.compile(
    r"^(.*?\d{1,4}[./-]\d{1,2}[./-]\d{1,4}|.*?\d{1,2}-[A-Za-z]{3}-\d{2,4})[ T_-]+"
    r"(\d{1,2})[.-](\d{2})(?:[.-](\d{2})(?:[.,]\d+)?)?(?=$|\s?[AP]M|[ Z])"
)
"""A clock with points or strokes behind a day."""


def _rewritten(text: str) -> str:
    """Return a moment with the clock's colons, where it is written with points, strokes or the characters for day and month."""
    if "年" in text:
        text = text.replace("年", "-").replace("月", "-").replace("日", " ")
    if ":" in text or not 10 < len(text) < 40 or text[0] == "{":
        return text
    return _POINTED.sub(lambda found: f"{found[1]} {found[2]}:{found[3]}:{found[4] or '00'}", text)


def any_stamp(cell: str) -> Stamp | None:
    """Return what a cell says of a moment, whichever of day and month comes first."""
    return read_stamp(cell) or read_stamp(cell, day_first=False)


_SUM = re.compile(
    r"(?:grand |sub)?(?:total|totals|sum|summe|zwischensumme|gesamt|somme|suma|somma|totale|totaal|average|mean|mittel\w*)\b",
    re.IGNORECASE,
)
"""How a row of sums begins: it is no moment, although it names a day."""

_ODD = re.compile(r"\d{3,}|[^\W\d_]{5,}")


def _epoch(value: float) -> Stamp | None:
    for scale in (1.0, 1e3, 1e6, 1e9):
        seconds = value / scale
        if 631152000 <= seconds < 4102444800:
            return Stamp(epoch_s=seconds)
    return None


def _compact(text: str) -> Stamp | None:
    found = _COMPACT.match(text)
    if found is None:
        return None
    day = _date(int(found[1]), int(found[2]), int(found[3]))
    if day is None:
        return None
    clock_s = None if found[4] is None else int(found[4]) * 3600 + int(found[5]) * 60 + int(found[6] or 0)
    return Stamp(day, None if clock_s is None else float(clock_s), 0 if found[7] else None)


def _clock_s(found: re.Match[str]) -> float | None:
    hours, minutes, seconds = int(found[1]), int(found[2]), int(found[3] or 0)
    if found[5]:
        if not 1 <= hours <= 12:
            return None
        hours = hours % 12 + (12 if found[5].lower() == "p" else 0)
    if minutes > 59 or seconds > 60 or hours > 999:
        return None
    return hours * 3600 + minutes * 60 + seconds + (float(f"0.{found[4]}") if found[4] else 0.0)


def _day(text: str, day_first: bool) -> date | None:
    if found := _DAY.search(text):
        first, second, third = int(found[1]), int(found[3]), int(found[4])
        if len(found[1]) == 4:
            return _date(first, second, third)
        if len(found[1]) == 3 or len(found[4]) in (1, 3):
            return None
        year = third if len(found[4]) == 4 else 2000 + third
        return _date(year, second, first) if day_first else _date(year, first, second)
    if found := _NAMED.search(text):
        month = MONTHS.get(found[2].lower())
        year = int(found[3]) + (2000 if len(found[3]) == 2 else 0)
        if month is not None:
            return _date(year, month, int(found[1]))
    if found := _NAMED_FIRST.search(text):
        month = MONTHS.get(found[1].lower())
        return None if month is None else _date(int(found[3]), month, int(found[2]))
    if found := _UNIX.search(text):
        month = MONTHS.get(found[1].lower())
        return None if month is None else _date(int(found[3]), month, int(found[2]))
    return None


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day) if FIRST_YEAR <= year < LAST_YEAR else None
    except ValueError:
        return None


def _offset(text: str, clock: re.Match[str] | None) -> int | None:
    if clock is None:
        return None
    found = _ZONE.match(re.sub(r"\s+\d{4}$", "", text[clock.end() :])) or None
    if found is None:
        return None
    if found[2]:
        return _ZONES.get(found[2].lower())
    if found[1] in ("Z", "z"):
        return 0
    digits = found[1].replace(":", "")
    sign = -1 if digits[0] == "-" else 1
    return sign * (int(digits[1:3]) * 60 + int(digits[3:5] or 0))


class Clock:
    """From stamps to seconds since the epoch, row by row: days carried on, midnights passed, both clock changes right.

    ``dated`` is False where no row named a day: then seconds count from midnight of the first row. ``mixed`` tells that only
    later rows named one, ``zoned`` whether clocks came with a zone, without, or both.
    """

    def __init__(self, zone: str, *, day_first: bool = True, day: date | None = None) -> None:
        self.zone = ZoneInfo(zone)
        self.day_first = day_first
        self.day = day
        self.dated = day is not None
        self._zero = date(2001, 1, 1)
        self._midnights: dict[date, tuple[float, bool]] = {}
        self._days: dict[str, date | None] = {}
        self.zoned: set[bool] = set()
        self.mixed = False
        self.last_s = float("-inf")
        self._last_clock_s = -1.0
        self._rolled = 0

    def seconds(self, stamp: Stamp) -> float:
        """Return a stamp's seconds since the epoch (or since the first midnight, where no day is known)."""
        if stamp.epoch_s is not None:
            self._date()
            return self._remember(stamp.epoch_s)
        if stamp.day is not None:
            self._date()
            self.day = stamp.day
            self._rolled, self._last_clock_s = 0, -1.0
        clock_s = stamp.clock_s or 0.0
        if stamp.clock_s is not None:
            self.zoned.add(stamp.offset_min is not None)
        if stamp.day is None and self._last_clock_s - clock_s > 12 * 3600:
            self._rolled += 1
        self._last_clock_s = clock_s
        day = (self.day or self._zero) + timedelta(days=self._rolled)
        if stamp.offset_min is not None:
            midnight = datetime(day.year, day.month, day.day, tzinfo=UTC).timestamp()
            return self._remember(midnight + clock_s - 60 * stamp.offset_min)
        return self._remember(self._local_s(day, clock_s))

    def _date(self) -> None:
        """Note that rows name their day; rows before that did not have lost theirs."""
        if not self.dated:
            self.mixed = self.last_s > float("-inf")
            self.dated = True

    def seconds_of(self, moment: datetime) -> float:
        """Return the seconds of an instant that was read whole, with its zone or in this clock's."""
        self._date()
        self.zoned.add(moment.tzinfo is not None)
        if moment.tzinfo is not None:
            return self._remember(moment.timestamp())
        self.day = moment.date()
        self._rolled = 0
        clock_s = moment.hour * 3600 + moment.minute * 60 + moment.second + moment.microsecond / 1e6
        self._last_clock_s = clock_s
        return self._remember(self._local_s(self.day, clock_s))

    def counted(self, seconds: float) -> float:
        """Return seconds that are counted from the start as they are."""
        return self._remember(seconds)

    def _remember(self, seconds: float) -> float:
        self.last_s = seconds
        return seconds

    def _local_s(self, day: date, clock_s: float) -> float:
        if not self.dated:
            return (day - self._zero).days * 86400 + clock_s
        start_s, changes = self._midnight(day)
        if not changes:
            return start_s + clock_s
        whole = int(min(clock_s, 86399.0))
        local = datetime(day.year, day.month, day.day, whole // 3600, whole % 3600 // 60, whole % 60, tzinfo=self.zone)
        first = local.timestamp() + clock_s - whole
        second = local.replace(fold=1).timestamp() + clock_s - whole
        return second if second > first and first <= self.last_s < second + 3 * 3600 and self.last_s >= first else first

    def _midnight(self, day: date) -> tuple[float, bool]:
        """Return the instant at which a local day begins, and whether the clock jumps in it."""
        if day not in self._midnights:
            begins = datetime(day.year, day.month, day.day, tzinfo=self.zone)
            after = datetime.combine(day + timedelta(days=1), datetime.min.time(), self.zone)
            self._midnights[day] = (begins.timestamp(), begins.utcoffset() != after.utcoffset())
        return self._midnights[day]


def day_order(cells: Sequence[str]) -> bool | None:
    """Return whether days come first in cells such as 3/4/2026; None where nothing tells.

    Examples
    --------
    >>> day_order(["13/10/2026"]), day_order(["10/14/2026"]), day_order(["03/04/2026", "03/04/2026"])
    (True, False, None)
    """
    orders = set()
    pairs = []
    for cell in cells:
        found = _DAY.search(cell)
        if found is None or len(found[1]) > 2:
            continue
        first, second = int(found[1]), int(found[3])
        pairs.append((first, second))
        if found[2] == ".":
            return True
        if first > 12 >= second:
            orders.add(True)
        elif second > 12 >= first:
            orders.add(False)
    if len(orders) == 1:
        return orders.pop()
    changes_first = sum(a[0] != b[0] for a, b in itertools.pairwise(pairs))
    changes_second = sum(a[1] != b[1] for a, b in itertools.pairwise(pairs))
    if max(changes_first, changes_second) >= 2 and changes_first != changes_second:
        return changes_first > changes_second
    return None
