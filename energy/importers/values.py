"""Single cells of a log: numbers with a point or a comma, moments as instants, clock times or plain numbers."""

from __future__ import annotations

import math
import re
from datetime import datetime, timedelta

_CLOCK = re.compile(r"(\d{1,3}):([0-5]\d)(?::([0-5]\d(?:[.,]\d+)?))?")
_UNIT = re.compile(r"\s*(kwh|wh|w|%|s|min)$", re.IGNORECASE)
_SPACES = re.compile(r"[\s\u00a0\u202f']")


class BadCell(ValueError):
    """A cell that cannot be read; the message says what to do about it."""


def read_number(cell: str) -> float:
    """Return a number written with a decimal point or comma, with or without its unit.

    Raises
    ------
    BadCell
        If it is no number.

    Notes
    -----
    Where both signs occur, the last one is the decimal sign and the other groups thousands. A single comma or point is the
    decimal sign.

    Examples
    --------
    >>> [read_number(cell) for cell in ("690", "0,21", "1,234.5", "1.234,5", "230 W")]
    [690.0, 0.21, 1234.5, 1234.5, 230.0]
    """
    plain = _UNIT.sub("", _SPACES.sub("", cell)).replace("\u2212", "-")
    if "," in plain and "." in plain:
        thousands = "," if plain.rindex(",") < plain.rindex(".") else "."
        plain = plain.replace(thousands, "")
    plain = plain.replace(",", ".")
    if not re.fullmatch(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?", plain, re.IGNORECASE | re.ASCII):
        raise BadCell("is not a number. Write digits, like 230 or 12.5, or leave the cell empty")
    value = float(plain)
    if not math.isfinite(value):
        raise BadCell("is too large to be a reading")
    return value


def read_moment(cell: str) -> datetime | timedelta:
    """Return an instant (2026-10-14T19:05:00+02:00, or without the offset) or a clock time (h:mm or h:mm:ss).

    Raises
    ------
    BadCell
        If it is neither.

    Examples
    --------
    >>> read_moment("0:12:30"), read_moment("19:05")
    (datetime.timedelta(seconds=750), datetime.timedelta(seconds=68700))
    >>> read_moment("2026-10-14 19:05:00")
    datetime.datetime(2026, 10, 14, 19, 5)
    """
    text = cell.strip()
    if clock := _CLOCK.fullmatch(text):
        hours, minutes, seconds = clock.groups()
        return timedelta(hours=int(hours), minutes=int(minutes), seconds=float((seconds or "0").replace(",", ".")))
    if re.match(r"\d{4}-", text):
        try:
            return datetime.fromisoformat(text)
        except ValueError:
            pass
    raise BadCell(
        "is not a time that can be read. Write 2026-10-14T19:05:00 or h:mm:ss, or call the column “seconds” or “minutes” "
        "where it holds plain numbers"
    )
