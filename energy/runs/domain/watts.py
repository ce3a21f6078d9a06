"""Energy from watts: the fallback where no counter was read.

Two kinds of log exist. One that writes a line whenever the watts change: each value holds until the next one, and two lines in a
row hardly ever say the same. One that samples, evenly or not: the watts run straight from one sample to the next (trapezoids),
and a switch between two samples may be anywhere between them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import groupby, pairwise
from statistics import median, stdev

from energy.runs.domain.samples import Sample
from energy.runs.domain.track import EnergyTrack

COARSE_S = 10.0
"""A cycling load sampled at longer intervals than this is not trusted. [s]"""

ALIKE = 0.02
"""Two values this near to each other, as a share of the log's highest, say the same: the flicker of a heater's watts."""

REPEATING = 0.1
"""From this share of repeated values on, a log samples."""

SPELL_SAMPLES = 3
"""Where each spell of on and off holds at least so many samples, every switching was seen."""

CYCLING_EDGES = 4
"""From this many switchings on, a load is said to cycle: switching on, off and on again may be a pause."""


def power_points(samples: Sequence[Sample]) -> list[tuple[float, float]]:
    """Return (moment, watts) in the order of time; readings without watts are passed over."""
    return sorted((sample.at_s, sample.power_w) for sample in samples if sample.power_w is not None)


def usual_interval_s(times_s: Sequence[float]) -> float:
    """Return the median interval between moments, 0 for fewer than two. [s]"""
    gaps = [after - before for before, after in pairwise(times_s)]
    return median(gaps) if gaps else 0.0


def looks_sampled(times_s: Sequence[float], watts: Sequence[float]) -> bool:
    """Return whether a log was sampled: from five moments on, where it keeps an even rhythm or repeats itself.

    Parameters
    ----------
    times_s, watts : sequence of float
        Moments in order, and the watts at each; as many of both. Nothing is copied, so that columns may be long. [s, W]

    Notes
    -----
    Even: four fifths of the intervals near the usual one. Repeating: at least ``REPEATING`` of the values are within 2 % of the
    highest from the one before. A log of changes does neither. One that is taken for sampled by mistake keeps its energy within
    what its switchings leave open; a sampled one that is taken for changes would be wrong and sure, so the doubt goes that way.

    Examples
    --------
    >>> even, jittered = ([0, 5, 10, 15, 20, 31], [5, 700, 5, 700, 5, 700]), ([0, 7, 11, 19, 22, 31], [700, 690, 5, 5, 700, 702])
    >>> changes = ([0, 40, 41, 300, 310, 900], [700, 5, 690, 350, 0, 700])
    >>> looks_sampled(*even), looks_sampled(*jittered), looks_sampled(*changes)
    (True, True, False)
    """
    intervals = len(times_s) - 1
    if intervals < 4:
        return False
    usual = usual_interval_s(times_s)
    alike_w = ALIKE * max(map(abs, watts))
    near = sum(abs(after - before - usual) <= usual / 4 for before, after in pairwise(times_s))
    alike = sum(abs(after - before) <= alike_w for before, after in pairwise(watts))
    return usual > 0 and (near >= 0.8 * intervals or alike >= REPEATING * intervals)


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


def edges_wh(points: Sequence[tuple[float, float]], start_s: float, end_s: float, step_s: float = 0.0) -> float:
    """Return the standard uncertainty that switching between samples leaves in the energy of a stretch. [Wh]

    ``step_s`` is the usual interval of a log that was thinned since: each spell then held as many samples as fit into it. [s]

    Notes
    -----
    Where each spell of on and off holds three samples, every switching was seen: its moment is unknown within its interval, so
    its energy is off by up to P dt, evenly spread: P_max dt / sqrt(12) for each, in quadrature. Where a spell may have fallen
    between two samples, each sample is a draw of the watts: s_P sqrt(sum w^2), with s_P their standard deviation and w the
    seconds for which the trapezoids let each stand.

    Examples
    --------
    >>> round(edges_wh([(0, 0), (5, 0), (10, 0), (15, 1500), (20, 1500), (25, 1500), (30, 20), (35, 20), (40, 20)], 0, 40), 3)
    0.851
    >>> round(edges_wh([(0, 0), (5, 1500), (10, 1500), (15, 20)], 0, 15), 2)
    1.89
    """
    inside = [(at_s, power) for at_s, power in points if start_s <= at_s <= end_s]
    highest = max((power for _, power in points), default=0.0)
    spells = [list(spell) for _, spell in groupby(inside, key=lambda point: point[1] > highest / 2)]
    lengths = [round((spell[-1][0] - spell[0][0]) / step_s) + 1 if step_s else len(spell) for spell in spells]
    if len(lengths) < 2:
        return 0.0
    if all(length >= SPELL_SAMPLES for length in lengths[1:-1]):
        return math.hypot(*(highest * gap / 3600 / math.sqrt(12) for gap in switchings(points, start_s, end_s)))
    gaps = [0.0, *(after_s - before_s for (before_s, _), (after_s, _) in pairwise(inside)), 0.0]
    weights = ((before + after) / 2 for before, after in pairwise(gaps))
    return stdev(power for _, power in inside) * math.hypot(*weights) / 3600
