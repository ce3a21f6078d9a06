"""A run's power curve thinned to what a drawing can show, without losing a peak or a watt-hour; and when the element came on."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from energy.runs.domain.counter import counter_track
from energy.runs.domain.log_columns import best_curve
from energy.runs.domain.marking import STANDBY_W, Curve
from energy.runs.domain.rhythm import Came
from energy.runs.domain.samples import Sample
from energy.runs.domain.watts import power_points, usual_interval_s

MOST_COLUMNS = 160
"""How many columns a thinned curve has at most: one for every two or three points of type on a phone."""

MOST_SWITCH_ONS = 60
"""More moments of switching on than this are counted, not drawn."""

_HOLE_INTERVALS, _HOLE_S = 5, 60.0

_Piece = tuple[float, float, float, float]  # from moment and watts to moment and watts


@dataclass(frozen=True)
class CurvePiece:
    """An unbroken stretch of a curve. [s, W]

    ``line`` runs straight from point to point and goes through every peak. ``means`` are the steps of its columns' mean watts,
    empty where nothing was thinned.
    """

    line: tuple[tuple[float, ...], ...]
    means: tuple[tuple[float, ...], ...] = ()

    @property
    def area(self) -> tuple[tuple[float, ...], ...]:
        """What the stretch's energy lies under: the line itself, or the means where it was thinned."""
        return self.means or self.line


@dataclass(frozen=True)
class Trace:
    """What the drawings of a run show beside its climb, kept with the run so that nobody reads its readings for them.

    ``from_counter``: the watts are means between the readings of a counter. ``peak_s`` is the first moment of the peak.
    ``switch_ons`` counts how often the element came on; ``switch_ons_s`` are the moments, empty where there are too many.
    """

    pieces: tuple[CurvePiece, ...] = ()
    from_counter: bool = False
    peak_w: float = 0.0
    peak_s: float = 0.0
    switch_ons: int = 0
    switch_ons_s: tuple[float, ...] = ()
    resets_s: tuple[float, ...] = ()


def trace_of(samples: Sequence[Sample], start_s: float, end_s: float, *, came: Came | None = None) -> Trace:
    """Return what the drawings of a run show.

    Parameters
    ----------
    samples : sequence of Sample
        The readings, in any order.
    start_s, end_s : float
        The run. Moments of the trace count from ``start_s``. [s]
    came : Came, optional
        How the log came, where it may have been thinned since.

    Returns
    -------
    Trace
        Without pieces where neither watts nor a counter were read twice.

    Examples
    --------
    >>> trace = trace_of([Sample(0, 0), Sample(600, 105), Sample(1200, 0), Sample(1800, 20)], 0, 1800)
    >>> trace.from_counter, round(trace.peak_w), trace.resets_s
    (True, 630, (1200,))
    """
    watts = power_points(samples)
    counter, falls = _climb(samples)
    curve = best_curve(_columns(watts), counter, came.held if came else None, came.step_s if came else 0.0)
    pieces = thin_curve(curve, start_s, end_s, step_s=came.step_s if came else 0.0)
    peak_s, peak_w = max(
        ((at_s, power_w) for piece in pieces for at_s, power_w in piece.line), key=lambda point: point[1], default=(start_s, 0.0)
    )
    ons = [] if curve.from_counter else switch_ons(curve, start_s, end_s)
    return Trace(
        pieces=tuple(CurvePiece(_shifted(piece.line, start_s), _shifted(piece.means, start_s)) for piece in pieces),
        from_counter=curve.from_counter,
        peak_w=round(peak_w, 2),
        peak_s=round(peak_s - start_s, 2),
        switch_ons=len(ons),
        switch_ons_s=tuple(at_s - start_s for at_s in ons) if len(ons) <= MOST_SWITCH_ONS else (),
        resets_s=tuple(at_s - start_s for at_s in falls if start_s <= at_s <= end_s),
    )


