"""Several ladders in one drawing: the climbs of several runs on one scale, told apart by dashes and by labels at their ends."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from energy.charts.frames import Frame, corners_of, minute_ticks, size_of, value_ticks
from energy.charts.lettering import text_width
from energy.charts.shapes import ClimbLine, Dot, Label, Ladders
from energy.words import Language
from energy.words.figures import to_step
from energy.words.titles import ladders_title

DASHES = ("", "10 5", "2 5", "14 4 2 4", "6 3", "14 4 2 4 2 4")
"""The patterns of six runs: unbroken, long dashes, dots, dash and dot, short dashes, dash and two dots."""

_BELOW = 4.0
_LEADER = 12.0


@dataclass(frozen=True)
class NamedClimb:
    """A run's climb with the letter that stands for it. [s, Wh]"""

    letter: str
    points: Sequence[Sequence[float]]


def ladders_together(runs: Sequence[NamedClimb], *, language: Language, narrow: bool = False) -> Ladders:
    """Return several climbs in one drawing.

    Parameters
    ----------
    runs : sequence of NamedClimb
        Two to six runs; each climb begins at the run's own start.
    language : str
        That of its title.
    narrow : bool
        The variant for a phone.

    Returns
    -------
    Ladders
        Labels stand in a column at the right, in the order of the watt-hours, pushed apart where ends lie close together.
    """
    ends = [_end(run) for run in runs]
    frame = Frame.around(max(end[0] for end in ends), max(end[1] for end in ends), size_of(narrow))
    words = [f"{run.letter} {to_step(end[1], 1.0)}" for run, end in zip(runs, ends, strict=True)]
    margin = max(text_width(word, frame.font_size + 1) for word in words) + _LEADER + 2
    frame = Frame(**{**vars(frame), "right": round(frame.width - margin, 1)})
    heights = _spread([frame.y(end[1]) for end in ends], frame.font_size + 5, frame.top, frame.bottom)
    return Ladders(
        **frame.edges,
        watt_hours=value_ticks(frame),
        minutes=minute_ticks(frame),
        climbs=tuple(
            _climb(frame, run, word, y, dashes) for run, word, y, dashes in zip(runs, words, heights, DASHES * 2, strict=False)
        ),
        title=ladders_title([(run.letter, *end) for run, end in zip(runs, ends, strict=True)], language),
    )


def _end(run: NamedClimb) -> tuple[float, float]:
    return (run.points[-1][0], run.points[-1][1]) if run.points else (0.0, 0.0)


def _climb(frame: Frame, run: NamedClimb, words: str, label_y: float, dashes: str) -> ClimbLine:
    path = [(frame.x(point[0]), frame.y(point[1])) for point in run.points] or [(frame.left, frame.bottom)]
    x, y = path[-1]
    stem = round(frame.right + _LEADER, 1)
    return ClimbLine(
        line=corners_of(path),
        dashes=dashes,
        label=Label(words, stem + 2, round(label_y + _BELOW, 1)),
        leader=(x, y, stem, round(label_y, 1)),
        end=Dot(x, y),
    )


def _spread(heights: Sequence[float], apart: float, top: float, bottom: float) -> list[float]:
    """Return heights moved as little as it takes to stand apart, from the highest down, then from the lowest up."""
    order = sorted(range(len(heights)), key=lambda index: heights[index])
    placed = list(heights)
    for before, after in pairwise(order):
        placed[after] = max(placed[after], placed[before] + apart)
    floor = max(bottom, top + apart * (len(heights) - 1))
    for index in reversed(order):
        placed[index] = min(placed[index], floor)
        floor = placed[index] - apart
    return placed
