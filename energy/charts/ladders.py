"""The ladder: watt-hours climbing over minutes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from energy.charts.lettering import grouped, stage_name, text_width
from energy.charts.shapes import Label, Ladder, Point, StageMark, Tick
from energy.domain.facts import StageEnergy
from energy.domain.ladder import stage_corners
from energy.domain.words import NOTHING_WH, format_minutes


def ladder(
    points: Sequence[Sequence[float]], stages: Sequence[StageEnergy] = (), *, narrow: bool = False, step_wh: float = 1.0
) -> Ladder:
    """Return the ladder of a run.

    Parameters
    ----------
    points : sequence of (float, float)
        Seconds from the start and watt-hours so far, in the order of time. [s, Wh]
    stages : sequence of StageEnergy
        The stages from the start on, one after the other; without any, the axis shows minutes.
    narrow : bool
        The variant for a phone.
    step_wh : float
        What the watt-hours beside its points are rounded to: an estimate knows no single ones. [Wh]

    Returns
    -------
    Ladder
    """
    frame = _Frame.around(points, stages, narrow)
    rung_wh = nice_step(frame.top_wh, 4 if narrow else 5)
    lines = [index * rung_wh for index in range(round(frame.top_wh / rung_wh) + 1)]
    path = [(frame.x(point[0]), frame.y(point[1])) for point in points] or [(frame.left, frame.bottom)]
    return Ladder(
        width=frame.width,
        height=frame.height,
        left=frame.left,
        right=frame.right,
        top=frame.top,
        bottom=frame.bottom,
        font_size=frame.font,
        watt_hours=tuple(Tick(frame.y(wh), Label(f"{wh:,g}", frame.left - 8, round(frame.y(wh) + 5, 1), "end")) for wh in lines),
        minutes=() if stages else _minute_ticks(frame),
        stages=_stage_marks(frame, stages),
        line=_path(path),
        area=_path([(path[0][0], frame.bottom), *path, (path[-1][0], frame.bottom)]),
        points=_points(frame, stages, step_wh),
        title=_ladder_title(points, step_wh),
        narrow=narrow,
    )


_NOTHING_WH = 1e-6
"""A climb below this is drawn as none: no display shows it, and the steps of its axis would run out of digits. [Wh]"""


def nice_step(highest: float, lines: int) -> float:
    """Return the step of an axis: 1, 2 or 5 times a power of ten, so that at most so many lines reach the highest value.

    Examples
    --------
    >>> nice_step(236, 5), nice_step(41.7, 5), nice_step(1251, 4)
    (50.0, 10.0, 500.0)
    """
    if highest <= 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(highest / lines))
    return next(step * power for step in (1.0, 2.0, 5.0, 10.0) if step * power * lines >= highest * (1 - 1e-9))


@dataclass(frozen=True)
class _Frame:
    """Where the plot lies in its view box and what it spans."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    font: float
    end_s: float
    top_wh: float

    @classmethod
    def around(cls, points: Sequence[Sequence[float]], stages: Sequence[StageEnergy], narrow: bool) -> _Frame:
        corners = stage_corners(stages)
        end_s = max([corners[-1][0], *(point[0] for point in points)]) or 1.0
        climbed = max([corners[-1][1], *(point[1] for point in points)])
        highest = climbed if climbed > _NOTHING_WH else 1.0
        step = nice_step(highest, 4 if narrow else 5)
        top_wh = math.ceil(highest / step - 1e-9) * step
        if narrow:
            return cls(340, 262, 44, 330, 30, 214, 14.0, end_s, top_wh)
        return cls(660, 284, 48, 648, 30, 242, 13.5, end_s, top_wh)

    def x(self, at_s: float) -> float:
        return round(self.left + (self.right - self.left) * at_s / self.end_s, 1)

    def y(self, energy_wh: float) -> float:
        return round(self.bottom - (self.bottom - self.top) * energy_wh / self.top_wh, 1)


