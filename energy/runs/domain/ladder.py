"""The climb of a run thinned to few points that still draw it."""

from __future__ import annotations

from collections.abc import Sequence
from heapq import heappop, heappush
from itertools import pairwise
from typing import Protocol

MOST_POINTS = 200

_STRAIGHT_WH = 1e-9

_Points = Sequence[tuple[float, float]]


class _Stage(Protocol):
    """Anything with a span and an energy."""

    @property
    def span_s(self) -> float: ...

    @property
    def energy_wh(self) -> float: ...


def thin(points: _Points, most: int = MOST_POINTS) -> tuple[tuple[float, float], ...]:
    """Return at most ``most`` of the points, first and last included.

    Parameters
    ----------
    points : sequence of (float, float)
        Moments and watt-hours in the order of time. [s, Wh]
    most : int, >= 2
        How many may stay.

    Returns
    -------
    tuple of (float, float)

    Raises
    ------
    ValueError
        If fewer than two may stay.

    Notes
    -----
    From the straight line between the ends on, the point that lies farthest off the line drawn so far joins it (Douglas and
    Peucker's rule, the worst first), until all lie on it or enough have joined. So every corner stays while there are few, and
    of too many the flattest go. Each point that joins costs one look at its stretch, so that long logs stay quick.

    Examples
    --------
    >>> thin([(0, 0), (60, 10), (120, 20), (180, 20), (240, 20)])
    ((0, 0), (120, 20), (240, 20))
    """
    if most < 2:
        raise ValueError("a line needs two points")
    if len(points) <= 2:
        return tuple(points)
    keep = {0, len(points) - 1}
    waiting = [_worst(points, 0, len(points) - 1)]
    while waiting and len(keep) < most:
        minus_off_wh, first, middle, last = heappop(waiting)
        if -minus_off_wh <= _STRAIGHT_WH:
            break
        keep.add(middle)
        heappush(waiting, _worst(points, first, middle))
        heappush(waiting, _worst(points, middle, last))
    return tuple(points[index] for index in sorted(keep))


def stage_corners(stages: Sequence[_Stage]) -> list[tuple[float, float]]:
    """Return where each stage ends on the ladder, from (0, 0) on: seconds and watt-hours so far."""
    corners = [(0.0, 0.0)]
    for stage in stages:
        at_s, energy_wh = corners[-1]
        corners.append((at_s + stage.span_s, energy_wh + stage.energy_wh))
    return corners


def refit(points: _Points, old: _Points, new: _Points) -> tuple[tuple[float, float], ...]:
    """Return a ladder stretched stage by stage, so that it runs through new corners instead of old ones.

    Parameters
    ----------
    points : sequence of (float, float)
        The ladder. [s, Wh]
    old, new : sequence of (float, float)
        The same number of corners, before and after. [s, Wh]

    Returns
    -------
    tuple of (float, float)
        The new corners with the ladder's points between them.

    Examples
    --------
    >>> refit([(0, 0), (300, 60), (600, 100)], [(0, 0), (600, 100)], [(0, 0), (1200, 200)])
    ((0, 0), (600.0, 120.0), (1200, 200))
    """
    moved: list[tuple[float, float]] = [new[0]]
    for (before, after), (new_before, new_after) in zip(pairwise(old), pairwise(new), strict=True):
        inside = [point for point in points if before[0] < point[0] < after[0]]
        moved += [_moved(point, (before, after), (new_before, new_after)) for point in inside]
        moved.append(new_after)
    return tuple(moved)


def _moved(
    point: tuple[float, float], old: tuple[tuple[float, float], ...], new: tuple[tuple[float, float], ...]
) -> tuple[float, float]:
    """Return a point at the same share of the way between its corners."""
    (start_s, start_wh), (end_s, end_wh) = old
    (new_start_s, new_start_wh), (new_end_s, new_end_wh) = new
    along = (point[0] - start_s) / (end_s - start_s)
    up = (point[1] - start_wh) / (end_wh - start_wh) if end_wh > start_wh else along
    up = min(max(up, 0.0), 1.0)
    return new_start_s + along * (new_end_s - new_start_s), new_start_wh + up * (new_end_wh - new_start_wh)


def _worst(points: _Points, first: int, last: int) -> tuple[float, int, int, int]:
    """Return how far (negated, so that the worst sorts first) and which point lies farthest off the line between two others."""
    (start_s, start_wh), (end_s, end_wh) = points[first], points[last]
    slope = (end_wh - start_wh) / (end_s - start_s) if end_s > start_s else 0.0
    middle, off_wh = first, -1.0
    for index in range(first + 1, last):
        off = abs(points[index][1] - start_wh - slope * (points[index][0] - start_s))
        if off > off_wh:
            middle, off_wh = index, off
    return -off_wh, first, middle, last
