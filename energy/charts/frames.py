"""Where the plot of a drawing lies, what it spans, and the marks along its two axes."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from energy.charts.lettering import span_of, text_width
from energy.charts.shapes import Label, Plot, StageMark, Tick
from energy.facts import StageEnergy
from energy.runs.domain.ladder import stage_corners
from energy.words import Language
from energy.words.figures import format_minutes
from energy.words.titles import batch_name, stage_name

_SIZES = {
    "wide": (660.0, 284.0, 48.0, 648.0, 30.0, 242.0, 13.5, 5),
    "narrow": (340.0, 262.0, 44.0, 330.0, 30.0, 214.0, 14.0, 4),
    "frame": (400.0, 246.0, 48.0, 390.0, 28.0, 200.0, 14.5, 4),
    "share": (340.0, 164.0, 46.0, 332.0, 26.0, 124.0, 13.5, 3),
}
"""Width and height of the view box; left, right, top and bottom of the plot; size of the type; how many lines at most."""

_NOTHING = 1e-6
"""What is lower than this is drawn as nothing: no display shows it, and the steps of its axis would run out of digits."""


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
class Frame(Plot):
    """A plot and what it spans: from nothing to ``end_s`` and to ``highest`` (Wh, or W)."""

    end_s: float
    highest: float
    step: float

    @classmethod
    def around(cls, end_s: float, highest: float, size: str) -> Frame:
        """Return the frame of a size that spans so much time and reaches to a round value above the highest one."""
        width, height, left, right, top, bottom, font, lines = _SIZES[size]
        reached = highest if highest > _NOTHING else 1.0
        step = nice_step(reached, int(lines))
        reaches = math.ceil(reached / step - 1e-9) * step
        return cls(width, height, left, right, top, bottom, font, end_s or 1.0, reaches, step)

    def x(self, at_s: float) -> float:
        """Return where a moment stands."""
        return round(self.left + (self.right - self.left) * at_s / self.end_s, 1)

    def y(self, value: float) -> float:
        """Return where a value stands."""
        return round(self.bottom - (self.bottom - self.top) * value / self.highest, 1)


def size_of(narrow: bool, size: str = "") -> str:
    """Return the size of a drawing: as asked for, else the one for a phone or for a wide page."""
    return size or ("narrow" if narrow else "wide")


def value_ticks(frame: Frame) -> tuple[Tick, ...]:
    """Return the lines across the plot at round values."""
    values = [index * frame.step for index in range(round(frame.highest / frame.step) + 1)]
    return tuple(Tick(frame.y(one), Label(f"{one:,g}", frame.left - 8, round(frame.y(one) + 5, 1), "end")) for one in values)


def minute_ticks(frame: Frame) -> tuple[Tick, ...]:
    """Return the minutes below the axis, at most seven, none of which meet."""
    total = frame.end_s / 60
    steps = (1, 2, 5, 10, 15, 20, 30, 60, 120, 240, 480, 1440, math.ceil(total / 2) or 1)
    found = (_minutes_by(frame, step) for step in steps if total / step <= 6)
    return next((ticks for ticks in found if _apart(ticks, frame.font_size)), _minutes_by(frame, math.ceil(total) or 1)[:1])


def _minutes_by(frame: Frame, step: int) -> tuple[Tick, ...]:
    minutes = range(0, math.floor(frame.end_s / 60 + 1e-9) + 1, step)
    return tuple(Tick(frame.x(minute * 60), _minute(frame, minute)) for minute in minutes)


def _minute(frame: Frame, minute: int) -> Label:
    words, x = format_minutes(minute * 60), frame.x(minute * 60)
    half = text_width(words, frame.font_size) / 2
    anchor = "end" if x + half > frame.width else "middle" if x - half > frame.left - 8 else "start"
    return Label(words, x, frame.bottom + 18, anchor)


def _apart(ticks: Sequence[Tick], font: float) -> bool:
    spans = [span_of(tick.label, font) for tick in ticks]
    return all(before[1] + 6 <= after[0] for before, after in pairwise(spans))


def stage_marks(
    frame: Frame, stages: Sequence[StageEnergy], rounded_s: Callable[[float], float] = float
) -> tuple[StageMark, ...]:
    """Return where each stage starts, with its name and its minutes below the axis where they have room."""
    marks = []
    corners = stage_corners(stages)
    for stage, (start_s, _), (end_s, _) in zip(stages, corners, corners[1:], strict=False):
        x, end = frame.x(start_s), frame.x(end_s)
        room = (frame.width if end >= frame.right else end) - x - 5
        name = _if_fits(stage_name(stage), x + 5, frame.bottom + 18, room, frame.font_size)
        minutes = (
            _if_fits(format_minutes(rounded_s(stage.span_s)), x + 5, frame.bottom + 34, room, frame.font_size) if name else None
        )
        marks.append(StageMark(x=x, width=round(end - x, 1), kind=stage.kind, name=name, minutes=minutes))
    return tuple(marks)


def batch_marks(frame: Frame, stages: Sequence[StageEnergy], batches: int, language: Language) -> tuple[StageMark, ...]:
    """Return where each stage starts, without its name, and below the first of each batch that batch's number."""
    plain = [replace(mark, name=None, minutes=None) for mark in stage_marks(frame, stages)]
    each = len(plain) // batches
    names = [batch_name(number + 1, language) for number in range(batches)]
    rooms = [sum(mark.width for mark in plain[first : first + each]) - 5 for first in range(0, len(plain), each)]
    fits = all(text_width(name, frame.font_size) <= room for name, room in zip(names, rooms, strict=True))
    for number, name in enumerate(names):
        words = name if fits else f"{number + 1}"
        mark, room = plain[number * each], rooms[number]
        plain[number * each] = replace(mark, name=_if_fits(words, mark.x + 5, frame.bottom + 18, room, frame.font_size))
    return tuple(plain)


def _if_fits(text: str, x: float, y: float, room: float, font: float) -> Label | None:
    return Label(text, round(x, 1), y) if text_width(text, font) <= room else None


def corners_of(points: Sequence[tuple[float, float]]) -> str:
    """Return points as the attribute of a polyline holds them."""
    return " ".join(f"{x:g},{y:g}" for x, y in points)
