"""Which of the readings an energy is made from, and how sure any stretch of it is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.runs.domain import uncertainty
from energy.runs.domain.charge import charge_points, charge_track
from energy.runs.domain.counter import Fall, counter_track, steepest_w
from energy.runs.domain.rhythm import Came, Hole, silences
from energy.runs.domain.samples import MeterSpec, Sample
from energy.runs.domain.track import EnergyTrack
from energy.runs.domain.watts import edges_wh, looks_sampled, power_points, watts_track

NEAR_MARK_S = 5.0
"""A reading this near to a stage's mark was taken for it. [s]"""


@dataclass(frozen=True)
class Measure:
    """The way in which a run was measured: its method, the side it was measured on, its climb and what limits it.

    ``step_s`` is the usual interval of watts that were thinned since; ``holes`` are the times of which the log tells nothing,
    in which up to ``most_w``, the highest watts that it shows elsewhere, may have been drawn. [s; s, s; W]
    """

    method: str
    place: str
    track: EnergyTrack
    step_wh: float
    accuracy_pct: float
    falls: tuple[Fall, ...] = ()
    points: tuple[tuple[float, float], ...] = ()
    held: bool = False
    step_s: float = 0.0
    holes: tuple[Hole, ...] = ()
    most_w: float = 0.0

    def split_at(self, mark_s: float) -> float:
        """Return the standard uncertainty of cutting at a mark: none with a reading within 5 s, or with watts. [Wh]"""
        if self.method == "watts" or self.track.nearest_gap_s(mark_s) <= NEAR_MARK_S:
            return 0.0
        return uncertainty.split_wh(self.track.step_around(mark_s))

    def parts(self, start_s: float, end_s: float) -> dict[str, float]:
        """Return the standard uncertainties of a stretch's energy by where they come from. [Wh]"""
        energy_wh = self.track.between(start_s, end_s)
        resets = sum(start_s < fall.at_s <= end_s for fall in self.falls)
        sampled = self.method == "watts" and not self.held
        parts = {
            "display": uncertainty.display_wh(self.step_wh) * math.sqrt(1 + resets),
            "accuracy": uncertainty.accuracy_wh(self.accuracy_pct, energy_wh),
            "marks": uncertainty.together(self.split_at(start_s), self.split_at(end_s)),
            "edges": edges_wh(self.points, start_s, end_s, self.step_s) if sampled else 0.0,
        }
        hidden_wh = self.hidden_wh(start_s, end_s)
        return {**parts, "holes": hidden_wh / uncertainty.COVERAGE_FACTOR} if hidden_wh else parts

    def hole_wh(self, hole: Hole, start_s: float, end_s: float) -> tuple[float, float]:
        """Return what is counted in a hole between two moments, and the most that may have been drawn there. [Wh, Wh]"""
        low_s, high_s = max(hole[0], start_s), min(hole[1], end_s)
        if high_s <= low_s:
            return 0.0, 0.0
        counted_wh = self.track.between(low_s, high_s)
        return counted_wh, max(self.most_w * (high_s - low_s) / 3600, counted_wh)

    def hidden_wh(self, start_s: float, end_s: float) -> float:
        """Return how far the energy of a stretch may be off by what was drawn in its holes and faults. [Wh]"""
        spans = [self.hole_wh(hole, start_s, end_s) for hole in self.holes]
        faults = [fall for fall in self.falls if not fall.is_reset and start_s < fall.at_s <= end_s]
        open_wh = [max(self.hole_wh((fall.from_s, fall.at_s), start_s, end_s)[1], _twice_wh(fall)) for fall in faults]
        return sum(max(counted, most - counted) for counted, most in spans) + sum(open_wh)

    def expanded_wh(self, start_s: float, end_s: float) -> float:
        """Return the expanded uncertainty of a stretch's energy. [Wh]"""
        return uncertainty.expanded(uncertainty.together(*self.parts(start_s, end_s).values()))


def choose(
    samples: Sequence[Sample],
    meter: MeterSpec,
    *,
    until_s: float | None = None,
    came: Came | None = None,
    capacity_wh: float | None = None,
    display_step_pct: float = 1.0,
) -> Measure | None:
    """Return the way to measure these readings: counter first, then watts, then the charge; None where nothing suffices.

    Examples
    --------
    >>> choose([Sample(0, 0, 700), Sample(600, 105, 690)], MeterSpec()).method
    'counter'
    >>> choose([Sample(0, None, 700), Sample(600, None, 0)], MeterSpec()).method
    'watts'
    >>> choose([Sample(0, charge_pct=100), Sample(600, charge_pct=62)], MeterSpec(), capacity_wh=768).step_wh
    7.68
    >>> choose([Sample(0, 0)], MeterSpec()) is None
    True
    """
    if sum(sample.energy_wh is not None for sample in samples) >= 2:
        track, falls = counter_track(samples)
        holes, most_w = came.holes if came and came.method == "counter" else (), steepest_w(track.times_s, track.sums_wh)
        made = Measure("counter", meter.place, track, meter.resolution_wh, meter.accuracy_pct, falls)
        return replace(made, holes=holes, most_w=most_w)
    watts = watts_measure(samples, meter, until_s=until_s, came=came)
    if watts is not None:
        return watts
    charges = charge_points(samples)
    if len(charges) >= 2 and capacity_wh:
        step_wh = display_step_pct / 100 * capacity_wh
        return Measure("charge", "battery", charge_track(charges, capacity_wh), step_wh, meter.accuracy_pct)
    return None


def _twice_wh(fall: Fall) -> float:
    """Return what may have been counted twice: a counter that falls a little and climbs again passes the same figures. [Wh]"""
    lost_wh = fall.before_wh - fall.after_wh
    return lost_wh if lost_wh < 0.5 * fall.before_wh else 0.0


def watts_measure(
    samples: Sequence[Sample], meter: MeterSpec, *, until_s: float | None = None, came: Came | None = None
) -> Measure | None:
    """Return the way to measure by watts, where at least two readings show them; their rhythm is judged where none is told."""
    points = power_points(samples)
    if len(points) < 2:
        return None
    times, watts = zip(*points, strict=True)
    held = not looks_sampled(times, watts) if came is None or came.held is None else came.held
    track = watts_track(points, held=held, until_s=until_s)
    made = Measure("watts", meter.place, track, 0.0, meter.accuracy_pct, points=tuple(points), held=held, most_w=max(watts))
    if came is not None and came.method == "watts":
        return replace(made, step_s=came.step_s, holes=came.holes)
    step_s = came.step_s if came else 0.0
    return replace(made, step_s=step_s, holes=() if step_s else tuple(silences(times, watts, held=held)))
