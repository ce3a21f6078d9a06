"""Which of the readings an energy is made from, and how sure any stretch of it is."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from energy.domain import uncertainty
from energy.domain.charge import charge_points, charge_track
from energy.domain.counter import Fall, counter_track
from energy.domain.samples import MeterSpec, Sample
from energy.domain.track import EnergyTrack
from energy.domain.watts import edges_wh, looks_sampled, power_points, watts_track

NEAR_MARK_S = 5.0
"""A reading this near to a stage's mark was taken for it. [s]"""


@dataclass(frozen=True)
class Measure:
    """The way in which a run was measured: its method, the side it was measured on, its climb and what limits it."""

    method: str
    place: str
    track: EnergyTrack
    step_wh: float
    accuracy_pct: float
    falls: tuple[Fall, ...] = ()
    points: tuple[tuple[float, float], ...] = ()
    held: bool = False

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
        return {
            "display": uncertainty.display_wh(self.step_wh) * math.sqrt(1 + resets),
            "accuracy": uncertainty.accuracy_wh(self.accuracy_pct, energy_wh),
            "marks": uncertainty.together(self.split_at(start_s), self.split_at(end_s)),
            "edges": edges_wh(self.points, start_s, end_s) if sampled else 0.0,
        }

    def expanded_wh(self, start_s: float, end_s: float) -> float:
        """Return the expanded uncertainty of a stretch's energy. [Wh]"""
        return uncertainty.expanded(uncertainty.together(*self.parts(start_s, end_s).values()))


def choose(
    samples: Sequence[Sample],
    meter: MeterSpec,
    *,
    until_s: float | None = None,
    held: bool | None = None,
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
        return Measure("counter", meter.place, track, meter.resolution_wh, meter.accuracy_pct, falls)
    watts = watts_measure(samples, meter, until_s=until_s, held=held)
    if watts is not None:
        return watts
    charges = charge_points(samples)
    if len(charges) >= 2 and capacity_wh:
        step_wh = display_step_pct / 100 * capacity_wh
        return Measure("charge", "battery", charge_track(charges, capacity_wh), step_wh, meter.accuracy_pct)
    return None


def watts_measure(
    samples: Sequence[Sample], meter: MeterSpec, *, until_s: float | None = None, held: bool | None = None
) -> Measure | None:
    """Return the way to measure by watts, where at least two readings show them; ``held`` None judges by their rhythm."""
    points = power_points(samples)
    if len(points) < 2:
        return None
    held = not looks_sampled([at_s for at_s, _ in points]) if held is None else held
    track = watts_track(points, held=held, until_s=until_s)
    return Measure("watts", meter.place, track, 0.0, meter.accuracy_pct, points=tuple(points), held=held)
