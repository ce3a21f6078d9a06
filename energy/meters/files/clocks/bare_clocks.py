"""Clocks without colons that stand beside a day: 19.05, 1905 or 190530, with or without their leading noughts."""

from __future__ import annotations

import re
from collections.abc import Sequence

from energy.meters.files.columns.names import plain

_BARE = re.compile(r"(\d{1,2})\.(\d{2})|(\d{1,4})|(\d{5,6})", re.ASCII)
_NAME = re.compile(
    r"^(?:(?:start|end|from|to|read|interval|local|von|bis)\s?)?(?:time|clock|zeit|uhrzeit|heure|hora|ora|tijd|from|to|von|bis)\b"
)


def bare_clock_s(cell: str) -> float | None:
    """Return the seconds after midnight of a clock without colons, None where it is none.

    Examples
    --------
    >>> [bare_clock_s(cell) for cell in ("19.05", "1905", "5", "190530", "2400", "1960", "watts")]
    [68700.0, 68700.0, 300.0, 68730.0, 86400.0, None, None]
    """
    found = _BARE.fullmatch(cell.strip())
    if found is None:
        return None
    digits = (found[1] + found[2] if found[1] else found[3] or "").zfill(4) + "00" if not found[4] else found[4].zfill(6)
    hours, minutes, seconds = int(digits[:2]), int(digits[2:4]), int(digits[4:])
    if minutes > 59 or seconds > 59 or hours * 10_000 + minutes * 100 + seconds > 240_000:
        return None
    return hours * 3600.0 + minutes * 60 + seconds


def bare_clocks(names: Sequence[str], columns: Sequence[Sequence[str]], used: set[int]) -> list[int]:
    """Return the columns that are called a time and hold nothing but clocks without colons."""
    return [
        place
        for place, cells in enumerate(columns)
        if place not in used and _NAME.match(plain(names[place])) and _all_are_clocks(cells)
    ]


def _all_are_clocks(cells: Sequence[str]) -> bool:
    """Return whether cells are clocks throughout; counted seconds soon pass a sixtieth minute."""
    told = [cell for cell in cells[:300] if cell.strip()]
    return len({*told}) > 2 and all(bare_clock_s(cell) is not None for cell in told)
