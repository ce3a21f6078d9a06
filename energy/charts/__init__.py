"""Geometry of the drawings of a run: strips, ladders, power curves, and several runs over each other. Pure Python."""

from energy.charts.climbs import DASHES, NamedClimb, ladders_together
from energy.charts.curves import power_curve
from energy.charts.ladders import ladder
from energy.charts.shapes import (
    Climb,
    Dot,
    Label,
    Ladder,
    Ladders,
    Point,
    PowerCurve,
    Segment,
    StageMark,
    Strip,
    Tick,
)
from energy.charts.strip_words import what_costs_what
from energy.charts.strips import strip

__all__ = [
    "DASHES",
    "Climb",
    "Dot",
    "Label",
    "Ladder",
    "Ladders",
    "NamedClimb",
    "Point",
    "PowerCurve",
    "Segment",
    "StageMark",
    "Strip",
    "Tick",
    "ladder",
    "ladders_together",
    "power_curve",
    "strip",
    "what_costs_what",
]
