"""One cook as it was read: its readings, its stages, and the window that they span."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

from energy.domain.method import Measure
from energy.domain.samples import Limits, MeterSpec, Sample, StageSpan
from energy.domain.watts import power_points, usual_interval_s

DENSE_S = 60.0
"""Watts at longer intervals than this neither cross-check a counter nor stand for the energy without a warning. [s]"""


@dataclass(frozen=True)
class Cook:
    """What a run's figures are worked out from; ``held`` says how a log of watts is to be read, None by its rhythm."""

    samples: tuple[Sample, ...]
    stages: tuple[StageSpan, ...]
    meter: MeterSpec
    limits: Limits
    held: bool | None = None

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


def holes(cook: Cook, measure: Measure) -> list[tuple[float, float]]:
    """Return the gaps in an evenly sampled log of watts: five times the usual interval, and a minute at least. [s, s]"""
    if measure.method != "watts" or measure.held:
        return []
    times = [at_s for at_s in measure.track.times_s if cook.covers(at_s)]
    limit_s = max(5 * usual_interval_s(times), DENSE_S)
    return [(before, after) for before, after in pairwise(times) if after - before > limit_s]
