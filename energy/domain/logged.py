"""What a meter's file holds, column by column: parts of it, and what can be left out of it without changing a figure."""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from energy.domain.marking import Curve, counter_curve
from energy.domain.watts import looks_sampled, usual_interval_s

_STEADY_S = 60.0
_DENSE_S = 60.0

Row = tuple[float, float | None, float | None, float | None]


@dataclass(frozen=True)
class Logged:
    """The readings of a file in the order of time; not-a-number where nothing was read.

    Attributes
    ----------
    times_s : sequence of float
        Counted from ``start``. [s]
    energy_wh, power_w, charge_pct : sequence of float
        As long as ``times_s``. [Wh, W, %]
    start : datetime or None
        The instant that ``times_s`` 0 stands for, with its zone; None where the file names no day.
    held : bool or None
        Whether the watts are changes that hold; None where their rhythm is to tell.
    """

    times_s: Sequence[float]
    energy_wh: Sequence[float]
    power_w: Sequence[float]
    charge_pct: Sequence[float]
    start: datetime | None = None
    held: bool | None = None

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

    def rows(self) -> Iterator[Row]:
        """Yield moment, counter, watts and charge of each reading that shows anything, None where nothing was read."""
        for at_s, *figures in zip(self.times_s, self.energy_wh, self.power_w, self.charge_pct, strict=True):
            energy_wh, power_w, charge_pct = (None if math.isnan(value) else value for value in figures)
            if energy_wh is not None or power_w is not None or charge_pct is not None:
                yield at_s, energy_wh, power_w, charge_pct


def part_of(logged: Logged, low_s: float, high_s: float) -> Logged:
    """Return the readings from one moment to another, both included.

    Examples
    --------
    >>> nan = float("nan")
    >>> part_of(Logged([0, 60, 120], [1, 2, 3], [nan] * 3, [nan] * 3), 30, 120).times_s
    [60, 120]
    """
    first = next((place for place, at_s in enumerate(logged.times_s) if at_s >= low_s), logged.count)
    after = next((place for place in range(logged.count, first, -1) if logged.times_s[place - 1] <= high_s), first)
    part = slice(first, after)
    return replace(
        logged,
        times_s=logged.times_s[part],
        energy_wh=logged.energy_wh[part],
        power_w=logged.power_w[part],
        charge_pct=logged.charge_pct[part],
    )


def without_steady(logged: Logged) -> Logged:
    """Return the readings without those that say what both neighbours say, but for one a minute: no figure changes by it.

    Examples
    --------
    >>> nan = float("nan")
    >>> log = Logged([0, 1, 2, 3, 4, 5], [nan] * 6, [0, 0, 0, 0, 700, 0], [nan] * 6)
    >>> without_steady(log).times_s, without_steady(log).power_w
    ([0, 3, 4, 5], [0, 0, 700, 0])
    """
    columns = (logged.energy_wh, logged.power_w, logged.charge_pct)
    rows = list(zip(*columns, strict=True))
    kept, last_s = [], -math.inf
    for place, at_s in enumerate(logged.times_s):
        inner = 0 < place < len(rows) - 1 and at_s - last_s < _STEADY_S
        if inner and _same(rows[place - 1], rows[place]) and _same(rows[place], rows[place + 1]):
            continue
        kept.append(place)
        last_s = at_s
    times, energy, power, charge = ([column[place] for place in kept] for column in (logged.times_s, *columns))
    return replace(logged, times_s=times, energy_wh=energy, power_w=power, charge_pct=charge)


def _same(one: Sequence[float], other: Sequence[float]) -> bool:
    return all(a == b or (math.isnan(a) and math.isnan(b)) for a, b in zip(one, other, strict=True))


def curve_of(logged: Logged) -> Curve:
    """Return a file's watts, or the mean watts between the readings of its counter where its watts are sparse.

    Examples
    --------
    >>> nan = float("nan")
    >>> list(curve_of(Logged([0, 600, 1200], [0, 100, 150], [nan, nan, nan], [nan, nan, nan])).watts)
    [600.0, 300.0, 300.0]
    """
    watts, counter = _shown(logged.times_s, logged.power_w), _shown(logged.times_s, logged.energy_wh)
    return best_curve(watts, counter, logged.held)


def best_curve(
    watts: tuple[Sequence[float], Sequence[float]], counter: tuple[Sequence[float], Sequence[float]], held: bool | None = None
) -> Curve:
    """Return the curve that shows more: of watts, or of the mean watts between a counter's readings.

    Parameters
    ----------
    watts, counter : (times_s, values)
        Each in the order of time. [s, W; s, Wh]
    held : bool, optional
        Whether the watts hold until the next reading; None lets their rhythm tell.

    Returns
    -------
    Curve

    Examples
    --------
    >>> best_curve(([0, 1800], [900, 0]), ([0, 600, 1800], [0, 100, 120])).from_counter
    True
    """
    dense = len(watts[0]) >= 2 and usual_interval_s(watts[0]) <= _DENSE_S
    if len(counter[0]) < 2 or (dense and len(watts[0]) >= len(counter[0]) / 2):
        return Curve(*watts, held=not looks_sampled(watts[0]) if held is None else held)
    return counter_curve(*counter)


def _shown(times_s: Sequence[float], values: Sequence[float]) -> tuple[Sequence[float], Sequence[float]]:
    shown_s, shown = array("d"), array("d")
    for at_s, value in zip(times_s, values, strict=True):
        if not math.isnan(value):
            shown_s.append(at_s)
            shown.append(value)
    return shown_s, shown
