"""One invented cook, whose energy is known, and the rows that a meter would write of it.

The cook: 20 minutes at 1,180 W, then an element that ticks (20 s on in every minute) for 40 minutes, then 2 W of standby.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import accumulate, pairwise
from zoneinfo import ZoneInfo

VIENNA = ZoneInfo("Europe/Vienna")
START = datetime(2026, 10, 14, 18, 30, tzinfo=VIENNA)
ON_W, STANDBY_W = 1180.0, 2.0
LASTS_S = 75 * 60


def watts_at(second: int) -> float:
    """Return the cooker's watts at a second."""
    if second < 20 * 60:
        return ON_W
    if second < 60 * 60:
        return ON_W if second % 60 < 20 else STANDBY_W
    return STANDBY_W


SUMS_WH = [0.0, *accumulate(watts_at(second) / 3600 for second in range(LASTS_S))]
"""The true counter at every second."""

TRUE_WH = SUMS_WH[-1]


@dataclass(frozen=True)
class Sample:
    """A file, and what it truly holds: watt-hours, or words of its refusal; ``within``: what its coarseness leaves."""

    name: str
    data: bytes
    wh: float | None = None
    refusal: str = ""
    within: float = 0.02
    days: int = 0


def every(step_s: int) -> Iterator[tuple[datetime, float, float]]:
    """Yield instant, watts and counter of every so many seconds, the last second included."""
    for second in range(0, LASTS_S + 1, step_s):
        yield START + timedelta(seconds=second), watts_at(second), SUMS_WH[second]


def changes() -> Iterator[tuple[datetime, float, float]]:
    """Yield the moments at which the watts change, and the end."""
    last = None
    for second in range(LASTS_S + 1):
        watts = watts_at(second)
        if watts != last or second == LASTS_S:
            yield START + timedelta(seconds=second), watts, SUMS_WH[second]
            last = watts


def comma(value: float, places: int = 3) -> str:
    return f"{value:.{places}f}".replace(".", ",")


def table(rows: list[list[object]], delimiter: str = ",", end: str = "\n") -> str:
    return end.join(delimiter.join(str(cell) for cell in row) for row in rows) + end


def us(moment: datetime) -> str:
    return f"{moment.month}/{moment.day}/{moment:%Y %I:%M:%S %p}"


def intervals_wh(step_s: int) -> list[float]:
    """Return the energy of each interval of two whole days, the cook on the first."""
    offset = int((START - START.replace(hour=0, minute=0)).total_seconds())
    edges = [min(max(n * step_s - offset, 0), LASTS_S) for n in range(2 * 86400 // step_s + 1)]
    return [SUMS_WH[high] - SUMS_WH[low] for low, high in pairwise(edges)]


def hm(seconds: int) -> str:
    return f"{seconds // 3600:02d}:{seconds % 3600 // 60:02d}"
