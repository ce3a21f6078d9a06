"""What a meter's file holds, column by column: parts of it, and what can be left out of it without changing a figure."""

from __future__ import annotations

import math
import sys
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from typing import Any, TypeVar

from energy.runs.domain.marking import Curve, counter_curve
from energy.runs.domain.rhythm import Came
from energy.runs.domain.samples import Sample
from energy.runs.domain.watts import looks_sampled, usual_interval_s

_STEADY_S = 60.0
_DENSE_S = 60.0
LONGEST_S = 14 * 24 * 3600.0
"""A run keeps readings of so long a time, whichever way they come. [s]"""

_COLUMNS = ("times_s", "energy_wh", "power_w", "charge_pct")


@dataclass(frozen=True)
class LogColumns:
    """The readings of a file in the order of time; not-a-number where nothing was read.

    Attributes
    ----------
    times_s : sequence of float
        Counted from ``start``, or from the first row where the file names no day. [s]
    energy_wh, power_w, charge_pct : sequence of float
        The counter, the watts and the charge, as long as ``times_s``. [Wh, W, %]
    start : datetime or None
        The instant that ``times_s`` 0 stands for, with its zone; None where the file names no day.
    came : Came
        How the log came, before anything was left out of it; the moments of its holes count as ``times_s`` do.
    """

    times_s: Sequence[float]
    energy_wh: Sequence[float]
    power_w: Sequence[float]
    charge_pct: Sequence[float]
    start: datetime | None = None
    came: Came = field(default_factory=Came)

    @property
    def count(self) -> int:
        """How many readings there are."""
        return len(self.times_s)

    @property
    def span_s(self) -> float:
        """From the first reading to the last. [s]"""
        return self.times_s[-1] - self.times_s[0] if self.times_s else 0.0

    def instant(self, at_s: float) -> datetime | None:
        """Return the instant of a moment, where the file names a day."""
        return None if self.start is None else self.start + timedelta(seconds=at_s)

    def samples(self) -> Iterator[Sample]:
        """Yield each reading that shows anything; a figure that no display can show was not read.

        Examples
        --------
        >>> nan = float("nan")
        >>> [one.figures for one in LogColumns([0, 60, 120], [1, -2, nan], [nan, 700, nan], [nan, nan, 120]).samples()]
        [(1, None, None), (None, 700, None)]
        """
        most = sys.float_info.max
        for at_s, energy_wh, power_w, charge_pct in zip(*(getattr(self, name) for name in _COLUMNS), strict=True):
            figures = (_within(energy_wh, most), _within(power_w, most), _within(charge_pct, 100.0))
            if figures != (None, None, None):
                yield Sample(at_s, *figures, origin="file")


_Log = TypeVar("_Log", bound=LogColumns)


def _within(value: float, most: float) -> float | None:
    return value if 0 <= value <= most else None


def part_of(log: _Log, low_s: float, high_s: float) -> _Log:
    """Return the readings from one moment to another, both included.

    Examples
    --------
    >>> nan = float("nan")
    >>> part_of(LogColumns([0, 60, 120], [1, 2, 3], [nan] * 3, [nan] * 3), 30, 120).times_s
    [60, 120]
    """
    first = next((place for place, at_s in enumerate(log.times_s) if at_s >= low_s), log.count)
    after = next((place for place in range(log.count, first, -1) if log.times_s[place - 1] <= high_s), first)
    return replace(log, **{name: getattr(log, name)[first:after] for name in _COLUMNS})


def only_places(log: _Log, places: Sequence[int]) -> _Log:
    """Return the readings at some places alone.

    Examples
    --------
    >>> nan = float("nan")
    >>> only_places(LogColumns([0, 60, 120], [1, 2, 3], [nan] * 3, [nan] * 3), [0, 2]).energy_wh
    array('d', [1.0, 3.0])
    """
    columns: dict[str, Any] = {name: array("d", map(getattr(log, name).__getitem__, places)) for name in _COLUMNS}
    return replace(log, **columns)


def without_steady(log: _Log) -> _Log:
    """Return the readings without those that say what both neighbours say, but for one a minute: no figure changes by it.

    Examples
    --------
    >>> nan = float("nan")
    >>> log = without_steady(LogColumns([0, 1, 2, 3, 4, 5], [nan] * 6, [0, 0, 0, 0, 700, 0], [nan] * 6))
    >>> list(log.times_s), list(log.power_w)
    ([0.0, 3.0, 4.0, 5.0], [0.0, 0.0, 700.0, 0.0])
    """
    rows = list(zip(log.energy_wh, log.power_w, log.charge_pct, strict=True))
    kept, last_s = [], -math.inf
    for place, at_s in enumerate(log.times_s):
        inner = 0 < place < len(rows) - 1 and at_s - last_s < _STEADY_S
        if inner and _same(rows[place - 1], rows[place]) and _same(rows[place], rows[place + 1]):
            continue
        kept.append(place)
        last_s = at_s
    return only_places(log, kept)


def _same(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(a == b or (math.isnan(a) and math.isnan(b)) for a, b in zip(one, other, strict=True))


def curve_of(log: LogColumns) -> Curve:
    """Return a file's watts, or the mean watts between the readings of its counter where its watts are sparse.

    Examples
    --------
    >>> nan = float("nan")
    >>> list(curve_of(LogColumns([0, 600, 1200], [0, 100, 150], [nan, nan, nan], [nan, nan, nan])).watts)
    [600.0, 300.0, 300.0]
    """
    watts, counter = _without_gaps(log.times_s, log.power_w), _without_gaps(log.times_s, log.energy_wh)
    return best_curve(watts, counter, log.came.held, log.came.step_s)


def best_curve(
    watts: tuple[Sequence[float], Sequence[float]],
    counter: tuple[Sequence[float], Sequence[float]],
    held: bool | None = None,
    step_s: float = 0.0,
) -> Curve:
    """Return the curve that shows more: of watts, or of the mean watts between a counter's readings.

    Parameters
    ----------
    watts, counter : (times_s, values)
        Each in the order of time. [s, W; s, Wh]
    held : bool, optional
        Whether the watts hold until the next reading; None lets their rhythm tell.
    step_s : float
        The usual interval of watts that were thinned since. [s]

    Returns
    -------
    Curve

    Examples
    --------
    >>> best_curve(([0, 1800], [900, 0]), ([0, 600, 1800], [0, 100, 120])).from_counter
    True
    """
    dense = len(watts[0]) >= 2 and (step_s or usual_interval_s(watts[0])) <= _DENSE_S
    if len(counter[0]) < 2 or (dense and (step_s or len(watts[0]) >= len(counter[0]) / 2)):
        return Curve(*watts, held=not looks_sampled(*watts) if held is None else held)
    return counter_curve(*counter)


def _without_gaps(times_s: Sequence[float], values: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
    shown_s, shown = array("d"), array("d")
    for at_s, value in zip(times_s, values, strict=True):
        if not math.isnan(value):
            shown_s.append(at_s)
            shown.append(value)
    return shown_s, shown
