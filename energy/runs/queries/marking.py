"""A run's power curve with its stage marks, as the page for marking draws it; and what the curve suggests."""

from __future__ import annotations

from array import array
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Any

from django.utils import timezone

from energy.charts.frames import corners_of, nice_step
from energy.charts.shapes import Plot
from energy.models import Run
from energy.runs.domain.file_came import came_of_rows
from energy.runs.domain.log_columns import best_curve
from energy.runs.domain.marking import Curve, envelope, name_marks, propose_marks
from energy.runs.domain.rhythm import Came
from energy.runs.queries.recording import stage_proposals
from energy.words import ENGLISH, sentence
from energy.words.figures import format_minutes, format_watts

_SIZES = {"wide": (920.0, 300.0, 56.0, 13.5, 420), "narrow": (340.0, 240.0, 46.0, 14.0, 140)}
"""Width, height, left edge of the plot, size of the type, columns of the curve."""

_TOP, _BOTTOM, _RIGHT = 14.0, 26.0, 8.0
_STEPS_MIN = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1440)


@dataclass(frozen=True)
class AxisMark:
    """A line of an axis: where, what stands beside it, and how that is anchored."""

    at: float
    words: str
    anchor: str = "middle"


@dataclass(frozen=True)
class CurveDrawing(Plot):
    """A power curve in the units of its view box; ``start_s`` and ``end_s`` are what its left and right edge stand for."""

    kind: str
    start_s: float
    end_s: float
    line: str
    area: str
    watts: tuple[AxisMark, ...]
    minutes: tuple[AxisMark, ...]

    @property
    def plot_height(self) -> float:
        """How high the plot is."""
        return self.bottom - self.top

    def x(self, at_s: float) -> float:
        """Return where a moment stands, held inside the plot."""
        share = (at_s - self.start_s) / (self.end_s - self.start_s)
        return round(self.left + (self.right - self.left) * min(max(share, 0.0), 1.0), 1)


def run_curve(run: Run) -> Curve:
    """Return a run's watts, or the mean watts between the readings of its counter where those are sparse. Two queries."""
    watts, counter = (array("d"), array("d")), (array("d"), array("d"))
    rows = run.readings.order_by("at").values_list("at", "power_w", "energy_wh")
    for at, power_w, energy_wh in rows.iterator(chunk_size=5000):
        at_s = (at - run.started_at).total_seconds()
        for (times, values), value in ((watts, power_w), (counter, energy_wh)):
            if value is not None:
                times.append(at_s)
                values.append(value)
    came = came_of_rows(run.files.values_list("came", flat=True), run.started_at) or Came()
    return best_curve(watts, counter, came.held, came.step_s)


