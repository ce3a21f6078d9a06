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
class UsualSpread:
    """What is known of a spread before a recipe was repeated: relative to the mean, worth so many degrees of freedom. [-, -]"""

    relative: float = 0.055
    degrees: float = 6.0


FIRST_SPREAD = UsualSpread()
"""Common practice: cooks of one recipe on one cooker differ by about 5.5 %; it counts as much as a spread of seven runs."""


@dataclass(frozen=True)
class Repeats:
    """The mean of n runs.

    ``spread`` is the standard deviation of one run, from the runs and from what is usual; ``half_interval`` half of the mean's
    95 % interval, ``half_next`` half of the range that the next run falls into 19 times out of 20. All in the unit of the values.
    """

    n: int
    mean: float
    spread: float
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


def pooled(n: int, squares: float, usual: UsualSpread, *, mean: float = 1.0) -> tuple[float, float]:
    """Return the standard deviation of one run and Student's t for it, from n runs and from what is usual.

    Parameters
    ----------
    n : int, >= 1
        Runs.
    squares : float, >= 0
        The sum of the squares of their distances from the mean, in the mean's unit squared.
    usual : UsualSpread
        How much such cooks differ, before these were made.
    mean : float
        Their mean; left at one where everything is relative to it.

    Notes
    -----
    s* = sqrt((nu0 s0^2 + (n - 1) s^2) / (nu0 + n - 1)), t for nu0 + n - 1 degrees (JCGM 100:2008, 4.2, 4.3 and table G.2).

    Examples
    --------
    >>> spread, t = pooled(3, 2 * 0.04**2, FIRST_SPREAD)
    >>> round(spread, 5), t
    (0.05166, 2.306)
    """
    degrees = usual.degrees + n - 1
    spread = math.sqrt((usual.degrees * (usual.relative * mean) ** 2 + squares) / degrees)
    return spread, t_95(max(math.floor(degrees), 1))


def average(values: Sequence[float], shared_u: float, own_u: float = 0.0, usual: UsualSpread = FIRST_SPREAD) -> Repeats:
    """Return the mean of repeated measurements with its interval.

    Parameters
    ----------
    values : sequence of float
        One figure a run; at least one.
    shared_u : float, >= 0
        The expanded uncertainty that all runs share, that of the meter's class: no repeating takes it away. In the values' unit.
    own_u : float, >= 0
        The expanded uncertainty that each run has by itself, that of a display's steps. In the values' unit.
    usual : UsualSpread
        How much such cooks differ, before these were made.

    Returns
    -------
    Repeats

    Raises
    ------
    ValueError
        If there is no value.

    Notes
    -----
    With s* and t of ``pooled``: mean t s* / sqrt(n), next run t s* sqrt(1 + 1/n), each in quadrature with what the runs share,
    and with what a coarse display leaves in each, over sqrt(n). So one run is not falsely sure, and a second one narrows the
    interval instead of widening it.

    References
    ----------
    JCGM 100:2008, 4.2, 4.3 (pooled with what was known before) and G.3.

    Examples
    --------
    >>> five = average([206, 198, 211, 203, 207], shared_u=5)
    >>> five.mean, round(five.spread, 2), round(five.half_interval, 1), round(five.half_next, 1)
    (205.0, 9.26, 10.5, 23.1)
    >>> one = average([206], shared_u=5)
    >>> round(one.half_interval, 1), round(one.half_next, 1)
    (28.2, 39.5)
    """
    if not values:
        raise ValueError("a mean needs at least one run")
    n, mean = len(values), fmean(values)
    spread, t = pooled(n, sum((value - mean) ** 2 for value in values), usual, mean=mean)
    width = t * spread
    meter_u = math.hypot(shared_u, own_u / math.sqrt(n))
    half, half_next = width / math.sqrt(n), width * math.sqrt(1 + 1 / n)
    return Repeats(n, mean, spread, math.hypot(half, meter_u), math.hypot(half_next, meter_u))


def half_after(n: int, half_interval: float, half_next: float, more: int = 2) -> float:
    """Return half of the mean's 95 % interval after so many cooks more that differ as much as those before.

    Parameters
    ----------
    n : int, >= 1
        Runs in the mean.
    half_interval, half_next : float, >= 0
        As ``average`` gives them, with what is usual at first.
    more : int, >= 0

    Notes
    -----
    Both hold what the meter leaves open; their squares differ by (t s*)^2. That shrinks with t and with 1 / sqrt(n), the meter's
    part stays.

    Examples
    --------
    >>> one = average([206.0], shared_u=5)
    >>> [round(half_after(1, one.half_interval, one.half_next, more), 1) for more in (0, 2, 1000)]
    [28.2, 15.9, 5.1]
    """
    width_squared = max(half_next**2 - half_interval**2, 0.0)
    meter_squared = max(half_interval**2 - width_squared / n, 0.0)
    degrees = math.floor(FIRST_SPREAD.degrees) + n - 1
    narrower = t_95(degrees + more) / t_95(degrees)
    return math.sqrt(width_squared * narrower**2 / (n + more) + meter_squared)


