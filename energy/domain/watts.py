"""Energy from watts: the fallback where no counter was read.

Two kinds of log exist. One that writes a line whenever the watts change: each value holds until the next one. One that samples at
even intervals: the watts run straight from one sample to the next (trapezoids), and a switch between two samples may be anywhere
between them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise
from statistics import median

from energy.domain.samples import Sample
from energy.domain.track import EnergyTrack

COARSE_S = 10.0
"""A cycling load sampled at longer intervals than this is not trusted. [s]"""

CYCLING_EDGES = 4
"""From this many switchings on, a load is said to cycle: switching on, off and on again may be a pause."""


def power_points(samples: Sequence[Sample]) -> list[tuple[float, float]]:
    """Return (moment, watts) in the order of time; readings without watts are passed over."""
    return sorted((sample.at_s, sample.power_w) for sample in samples if sample.power_w is not None)


def usual_interval_s(times_s: Sequence[float]) -> float:
    """Return the median interval between moments, 0 for fewer than two. [s]"""
    gaps = [after - before for before, after in pairwise(times_s)]
    return median(gaps) if gaps else 0.0


def looks_sampled(times_s: Sequence[float]) -> bool:
    """Return whether a log was sampled at even intervals: at least five moments, four fifths of them near the usual interval.

    Examples
    --------
    >>> looks_sampled([0, 5, 10, 15, 20, 31]), looks_sampled([0, 40, 41, 300, 310, 900])
    (True, False)
    """
    if len(times_s) < 5:
        return False
    usual = usual_interval_s(times_s)
    near = sum(abs(after - before - usual) <= usual / 4 for before, after in pairwise(times_s))
    return usual > 0 and near >= 0.8 * (len(times_s) - 1)


def watts_track(points: Sequence[tuple[float, float]], *, held: bool, until_s: float | None = None) -> EnergyTrack:
    """Return the climb of the energy under a log of watts.

    Parameters
    ----------
    points : sequence of (float, float)
        Moment and watts, in the order of time; at least one. [s, W]
    held : bool
        True for a log of changes (a value holds until the next one), False for even samples (trapezoids).
    until_s : float, optional
        The moment up to which the last value of a log of changes holds. [s]

    Returns
    -------
    EnergyTrack
        Watt-hours since the first moment. [Wh]

    Raises
    ------
    ValueError
        If there is no point.

    Examples
    --------
    >>> round(watts_track([(0, 700), (600, 0)], held=True).sums_wh[-1], 2)
    116.67
    >>> round(watts_track([(0, 700), (600, 0)], held=False).sums_wh[-1], 2)
    58.33
    """
    if not points:
        raise ValueError("no reading shows watts")
    if held and until_s is not None and until_s > points[-1][0]:
        points = [*points, (until_s, points[-1][1])]
    sums = [0.0]
    for (before_s, before_w), (after_s, after_w) in pairwise(points):
        mean_w = before_w if held else (before_w + after_w) / 2
        sums.append(sums[-1] + mean_w * (after_s - before_s) / 3600)
    times = tuple(at_s for at_s, _ in points)
    return EnergyTrack(times, tuple(sums), () if held else tuple(power for _, power in points))


def switchings(points: Sequence[tuple[float, float]], start_s: float, end_s: float) -> list[float]:
    """Return the interval before each switching within a stretch: a jump of more than half of the log's highest watts. [s]

    Examples
    --------
    >>> switchings([(0, 0), (5, 1500), (10, 1500), (15, 20)], 0, 15)
    [5, 5]
    """
    highest = max((power for _, power in points), default=0.0)
    return [
        after_s - before_s
        for (before_s, before_w), (after_s, after_w) in pairwise(points)
        if start_s <= before_s and after_s <= end_s and abs(after_w - before_w) > highest / 2
    ]


def edges_wh(points: Sequence[tuple[float, float]], start_s: float, end_s: float) -> float:
    """Return the standard uncertainty that switching between even samples leaves in the energy of a stretch. [Wh]

    Notes
    -----
    The moment of a switch between two samples is unknown within their interval, so its energy is off by up to P dt, evenly
    spread: P_max dt / sqrt(12) for each switching, in quadrature.

    Examples
    --------
    >>> round(edges_wh([(0, 0), (5, 1500), (10, 1500), (15, 20)], 0, 15), 3)
    0.851
    """
    highest = max((power for _, power in points), default=0.0)
    return math.hypot(*(highest * gap / 3600 / math.sqrt(12) for gap in switchings(points, start_s, end_s)))