def _minute_ticks(frame: _Frame) -> tuple[Tick, ...]:
    total = frame.end_s / 60
    steps = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1440)
    step = next((one for one in steps if total / one <= 6), math.ceil(total / 6))
    marks = range(0, math.floor(total + 1e-9) + 1, step)
    return tuple(
        Tick(
            frame.x(minute * 60),
            Label(format_minutes(minute * 60), frame.x(minute * 60), frame.bottom + 18, _anchor(frame, minute)),
        )
        for minute in marks
    )


def _anchor(frame: _Frame, minute: int) -> str:
    x = frame.x(minute * 60)
    return "end" if x > frame.right - 20 else "middle" if x > frame.left else "start"


def _stage_marks(frame: _Frame, stages: Sequence[StageEnergy]) -> tuple[StageMark, ...]:
    marks = []
    corners = stage_corners(stages)
    for stage, (start_s, _), (end_s, _) in zip(stages, corners, corners[1:], strict=False):
        x, end = frame.x(start_s), frame.x(end_s)
        room = (frame.width if end >= frame.right else end) - x - 5
        marks.append(
            StageMark(
                x=x,
                width=round(end - x, 1),
                kind=stage.kind,
                name=_if_fits(stage_name(stage), x + 5, frame.bottom + 18, room, frame.font),
                minutes=_if_fits(format_minutes(stage.span_s), x + 5, frame.bottom + 34, room, frame.font - 0.5),
            )
        )
    return tuple(marks)


def _if_fits(text: str, x: float, y: float, room: float, font: float) -> Label | None:
    return Label(text, round(x, 1), y) if text_width(text, font) <= room else None


def _points(frame: _Frame, stages: Sequence[StageEnergy], step_wh: float) -> tuple[Point, ...]:
    """Return a point at the end of each stage that drew something; labels from the last one back, as far as they do not meet."""
    ends = [corner for stage, corner in zip(stages, stage_corners(stages)[1:], strict=True) if stage.energy_wh >= NOTHING_WH]
    placed: list[Point] = []
    boxes: list[tuple[float, float, float, float]] = []
    for at_s, energy_wh in reversed(ends):
        x, y = frame.x(at_s), frame.y(energy_wh)
        label = _point_label(frame, x, y, grouped(energy_wh, step_wh), boxes)
        placed.append(Point(x, y, label))
    return tuple(reversed(placed))


def _point_label(frame: _Frame, x: float, y: float, text: str, boxes: list[tuple[float, float, float, float]]) -> Label | None:
    """Return the label up and left of a point, or down and right of it at the left edge; None where it would meet another."""
    font = frame.font + 1
    need = text_width(text, font)
    if x - 10 - need >= frame.left:
        label, left = Label(text, round(x - 10, 1), round(y - 10, 1), "end"), x - 10 - need
    else:
        label, left = Label(text, round(x + 10, 1), round(y + 18, 1), "start"), x + 10
    box = (left - 4, label.y - font, left + need + 4, label.y + 4)
    if label.y > frame.bottom - 2 or any(_meet(box, other) for other in boxes):
        return None
    boxes.append(box)
    return label


def _meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _ladder_title(points: Sequence[Sequence[float]], step_wh: float) -> str:
    """Return the result in a sentence: how much after how long, and how long nothing more was drawn."""
    if not points:
        return "Nothing was read yet."
    end_s, total_wh = points[-1][0], points[-1][1]
    reached_s = next(point[0] for point in points if point[1] >= total_wh - max(0.005 * total_wh, 0.05))
    words = f"{grouped(total_wh, step_wh)} watt-hours after {_spelled(reached_s)}"
    if end_s - reached_s < 60:
        return f"{words}."
    return f"{words}; nothing more in the {_spelled(end_s - reached_s)} after that."


def _spelled(span_s: float) -> str:
    minutes = max(round(span_s / 60), 1)
    return "1 minute" if minutes == 1 else f"{minutes:,} minutes"


def _path(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{x:g},{y:g}" for x, y in points)
