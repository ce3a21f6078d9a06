"""The power curve: watts over minutes, as thinned by ``energy.domain.curve``."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from energy.charts.frames import Frame, corners_of, minute_ticks, size_of, stage_marks, value_ticks
from energy.charts.lettering import spelled, text_width
from energy.charts.shapes import Label, Point, PowerCurve
from energy.domain.curve import Trace
from energy.domain.facts import StageEnergy
from energy.domain.words import format_minutes, format_watts

_BESIDE = 10.0


def power_curve(trace: Trace, stages: Sequence[StageEnergy], total_s: float, *, narrow: bool = False) -> PowerCurve | None:
    """Return the power curve of a run, or None where no watts are known.

    Parameters
    ----------
    trace : Trace
        The thinned curve. [s, W]
    stages : sequence of StageEnergy
        The stages from the start on, one after the other; without any, the axis shows minutes.
    total_s : float
        How long the run took. [s]
    narrow : bool
        The variant for a phone.

    Returns
    -------
    PowerCurve or None
    """
    if not trace.pieces:
        return None
    frame = Frame.around(max(total_s, trace.pieces[-1].line[-1][0]), trace.peak_w, size_of(narrow))
    return PowerCurve(
        width=frame.width,
        height=frame.height,
        left=frame.left,
        right=frame.right,
        top=frame.top,
        bottom=frame.bottom,
        font_size=frame.font,
        watts=value_ticks(frame),
        minutes=() if stages else minute_ticks(frame),
        stages=stage_marks(frame, stages),
        lines=tuple(_drawn(frame, piece.line) for piece in trace.pieces),
        areas=tuple(_under(frame, piece.area) for piece in trace.pieces),
        peak=_peak(frame, trace),
        title=_title(trace),
    )


def _drawn(frame: Frame, points: Sequence[Sequence[float]]) -> str:
    return corners_of([(frame.x(at_s), frame.y(power_w)) for at_s, power_w in points])


def _under(frame: Frame, points: Sequence[Sequence[float]]) -> str:
    first, last = frame.x(points[0][0]), frame.x(points[-1][0])
    inside = [(frame.x(at_s), frame.y(power_w)) for at_s, power_w in points]
    return corners_of([(first, frame.bottom), *inside, (last, frame.bottom)])


def _peak(frame: Frame, trace: Trace) -> Point:
    """Return the ringed peak; its label stands above it, on the side that has room."""
    x, y = frame.x(trace.peak_s), frame.y(trace.peak_w)
    words = format_watts(trace.peak_w)
    right = x + _BESIDE + text_width(words, frame.font + 1) <= frame.width
    label = Label(words, round(x + _BESIDE, 1), y - 10, "start") if right else Label(words, round(x - _BESIDE, 1), y - 10, "end")
    return Point(x, y, label)


def _title(trace: Trace) -> str:
    """Return the result in a sentence: the peak and when, how often the element came on, and where nothing was read."""
    what = "Between two readings of the counter at most" if trace.from_counter else "At most"
    words = f"{what} {format_watts(trace.peak_w)}, first after {spelled(trace.peak_s)}"
    if trace.peak_s < 30:
        words = f"{what} {format_watts(trace.peak_w)}, from the start"
    more = f"; the element came on {trace.switch_ons} times" if trace.switch_ons > 1 else ""
    holes_s = _unread_s(trace)
    return f"{words}{more}{f'; {format_minutes(holes_s)} without a reading' if holes_s > 0 else ''}."


def _unread_s(trace: Trace) -> float:
    """Return how long nothing was read between the pieces. [s]"""
    ends = [(piece.line[0][0], piece.line[-1][0]) for piece in trace.pieces]
    return sum(after[0] - before[1] for before, after in pairwise(ends))
