"""One cook as it was read: its readings, its stages, and the window that they span."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from energy.runs.domain.method import Measure
from energy.runs.domain.rhythm import Came, Hole
from energy.runs.domain.samples import Limits, MeterSpec, Sample, StageSpan
from energy.runs.domain.watts import power_points

DENSE_S = 60.0
"""Watts at longer intervals than this neither cross-check a counter nor stand for the energy without a warning. [s]"""


@dataclass(frozen=True)
class Cook:
    """What a run's figures are worked out from; ``came`` says how a log came, None where its rhythm is to tell."""

    samples: tuple[Sample, ...]
    stages: tuple[StageSpan, ...]
    meter: MeterSpec
    limits: Limits
    came: Came | None = None

    @cached_property
    def _moments_s(self) -> list[float]:
        marks = [moment for stage in self.stages for moment in (stage.start_s, stage.end_s)]
        return marks or [sample.at_s for sample in self.samples] or [0.0]

    @cached_property
    def start_s(self) -> float:
        """The start of the first stage, or the first reading where no stage is marked. [s]"""
        return min(self._moments_s)

    @cached_property
    def end_s(self) -> float:
        """The end of the last stage, or the last reading where no stage is marked. [s]"""
        return max(self._moments_s)

    @cached_property
    def watts(self) -> list[tuple[float, float]]:
        """Moment and watts, in the order of time. [s, W]"""
        return power_points(self.samples)

    def covers(self, moment_s: float) -> bool:
        """Return whether a moment lies inside the run."""
        return self.start_s <= moment_s <= self.end_s


def steps(measure: Measure) -> list[tuple[float, float, float]]:
    """Return start, end and energy of each step between two readings. [s, s, Wh]"""
    readings = zip(measure.track.times_s, measure.track.sums_wh, strict=True)
    return [(before_s, after_s, after - before) for (before_s, before), (after_s, after) in pairwise(readings)]


def holes(cook: Cook, measure: Measure) -> list[Hole]:
    """Return the parts of the run of which the log tells nothing, the longest first. [s, s]"""
    inside = [(max(start_s, cook.start_s), min(end_s, cook.end_s)) for start_s, end_s in measure.holes]
    return sorted((hole for hole in inside if hole[1] > hole[0]), key=lambda hole: hole[0] - hole[1])
