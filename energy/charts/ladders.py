"""The ladder: watt-hours climbing over minutes."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence

from energy.charts.frames import Frame, batch_marks, corners_of, minute_ticks, nice_step, size_of, stage_marks, value_ticks
from energy.charts.lettering import text_width
from energy.charts.shapes import Dot, Label, Ladder, Point
from energy.facts import StageEnergy
from energy.runs.domain.ladder import stage_corners
from energy.words import Language
from energy.words.figures import NOTHING_WH
from energy.words.titles import Fineness, ladder_title, unnamed_words

__all__ = ["ladder", "nice_step"]

_DOT_GAP = 9.0
"""Dots nearer to each other than this run into one another: the later ones are left out."""


def ladder(
    points: Sequence[Sequence[float]],
    stages: Sequence[StageEnergy] = (),
    *,
    language: Language,
    narrow: bool = False,
    fine: Fineness = Fineness(),  # noqa: B008 - frozen
    size: str = "",
    batches: int = 1,
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
    language : str
        That of its title.
    narrow : bool
        The variant for a phone.
    fine : Fineness
        How fine its figures are: an estimate knows no single watt-hours.
    size : str
        Another variant: ``frame`` for a picture of a video's size, ``share`` for a small one.
    batches : int
        How many times the stages go round; where their names have no room, the batches are numbered instead.
    ons_s, resets_s : sequence of float
        When the element came on, and when the counter was set back. [s]

    Returns
    -------
    Ladder
    """
    frame = _frame(points, stages, size_of(narrow, size))
    marks = stage_marks(frame, stages, fine.rounded_s)
    drew = [stage.energy_wh >= NOTHING_WH for stage in stages]
    numbered = batches > 1 and not all(mark.name for mark, drawn in zip(marks, drew, strict=True) if drawn)
    marks = batch_marks(frame, stages, batches, language) if numbered else marks
    first = list(zip(stages, marks, strict=True))[: len(stages) // batches]
    unnamed = [stage for stage, mark in first if numbered or mark.name is None]
    path = [(frame.x(point[0]), frame.y(point[1])) for point in points] or [(frame.left, frame.bottom)]
    return Ladder(
        **frame.edges,
        watt_hours=value_ticks(frame),
        minutes=() if stages else minute_ticks(frame),
        stages=marks,
        line=corners_of(path),
        area=corners_of([(path[0][0], frame.bottom), *path, (path[-1][0], frame.bottom)]),
        points=_points(frame, stages, fine),
        title=ladder_title(points, fine, language),
        unnamed=unnamed_words(unnamed, fine, language, batches=batches if numbered else 1),
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


def _points(frame: Frame, stages: Sequence[StageEnergy], fine: Fineness) -> tuple[Point, ...]:
    """Return a point at the end of each stage that drew something; labels from the last one back, as far as they do not meet."""
    ends = [corner for stage, corner in zip(stages, stage_corners(stages)[1:], strict=True) if stage.energy_wh >= NOTHING_WH]
    placed: list[Point] = []
    boxes: list[tuple[float, float, float, float]] = []
    for at_s, energy_wh in reversed(ends):
        x, y = frame.x(at_s), frame.y(energy_wh)
        label = _point_label(frame, x, y, fine.energy(energy_wh), boxes)
        placed.append(Point(x, y, label))
    return tuple(reversed(placed))


def _point_label(frame: Frame, x: float, y: float, text: str, boxes: list[tuple[float, float, float, float]]) -> Label | None:
    """Return the label up and left of a point, or down and right of it at the left edge; None where it would meet another."""
    font = frame.font_size + 1
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
