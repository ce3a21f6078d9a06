"""Several runs of the same cook: their mean, how sure it is, and what the next cook may need."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

# Table G.2 of JCGM 100:2008, column 95 %: degrees of freedom and t, the table's rows with the usual third digit.
_T_95: tuple[tuple[int, float], ...] = (
    (1, 12.706), (2, 4.303), (3, 3.182), (4, 2.776), (5, 2.571), (6, 2.447), (7, 2.365), (8, 2.306), (9, 2.262), (10, 2.228),
    (11, 2.201), (12, 2.179), (13, 2.160), (14, 2.145), (15, 2.131), (16, 2.120), (17, 2.110), (18, 2.101), (19, 2.093),
    (20, 2.086), (25, 2.060), (30, 2.042), (35, 2.030), (40, 2.021), (45, 2.014), (50, 2.009), (100, 1.984),
)  # fmt: skip


@dataclass(frozen=True)
class Repeats:
    """The mean of n runs.

    ``spread`` is their standard deviation (None for one run), ``half_interval`` half of the mean's 95 % interval, ``half_next``
    half of the range that the next run falls into 19 times out of 20. All in the unit of the values.
    """

    n: int
    mean: float
    spread: float | None
    half_interval: float
    half_next: float

    @property
    def words(self) -> str:
        """``one run``, or how many."""
        return "one run" if self.n == 1 else f"{self.n} runs"

    @property
    def next_low(self) -> float:
        """The lower end of what the next run may need; never below zero."""
        return max(self.mean - self.half_next, 0.0)

    @property
    def next_high(self) -> float:
        """The upper end of what the next run may need."""
        return self.mean + self.half_next


def t_95(degrees: int) -> float:
    """Return Student's t for a two-sided 95 % interval; between the table's rows the row before, which is the wider one.

    References
    ----------
    JCGM 100:2008, table G.2.

    Examples
    --------
    >>> t_95(1), t_95(4), t_95(27)
    (12.706, 2.776, 2.06)
    """
    if degrees < 1:
        raise ValueError("an interval needs at least two runs")
    return _T_95[bisect_right(_T_95, (degrees, math.inf)) - 1][1]


def average(values: Sequence[float], meter_u: float) -> Repeats:
    """Return the mean of repeated measurements with its interval.

    Parameters
    ----------
    values : sequence of float
        One figure a run; at least one.
    meter_u : float, >= 0
        The expanded uncertainty of one measurement by its meter, in the values' unit.

    Returns
    -------
    Repeats

    Raises
    ------
    ValueError
        If there is no value.

    Notes
    -----
    Interval t s / sqrt(n), next run t s sqrt(1 + 1/n). One run has no spread: its interval is the meter's alone. However well
    runs repeat, neither range is narrower than what the meter leaves, because its error is the same in every run.

    References
    ----------
    JCGM 100:2008, 4.2 and G.3.

    Examples
    --------
    >>> five = average([206, 198, 211, 203, 207], meter_u=5)
    >>> five.mean, round(five.spread, 3), round(five.half_interval, 1), round(five.half_next, 1)
    (205.0, 4.848, 6.0, 14.7)
    >>> average([206], meter_u=5)
    Repeats(n=1, mean=206.0, spread=None, half_interval=5, half_next=5)
    """
    if not values:
        raise ValueError("a mean needs at least one run")
    n, mean = len(values), fmean(values)
    if n == 1:
        return Repeats(1, mean, None, meter_u, meter_u)
    spread = stdev(values)
    width = t_95(n - 1) * spread
    return Repeats(n, mean, spread, max(width / math.sqrt(n), meter_u), max(width * math.sqrt(1 + 1 / n), meter_u))
