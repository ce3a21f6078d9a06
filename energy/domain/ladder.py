"""The climb of a run thinned to few points that still draw it."""

from __future__ import annotations

from collections.abc import Sequence

MOST_POINTS = 200

_Points = Sequence[tuple[float, float]]


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
    First only points on a straight line between their neighbours go, so that every corner stays. If corners alone are too many,
    the flattest go first: the tolerance (in Wh) doubles until few enough are left.

    Examples
    --------
    >>> thin([(0, 0), (60, 10), (120, 20), (180, 20), (240, 20)])
    ((0, 0), (120, 20), (240, 20))
    """
    if most < 2:
        raise ValueError("a line needs two points")
    tolerance_wh = 1e-9
    kept = _corners(points, tolerance_wh)
    highest = max((wh for _, wh in points), default=0.0)
    tolerance_wh = max(highest * 1e-5, 1e-6)
    while len(kept) > most:
        kept = _corners(points, tolerance_wh)
        tolerance_wh *= 2
    return tuple(kept)


def _corners(points: _Points, tolerance_wh: float) -> list[tuple[float, float]]:
    """Return the points that differ from the line through the kept ones by more than the tolerance (Douglas and Peucker)."""
    if len(points) <= 2:
        return list(points)
    keep = {0, len(points) - 1}
    waiting = [(0, len(points) - 1)]
    while waiting:
        first, last = waiting.pop()
        worst, off_wh = _farthest(points, first, last)
        if off_wh > tolerance_wh:
            keep.add(worst)
            waiting += [(first, worst), (worst, last)]
    return [points[index] for index in sorted(keep)]


def _farthest(points: _Points, first: int, last: int) -> tuple[int, float]:
    """Return the point between two others that lies farthest, upward or downward, from their straight line."""
    (start_s, start_wh), (end_s, end_wh) = points[first], points[last]
    slope = (end_wh - start_wh) / (end_s - start_s) if end_s > start_s else 0.0
    worst, off_wh = first, -1.0
    for index in range(first + 1, last):
        off = abs(points[index][1] - start_wh - slope * (points[index][0] - start_s))
        if off > off_wh:
            worst, off_wh = index, off
    return worst, off_wh
