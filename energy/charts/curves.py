"""The power curve: watts over minutes, as thinned by ``energy.runs.domain.curve``."""

from __future__ import annotations

from collections.abc import Sequence

from energy.charts.frames import Frame, corners_of, minute_ticks, size_of, stage_marks, value_ticks
from energy.charts.lettering import text_width
from energy.charts.shapes import Label, Point, PowerCurve
from energy.facts import StageEnergy
from energy.runs.domain.curve import Trace
from energy.words import Language
from energy.words.titles import curve_title

_BESIDE = 10.0


def power_curve(
    trace: Trace, stages: Sequence[StageEnergy], total_s: float, *, peak: str, language: Language, narrow: bool = False
) -> PowerCurve | None:
    """Return the power curve of a run, or None where no watts are known.

    Parameters
    ----------
    trace : Trace
        The thinned curve. [s, W]
    stages : sequence of StageEnergy
        The stages from the start on, one after the other; without any, the axis shows minutes.
    total_s : float
        How long the run took. [s]
    peak : str
        The run's highest watts as they are printed beside it ("at least 690 W"); empty where nothing tells them.
    language : str
        That of its title.
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
        **frame.edges,
        watts=value_ticks(frame),
        minutes=() if stages else minute_ticks(frame),
        stages=stage_marks(frame, stages),
        lines=tuple(_drawn(frame, piece.line) for piece in trace.pieces),
        areas=tuple(_under(frame, piece.area) for piece in trace.pieces),
        peak=_peak(frame, trace, peak),
        title=curve_title(trace, peak, language),
    )


def _drawn(frame: Frame, points: Sequence[Sequence[float]]) -> str:
    return corners_of([(frame.x(at_s), frame.y(power_w)) for at_s, power_w in points])


def _under(frame: Frame, points: Sequence[Sequence[float]]) -> str:
    first, last = frame.x(points[0][0]), frame.x(points[-1][0])
    inside = [(frame.x(at_s), frame.y(power_w)) for at_s, power_w in points]
    return corners_of([(first, frame.bottom), *inside, (last, frame.bottom)])


def _peak(frame: Frame, trace: Trace, words: str) -> Point:
    """Return the ringed peak, bare where nothing tells its watts; its label stands above it, on the side that has room."""
    x, y = frame.x(trace.peak_s), frame.y(trace.peak_w)
    if not words:
        return Point(x, y, None)
    right = x + _BESIDE + text_width(words, frame.font_size + 1) <= frame.width
    label = Label(words, round(x + _BESIDE, 1), y - 10, "start") if right else Label(words, round(x - _BESIDE, 1), y - 10, "end")
    return Point(x, y, label)