def thin_curve(
    curve: Curve, start_s: float, end_s: float, columns: int = MOST_COLUMNS, step_s: float = 0.0
) -> tuple[CurvePiece, ...]:
    """Return a curve between two moments as unbroken pieces that a drawing can show.

    Parameters
    ----------
    curve : Curve
        Watts at moments that never go backward. [s, W]
    start_s, end_s : float
        The stretch that is shown. [s]
    columns : int, >= 1
        Into how many columns a curve with more points than twice that is gathered.
    step_s : float
        The usual interval of a log that was thinned since: then what it left out is no gap. [s]

    Returns
    -------
    tuple of CurvePiece

    Notes
    -----
    A held value stays until the next one, so its line goes in steps; a sampled curve runs straight. Five usual intervals and a
    minute without a sample are a gap, and stay one. Of each column the line keeps the lowest and the highest watts in the order
    of time, and the area their mean: no peak is lost, and neither is any energy.

    Examples
    --------
    >>> piece, = thin_curve(Curve([0, 10, 20, 30], [0, 600, 600, 0]), 0, 30)
    >>> piece.means, piece.line
    ((), ((0, 0), (10, 600), (20, 600), (30, 0)))
    >>> piece, = thin_curve(Curve([0, 10, 20, 30], [0, 600, 100, 0], held=True), 0, 30, columns=1)
    >>> max(power_w for _, power_w in piece.line), round(piece.area[0][1])
    (600, 233)
    """
    found = []
    for run in _unbroken(curve, start_s, end_s, step_s):
        if len(run) <= 2 * columns:
            found.append(CurvePiece(_corners(run)))
        else:
            found.append(_in_columns(run, start_s, max((end_s - start_s) / columns, 1e-9), held=curve.held))
    return tuple(found)


def switch_ons(curve: Curve, start_s: float, end_s: float) -> list[float]:
    """Return the moments at which the element came on: above a tenth of the peak after lying below a twentieth. [s]

    Examples
    --------
    >>> switch_ons(Curve([0, 10, 20, 30, 40], [700, 700, 0, 690, 0], held=True), 0, 40)
    [0, 30]
    """
    inside = [(at_s, power_w) for at_s, power_w in zip(curve.times_s, curve.watts, strict=True) if start_s <= at_s <= end_s]
    peak_w = max((power_w for _, power_w in inside), default=0.0)
    found, on = [], False
    if peak_w <= STANDBY_W:
        return []
    for at_s, power_w in inside:
        if power_w > 0.1 * peak_w and not on:
            found.append(at_s)
        on = power_w > 0.1 * peak_w or (on and power_w >= 0.05 * peak_w)
    return found


def intervals(trace: Trace, count: int = 12) -> list[tuple[float, float, float, float, float]]:
    """Return a thinned curve as a table of even stretches: start, end, lowest, mean and highest watts. [s, s, W, W, W]

    Stretches without a reading are left out.

    Examples
    --------
    >>> trace = trace_of([Sample(at, power_w=at) for at in range(0, 61, 10)], 0, 60)
    >>> intervals(trace, 2)
    [(0.0, 30.0, 0, 15.0, 30), (30.0, 60.0, 30, 45.0, 60)]
    """
    if not trace.pieces:
        return []
    end_s = trace.pieces[-1].line[-1][0]
    width_s, found = end_s / count, []
    lines = [_by_column(_steps(piece.line), 0.0, width_s) for piece in trace.pieces]
    areas = [_by_column(_steps(piece.area), 0.0, width_s) for piece in trace.pieces]
    for number in range(count):
        shown = [piece for filled in lines for piece in filled.get(number, ())]
        under = [piece for filled in areas for piece in filled.get(number, ())]
        span_s = sum(piece[2] - piece[0] for piece in under)
        if shown and span_s > 0:
            watts = [power_w for piece in shown for power_w in (piece[1], piece[3])]
            found.append((number * width_s, (number + 1) * width_s, min(watts), _energy_ws(under) / span_s, max(watts)))
    return found


def _steps(points: Sequence[Sequence[float]]) -> list[_Piece]:
    return [(before[0], before[1], after[0], after[1]) for before, after in pairwise(points)]


def _energy_ws(pieces: Sequence[_Piece]) -> float:
    return sum((before_w + after_w) / 2 * (after_s - before_s) for before_s, before_w, after_s, after_w in pieces)


def _climb(samples: Sequence[Sample]) -> tuple[tuple[Sequence[float], Sequence[float]], list[float]]:
    """Return a counter's climb, resets taken out, as moments and watt-hours; and the moments of its resets."""
    if not any(sample.energy_wh is not None for sample in samples):
        return ((), ()), []
    track, falls = counter_track(samples)
    return (track.times_s, track.sums_wh), [fall.at_s for fall in falls if fall.is_reset]


def _columns(points: Sequence[tuple[float, float]]) -> tuple[list[float], list[float]]:
    return [at_s for at_s, _ in points], [power_w for _, power_w in points]


def _shifted(points: Sequence[Sequence[float]], start_s: float) -> tuple[tuple[float, ...], ...]:
    return tuple((round(at_s - start_s, 2), round(power_w, 2)) for at_s, power_w in points)