def draw_curve(curve: Curve, start_s: float, end_s: float, kind: str) -> CurveDrawing:
    """Return the drawing of a curve between two moments; ``kind`` is ``wide`` or ``narrow``."""
    width, height, left, font, columns = _SIZES[kind]
    end_s = max(end_s, start_s + 60.0)
    shown = envelope(curve, start_s, end_s, columns)
    step_w = nice_step(max((power for _, power in shown), default=0.0) or 1.0, 4)
    top_w = step_w * max(1, -(-max((power for _, power in shown), default=1.0) // step_w))
    plot = CurveDrawing(width, height, left, width - _RIGHT, _TOP, height - _BOTTOM, font, kind, start_s, end_s, "", "", (), ())
    corners = [(plot.x(at_s), round(plot.bottom - (plot.bottom - plot.top) * power / top_w, 1)) for at_s, power in shown]
    if curve.held:
        corners = _stairs(corners)
    return CurveDrawing(
        **{
            **vars(plot),
            "line": corners_of(corners),
            "area": corners_of([(corners[0][0], plot.bottom), *corners, (corners[-1][0], plot.bottom)]) if corners else "",
            "watts": tuple(
                AxisMark(round(plot.bottom - (plot.bottom - plot.top) * rung * step_w / top_w, 1), format_watts(rung * step_w))
                for rung in range(round(top_w / step_w) + 1)
            ),
            "minutes": _minute_ticks(plot, 4 if kind == "narrow" else 8),
        }
    )


def _stairs(corners: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    found = list(corners[:1])
    for (_, before_y), (x, y) in pairwise(corners):
        found += [(x, before_y), (x, y)]
    return found


def _minute_ticks(plot: CurveDrawing, most: int) -> tuple[AxisMark, ...]:
    span_min = (plot.end_s - plot.start_s) / 60
    step = next((one for one in _STEPS_MIN if span_min / one <= most), -(-span_min // most))
    first = -(-plot.start_s / 60 // step)
    ticks = []
    while first * step * 60 <= plot.end_s + 1e-6:
        at_s = first * step * 60
        sign, x = "−" if at_s < 0 else "", plot.x(at_s)
        anchor = "start" if x < plot.left + 12 else "end" if x > plot.right - 24 else "middle"
        ticks.append(AxisMark(x, sign + format_minutes(abs(at_s)), anchor))
        first += 1
    return tuple(ticks)


@dataclass(frozen=True)
class MarkedDrawing:
    """A drawing with a run's marks on it: the number of each stage and where it stands, and both ends of the cook."""

    plot: CurveDrawing
    marks: tuple[tuple[int, float], ...]
    begins: float
    ends: float

    @property
    def after(self) -> float:
        """How wide the time after the end is drawn."""
        return round(self.plot.right - self.ends, 1)

    @property
    def before(self) -> float:
        """How wide the time before the start is drawn."""
        return round(self.begins - self.plot.left, 1)


@dataclass(frozen=True)
class MarkingPage:
    """The curve of one run in both sizes, the span that it shows, the clock at its zero, and what lies outside the run."""

    drawings: tuple[MarkedDrawing, ...]
    start_s: float
    end_s: float
    zero: datetime
    from_counter: bool
    outside: str
    sentence: str

    @property
    def is_drawn(self) -> bool:
        """Whether there is a curve at all."""
        return bool(self.drawings)


def marking_page(run: Run, curve: Curve, marks: Sequence[tuple[int, float]], ends: tuple[float, float]) -> MarkingPage:
    """Return the curve of a run in words and drawings, with stages (number, moment) and both ends on it. No query."""
    end_s = run_span_s(run, curve)
    known = bool(curve.times_s)
    start_s = min(0.0, curve.times_s[0]) if known else 0.0
    until_s = max(end_s, curve.times_s[-1]) if known else end_s
    drawn = len(curve.times_s) >= 2
    return MarkingPage(
        drawings=tuple(_marked(draw_curve(curve, start_s, until_s, kind), marks, ends) for kind in _SIZES) if drawn else (),
        start_s=start_s,
        end_s=until_s,
        zero=timezone.localtime(run.started_at),
        from_counter=curve.from_counter,
        outside=_outside_words(curve, end_s),
        sentence=sentence(ENGLISH, "watts_over", span_s=until_s - start_s, peak_w=curve.peak_w),
    )


def _marked(plot: CurveDrawing, marks: Sequence[tuple[int, float]], ends: tuple[float, float]) -> MarkedDrawing:
    return MarkedDrawing(plot, tuple((number, plot.x(at_s)) for number, at_s in marks), plot.x(ends[0]), plot.x(ends[1]))


def run_span_s(run: Run, curve: Curve) -> float:
    """Return how long a run lasts; one that goes on lasts until its last reading. [s]"""
    if run.ended_at is not None:
        return float((run.ended_at - run.started_at).total_seconds())
    return max(0.0, curve.times_s[-1]) if curve.times_s else 0.0


def _outside_words(curve: Curve, end_s: float) -> str:
    before = sum(at_s < 0 for at_s in curve.times_s)
    after = sum(at_s > end_s for at_s in curve.times_s)
    if not before + after:
        return ""
    parts = [sentence(ENGLISH, code, count=count) for code, count in (("before_start", before), ("after_end", after)) if count]
    code = "one_outside" if before + after == 1 else "some_outside"
    return sentence(ENGLISH, code, where=sentence(ENGLISH, "and").join(parts))


def suggested_stages(run: Run, curve: Curve) -> list[dict[str, Any]]:
    """Return the stages that the curve suggests, named along the recipe's method, as rows of the marking form. One query.

    A cook that begins with nothing drawn begins when it was switched on.
    """
    method = [proposal.kind for proposal in stage_proposals(run.revision)]
    marks = propose_marks(curve, 0.0, run_span_s(run, curve))
    marks = marks[1:] if len(marks) > 1 and marks[0].state == "off" else marks
    return [{"minute": round(at_s / 6) * 6.0, "kind": kind} for at_s, kind in name_marks(marks, method)]
