"""The ladder: watt-hours climbing over minutes."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from energy.charts.frames import Frame, corners_of, minute_ticks, nice_step, size_of, stage_marks, value_ticks
from energy.charts.lettering import grouped, spelled, text_width
from energy.charts.shapes import Dot, Label, Ladder, Point
from energy.domain.facts import StageEnergy
from energy.domain.ladder import stage_corners
from energy.domain.words import NOTHING_WH

__all__ = ["ladder", "nice_step"]

_DOT_GAP = 9.0
"""Dots nearer to each other than this run into one another: the later ones are left out."""


def ladder(
    points: Sequence[Sequence[float]],
    stages: Sequence[StageEnergy] = (),
    *,
    narrow: bool = False,
    step_wh: float = 1.0,
    size: str = "",
    ons_s: Sequence[float] = (),
    resets_s: Sequence[float] = (),
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
    size : str
        Another variant: ``frame`` for a picture of a video's size, ``share`` for a small one.
    ons_s, resets_s : sequence of float
        When the element came on, and when the counter was set back. [s]

    Returns
    -------
    Ladder
    """
    frame = _frame(points, stages, size_of(narrow, size))
    path = [(frame.x(point[0]), frame.y(point[1])) for point in points] or [(frame.left, frame.bottom)]
    return Ladder(
        width=frame.width,
        height=frame.height,
        left=frame.left,
        right=frame.right,
        top=frame.top,
        bottom=frame.bottom,
        font_size=frame.font,
        watt_hours=value_ticks(frame),
        minutes=() if stages else minute_ticks(frame),
        stages=stage_marks(frame, stages),
        line=corners_of(path),
        area=corners_of([(path[0][0], frame.bottom), *path, (path[-1][0], frame.bottom)]),
        points=_points(frame, stages, step_wh),
        title=_ladder_title(points, step_wh),
        narrow=narrow,
        ons=_dots(frame, points, ons_s),
        resets=_dots(frame, points, resets_s),
    )


def _frame(points: Sequence[Sequence[float]], stages: Sequence[StageEnergy], size: str) -> Frame:
    last_s, last_wh = stage_corners(stages)[-1]
    end_s = max([last_s, *(point[0] for point in points)])
    return Frame.around(end_s, max([last_wh, *(point[1] for point in points)]), size)


def _dots(frame: Frame, points: Sequence[Sequence[float]], moments_s: Sequence[float]) -> tuple[Dot, ...]:
    """Return marks on the climb at these moments, those left out that would run into the one before."""
    found: list[Dot] = []
    for at_s in sorted(moments_s) if points else ():
        x = frame.x(at_s)
        if frame.left <= x <= frame.right and (not found or x - found[-1].x >= _DOT_GAP):
            found.append(Dot(x, frame.y(_climbed_at(points, at_s))))
    return tuple(found)


def _climbed_at(points: Sequence[Sequence[float]], at_s: float) -> float:
    after = bisect_right([point[0] for point in points], at_s)
    if after in (0, len(points)):
        return points[min(after, len(points) - 1)][1]
    (before_s, before_wh), (after_s, after_wh) = points[after - 1][:2], points[after][:2]
    return before_wh + (after_wh - before_wh) * (at_s - before_s) / (after_s - before_s)


def _points(frame: Frame, stages: Sequence[StageEnergy], step_wh: float) -> tuple[Point, ...]:
    """Return a point at the end of each stage that drew something; labels from the last one back, as far as they do not meet."""
    ends = [corner for stage, corner in zip(stages, stage_corners(stages)[1:], strict=True) if stage.energy_wh >= NOTHING_WH]
    placed: list[Point] = []
    boxes: list[tuple[float, float, float, float]] = []
    for at_s, energy_wh in reversed(ends):
        x, y = frame.x(at_s), frame.y(energy_wh)
        label = _point_label(frame, x, y, grouped(energy_wh, step_wh), boxes)
        placed.append(Point(x, y, label))
    return tuple(reversed(placed))


def _point_label(frame: Frame, x: float, y: float, text: str, boxes: list[tuple[float, float, float, float]]) -> Label | None:
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
    words = f"{grouped(total_wh, step_wh)} watt-hours after {spelled(reached_s)}"
    if end_s - reached_s < 60:
        return f"{words}."
    return f"{words}; nothing more in the {spelled(end_s - reached_s)} after that."
