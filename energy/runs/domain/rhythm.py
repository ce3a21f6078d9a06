"""How a log came, before anything was left out of it: held or sampled, how often it was read, and where it was silent."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from energy.runs.domain.watts import ALIKE, usual_interval_s

SILENT_S = 60.0
"""A silence shorter than this is none. [s]"""

_INTERVALS = 5
_OFF = 0.05
_FLICKERS = 0.3
_STEADY_S = 1800.0
_USUALLY = 0.9
_ENOUGH = 5000

Hole = tuple[float, float]
"""From when to when nothing was read. [s, s]"""


@dataclass(frozen=True)
class Came:
    """How a log came, judged on the file as it was.

    Attributes
    ----------
    held : bool or None
        Whether its watts are changes that hold; None where their rhythm is to tell.
    step_s : float
        The usual interval of its watts; 0 where it is not known. [s]
    holes : tuple of (float, float)
        Where it was silent, by the method that its energy is made with. [s, s]
    method : str
        ``counter`` or ``watts``: what the holes are holes of; empty where nothing is known.
    """

    held: bool | None = None
    step_s: float = 0.0
    holes: tuple[Hole, ...] = ()
    method: str = ""


def silences(times_s: Sequence[float], watts: Sequence[float], *, held: bool) -> list[Hole]:
    """Return where a log of watts was silent for longer than it usually is. [s, s]

    Parameters
    ----------
    times_s, watts : sequence of float
        In the order of time. [s, W]
    held : bool
        Whether it is a log of changes.

    Notes
    -----
    Samples: five usual intervals, and a minute at least. A log of changes may be silent while nothing is drawn. While something
    is drawn its silence is a hole after five times what nine of ten intervals keep to, where it tells each flicker of the watts;
    where it tells only switchings, not before half an hour.

    Examples
    --------
    >>> silences([0, 10, 20, 30, 400, 410], [5, 5, 5, 5, 5, 5], held=False)
    [(30, 400)]
    >>> silences([0, 20, 40, 60, 30_000], [600, 0, 600, 0, 600], held=True)
    []
    >>> silences([0, 20, 40, 60, 30_000], [600, 0, 600, 590, 600], held=True)
    [(60, 30000)]
    """
    if len(times_s) < 2:
        return []
    limit_s = (
        _limit_of_changes_s(times_s[:_ENOUGH], watts[:_ENOUGH])
        if held
        else max(_INTERVALS * usual_interval_s(times_s[:_ENOUGH]), SILENT_S)
    )
    off_w = _OFF * max(watts) if held else -1.0
    gaps = zip(pairwise(times_s), watts, strict=False)
    return [(before, after) for (before, after), power in gaps if after - before > limit_s and power > off_w]


def _limit_of_changes_s(times_s: Sequence[float], watts: Sequence[float]) -> float:
    """Return how long a log of changes may be silent while something is drawn. [s]"""
    highest = max(watts)
    rows = zip(pairwise(times_s), pairwise(watts), strict=True)
    drawing = [(t1 - t0, abs(v1 - v0) <= ALIKE * highest) for (t0, t1), (v0, v1) in rows if v0 > _OFF * highest]
    if not drawing:
        return _STEADY_S
    spans = sorted(span for span, _ in drawing)
    usual_s = _INTERVALS * spans[min(int(_USUALLY * len(spans)), len(spans) - 1)] if len(spans) >= 10 else 0.0
    flickers = sum(small for _, small in drawing) >= _FLICKERS * len(drawing)
    return max(usual_s, SILENT_S if flickers and len(spans) >= 10 else _STEADY_S)