def usual_spread(groups: Sequence[Sequence[float]]) -> UsualSpread:
    """Return how much one recipe's cooks differ in a kitchen, from its repeated recipes; the first guess for fewer than two.

    Parameters
    ----------
    groups : sequence of sequence of float
        The energies of each repeated recipe, every group on one cooker and for one number of servings.

    Returns
    -------
    UsualSpread
        At most six degrees of freedom, however alike the recipes' spreads are.

    Notes
    -----
    By the moments of log s^2, corrected for each group's own degrees of freedom d: e = log s^2 - psi(d/2) + log(d/2) has the mean
    log s0^2 - psi(nu0/2) + log(nu0/2) over the recipes, and its variance is that of the groups themselves, psi'(d/2), and
    psi'(nu0/2).

    References
    ----------
    G. K. Smyth, Linear models and empirical Bayes methods, Statistical Applications in Genetics and Molecular Biology 3 (2004),
    article 3, section 6.2 (moments of log s^2); from memory.

    Examples
    --------
    >>> kitchen = usual_spread([[200, 210, 205], [400, 380, 390], [150, 158]])
    >>> round(kitchen.relative, 4), kitchen.degrees
    (0.0426, 6.0)
    >>> usual_spread([[200, 210, 205]]) == FIRST_SPREAD
    True
    """
    told = [(len(group) - 1, stdev(group) / fmean(group)) for group in groups if len(group) > 1 and fmean(group) > 0]
    told = [(degrees, relative) for degrees, relative in told if relative > 0]
    if len(told) < 2:
        return FIRST_SPREAD
    logs = [2 * math.log(relative) - _psi(degrees / 2) + math.log(degrees / 2) for degrees, relative in told]
    centre = fmean(logs)
    beyond = sum((one - centre) ** 2 for one in logs) / (len(logs) - 1) - fmean(_psi_1(degrees / 2) for degrees, _ in told)
    half = _half_degrees(beyond)
    relative = math.exp(centre / 2) if half is None else math.exp((centre + _psi(half) - math.log(half)) / 2)
    return UsualSpread(relative, FIRST_SPREAD.degrees if half is None else min(2 * half, FIRST_SPREAD.degrees))


def apart(values: Sequence[float], share: float = 0.01) -> int | None:
    """Return the place of the run that lies too far from the others to be chance; None for fewer than four, or where none does.

    Notes
    -----
    The one farthest from the mean, held against the mean and spread of the others: t with n - 2 degrees, two-sided, at the share
    over n (Bonferroni), so that of a hundred honest rows one is suspected.

    References
    ----------
    F. E. Grubbs, Procedures for detecting outlying observations in samples, Technometrics 11 (1969), 1-21; in its equal form of
    the deleted residual. From memory.

    Examples
    --------
    >>> apart([206, 198, 211, 203, 290]), apart([206, 198, 211, 203, 215]), apart([206, 207, 257])
    (4, None, None)
    """
    n = len(values)
    if n < 4:
        return None
    mean = fmean(values)
    place = max(range(n), key=lambda one: abs(values[one] - mean))
    others = [value for one, value in enumerate(values) if one != place]
    spread = stdev(others)
    far = abs(values[place] - fmean(others))
    if spread == 0:
        return place if far > 0 else None
    return place if _both_tails(far / (spread * math.sqrt(1 + 1 / (n - 1))), n - 2) < share / n else None


def _both_tails(t: float, degrees: int) -> float:
    """Return the probability that Student's t lies farther out (Abramowitz and Stegun, 26.7.3 and 26.7.4)."""
    angle = math.atan(t / math.sqrt(degrees))
    cos, sin = math.cos(angle), math.sin(angle)
    odd = degrees % 2
    term, total = (cos, 0.0 if degrees == 1 else cos) if odd else (1.0, 1.0)
    for k in range(3 if odd else 2, degrees - 1, 2):
        term *= (k - 1) / k * cos * cos
        total += term
    inside = 2 / math.pi * (angle + sin * total) if odd else sin * total
    return max(1 - inside, 0.0)


def _half_degrees(variance: float) -> float | None:
    """Return the half of nu0 for which psi'(nu0/2) is this variance; None where the recipes' spreads do not differ."""
    low, high = 1e-3, 1e4
    if variance <= _psi_1(high):
        return None
    for _ in range(60):
        middle = math.sqrt(low * high)
        low, high = (middle, high) if _psi_1(middle) > variance else (low, middle)
    return low


def _psi(x: float) -> float:
    """Return the digamma function for x > 0: the recurrence up to 6, then the asymptotic series (NIST DLMF 5.5.2, 5.11.2)."""
    steps = 0.0
    while x < 6:
        steps, x = steps - 1 / x, x + 1
    square = 1 / (x * x)
    return steps + math.log(x) - 0.5 / x - square * (1 / 12 - square * (1 / 120 - square / 252))


def _psi_1(x: float) -> float:
    """Return the trigamma function for x > 0: the recurrence up to 6, then the asymptotic series (NIST DLMF 5.15.5, 5.15.8)."""
    steps = 0.0
    while x < 6:
        steps, x = steps + 1 / (x * x), x + 1
    square = 1 / (x * x)
    return steps + 1 / x + square / 2 + square / x * (1 / 6 - square * (1 / 30 - square / 42))