def _unbroken(curve: Curve, start_s: float, end_s: float, step_s: float) -> list[list[_Piece]]:
    """Return the pieces of a curve between two moments, those that follow one another together."""
    found: list[list[_Piece]] = []
    last_s = None
    for piece in _clipped(_pieces(curve, end_s, step_s), start_s, end_s):
        if last_s is None or piece[0] > last_s:
            found.append([])
        found[-1].append(piece)
        last_s = piece[2]
    return found


def _pieces(curve: Curve, end_s: float, step_s: float) -> Iterator[_Piece]:
    points = list(zip(curve.times_s, curve.watts, strict=True))
    hole_s = math.inf if step_s else max(_HOLE_INTERVALS * usual_interval_s(curve.times_s), _HOLE_S)
    for (before_s, before_w), (after_s, after_w) in pairwise(points):
        if after_s > before_s and (curve.held or after_s - before_s <= hole_s):
            yield before_s, before_w, after_s, before_w if curve.held else after_w
    if curve.held and points and not curve.from_counter and end_s > points[-1][0]:
        yield points[-1][0], points[-1][1], end_s, points[-1][1]


def _clipped(pieces: Iterator[_Piece], start_s: float, end_s: float) -> Iterator[_Piece]:
    for piece in pieces:
        if start_s <= piece[0] and piece[2] <= end_s:
            yield piece
        elif piece[2] > start_s and piece[0] < end_s:
            yield _cut(piece, max(piece[0], start_s), min(piece[2], end_s))


def _cut(piece: _Piece, low_s: float, high_s: float) -> _Piece:
    """Return a piece between two moments inside it."""
    return low_s, _watts_at(piece, low_s), high_s, _watts_at(piece, high_s)


def _watts_at(piece: _Piece, at_s: float) -> float:
    before_s, before_w, after_s, after_w = piece
    if at_s <= before_s or before_w == after_w:
        return before_w
    if at_s >= after_s:
        return after_w
    here_w = before_w + (after_w - before_w) * (at_s - before_s) / (after_s - before_s)
    return min(max(here_w, min(before_w, after_w)), max(before_w, after_w))


def _corners(pieces: Sequence[_Piece]) -> tuple[tuple[float, float], ...]:
    """Return the points that unbroken pieces run through, each once."""
    points = [(piece[0], piece[1]) for piece in pieces[:1]]
    for before_s, before_w, after_s, after_w in pieces:
        points += [point for point in ((before_s, before_w), (after_s, after_w)) if point != points[-1]]
    return tuple(points)


def _in_columns(pieces: Sequence[_Piece], start_s: float, width_s: float, *, held: bool) -> CurvePiece:
    """Return unbroken pieces gathered into columns."""
    columns = _by_column(pieces, start_s, width_s)
    line, area = [(pieces[0][0], pieces[0][1])], []  # type: list[tuple[float, float]], list[tuple[float, float]]
    for number in sorted(columns):
        column = columns[number]
        from_s, until_s = column[0][0], column[-1][2]
        mean_w = _energy_ws(column) / (until_s - from_s)
        area += [(from_s, mean_w), (until_s, mean_w)]
        for at_s, power_w in _extremes(column):
            if held and power_w != line[-1][1]:
                line.append((at_s, line[-1][1]))
            line.append((at_s, power_w))
    line.append((pieces[-1][2], line[-1][1] if held else pieces[-1][3]))
    return CurvePiece(_without_repeats(line), tuple(area))


def _extremes(column: Sequence[_Piece]) -> list[tuple[float, float]]:
    """Return the lowest and the highest point of a column in the order of time."""
    points = [point for piece in column for point in (piece[:2], piece[2:])]
    low, high = min(points, key=lambda point: point[1]), max(points, key=lambda point: point[1])
    return [low] if low[1] == high[1] else sorted((low, high), key=points.index)


def _by_column(pieces: Sequence[_Piece], start_s: float, width_s: float) -> dict[int, list[_Piece]]:
    """Return what falls into each column, pieces cut where one column ends and the next begins."""
    columns: dict[int, list[_Piece]] = {}
    for piece in pieces:
        first, last = int((piece[0] - start_s) / width_s), int((piece[2] - start_s) / width_s)
        if first == last:
            columns.setdefault(first, []).append(piece)
            continue
        for number in range(first, last + 1):
            low_s = max(piece[0], start_s + number * width_s)
            high_s = min(piece[2], start_s + (number + 1) * width_s) if number < last else piece[2]
            if high_s > low_s:
                columns.setdefault(number, []).append(_cut(piece, low_s, high_s))
    return columns


def _without_repeats(points: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    return tuple(point for place, point in enumerate(points) if place == 0 or point != points[place - 1])
