"""What the drawings of a run are made of, in the units of an SVG view box.

The templates in ``templates/energy/charts`` draw what stands here and nothing else. Positions are rounded to tenths.
"""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import Any

from kitchen.domain.band import DrawnBand


@dataclass(frozen=True)
class Plot:
    """Where a plot lies in its view box: the box's size, the four edges, and the size of the type."""

    width: float
    height: float
    left: float
    right: float
    top: float
    bottom: float
    font_size: float

    @property
    def edges(self) -> dict[str, Any]:
        """What another drawing of the same plot begins with."""
        return {field.name: getattr(self, field.name) for field in fields(Plot)}


@dataclass(frozen=True)
class Label:
    """A piece of text: its baseline's position and its anchor (``start``, ``middle`` or ``end``)."""

    text: str
    x: float
    y: float
    anchor: str = "start"


@dataclass(frozen=True)
class Limit:
    """What a source gives: a dotted line at ``y`` in pieces (from, to), and its label."""

    y: float
    pieces: tuple[tuple[float, float], ...]
    label: Label


@dataclass(frozen=True)
class Strip:
    """A cook's stages side by side: wide is minutes, tall is watts. ``title`` states the result in a sentence.

    Labels and ``drawn`` count from ``top`` downwards: watt-hours above the ink, watts inside it, names and minutes below. The
    stages whose names have no room are listed in ``omitted``.
    """

    width: float
    height: float
    top: float
    font_size: float
    drawn: DrawnBand
    energies: tuple[Label, ...]
    peaks: tuple[Label, ...]
    names: tuple[Label, ...]
    minutes: tuple[Label, ...]
    title: str
    limit: Limit | None = None
    omitted: tuple[str, ...] = ()


@dataclass(frozen=True)
class Tick:
    """A line across the plot at ``at`` (x for minutes, y for watt-hours) and its label."""

    at: float
    label: Label


@dataclass(frozen=True)
class StageMark:
    """Where a stage starts: a dashed line at ``x``, its name and its minutes below the axis; None where there is no room."""

    x: float
    width: float
    kind: str
    name: Label | None
    minutes: Label | None


@dataclass(frozen=True)
class Point:
    """A ringed point at the end of a stage and the watt-hours so far; no label where there is no room."""

    x: float
    y: float
    label: Label | None


@dataclass(frozen=True)
class Dot:
    """A small mark on the climb: a moment at which the element came on, or at which the counter was set back."""

    x: float
    y: float


@dataclass(frozen=True)
class Ladder(Plot):
    """Watt-hours climbing over minutes.

    ``line`` and ``area`` are the ``points`` of a polyline and of a polygon; ``watt_hours`` are the horizontal lines, ``stages``
    the marks below, ``unnamed`` says which stages have no room for a name; ``narrow`` says which variant this is. ``ons`` are
    dots where the element came on, ``resets`` diamonds where the counter was set back.
    """

    watt_hours: tuple[Tick, ...]
    minutes: tuple[Tick, ...]
    stages: tuple[StageMark, ...]
    line: str
    area: str
    points: tuple[Point, ...]
    title: str
    unnamed: str = ""
    narrow: bool = False
    ons: tuple[Dot, ...] = ()
    resets: tuple[Dot, ...] = ()


@dataclass(frozen=True)
class PowerCurve(Plot):
    """Watts over minutes. Each of ``lines`` and ``areas`` is an unbroken stretch; between two of them nothing was read."""

    watts: tuple[Tick, ...]
    minutes: tuple[Tick, ...]
    stages: tuple[StageMark, ...]
    lines: tuple[str, ...]
    areas: tuple[str, ...]
    peak: Point
    title: str


@dataclass(frozen=True)
class ClimbLine:
    """One run's climb among others: its points, the pattern of its dashes (empty: unbroken), and its label at the end.

    ``leader`` is a short line (x1, y1, x2, y2) from the climb's end to its label.
    """

    line: str
    dashes: str
    label: Label
    leader: tuple[float, float, float, float]
    end: Dot


@dataclass(frozen=True)
class Ladders(Plot):
    """Several climbs in one drawing, on one scale."""

    watt_hours: tuple[Tick, ...]
    minutes: tuple[Tick, ...]
    climbs: tuple[ClimbLine, ...]
    title: str
