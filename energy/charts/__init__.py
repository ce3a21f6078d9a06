"""Geometry of the two drawings of a run: the strip (stages side by side) and the ladder (watt-hours climbing). Pure Python."""

from energy.charts.ladders import ladder
from energy.charts.shapes import Label, Ladder, Point, Segment, StageMark, Strip, Tick
from energy.charts.strips import strip

__all__ = ["Label", "Ladder", "Point", "Segment", "StageMark", "Strip", "Tick", "ladder", "strip"]
