"""Geometry of the drawings of a run: strips, ladders, power curves, and several runs over each other. Pure Python."""

from energy.charts.climbs import DASHES, NamedClimb, ladders_together
from energy.charts.curves import power_curve
from energy.charts.ink import stage_part
from energy.charts.ladders import ladder
from energy.charts.shapes import (
    Ladder,
    Ladders,
    PowerCurve,
    Strip,
)
from energy.charts.strips import Scale, scale_of, strip

__all__ = [
    "DASHES",
    "Ladder",
    "Ladders",
    "NamedClimb",
    "PowerCurve",
    "Scale",
    "Strip",
    "ladder",
    "ladders_together",
    "power_curve",
    "scale_of",
    "stage_part",
    "strip",
]
