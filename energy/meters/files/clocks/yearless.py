"""Days that name no year, such as 14.10. 18:30 or Oct 14 18:30: the year is asked once, and turns where December ends."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from energy.meters.files.clocks.stamps import MONTHS

_YEARLESS = re.compile(
    r"^\s*(?:(\d{1,2})([./-])(\d{1,2})\.?|([^\W\d_]{3,9})\.?\s+(\d{1,2})|(\d{1,2})\.?\s+([^\W\d_]{3,9})\.?)(?=[\sT,]+\d{1,2}:\d{2})"
)
SOME_YEAR = 2000
"""Stands in while the year is asked: one with a 29th of February."""


def with_year(cell: str, year: int) -> str:
    """Return a moment with a year behind its day; as it is where it names one, or no day.

    Examples
    --------
    >>> [with_year(cell, 2026) for cell in ("14.10. 18:30", "10/14 6:30 PM", "Oct 14 18:30:00", "14.10.25 18:30", "18:30")]
    ['14.10.2026 18:30', '10/14/2026 6:30 PM', '14 Oct 2026 18:30:00', '14.10.25 18:30', '18:30']
    """
    found = _found(cell)
    if found is None:
        return cell
    rest = cell[found.end() :]
    if found[1]:
        return f"{found[1]}{found[2]}{found[3]}{found[2]}{year}{rest}"
    return f"{found[5] or found[6]} {found[4] or found[7]} {year}{rest}"


def _found(cell: str) -> re.Match[str] | None:
    found = _YEARLESS.match(cell)
    if found is None or found[1] or (found[4] or found[7]).lower() in MONTHS:
        return found
    return None


def are_yearless(cells: Sequence[str]) -> bool:
    """Return whether the days of most cells name no year."""
    told = [cell for cell in cells[:300] if cell.strip()]
    return bool(told) and sum(_found(cell) is not None for cell in told) >= 0.7 * len(told)


class Years:
    """The year of each row: it turns from December to January, and back where the newest row stands first."""

    def __init__(self, year: int) -> None:
        self.year, self._month = year, 0

    def take(self, day: date) -> int:
        """Return the year of the next row, whose day was read with the year so far."""
        if (self._month, day.month) in ((12, 1), (1, 12)):
            self.year += 1 if day.month == 1 else -1
        self._month = day.month
        return self.year
