"""A stage as a part of a band: how long, how much while its element is on, and for which share of the time. Pure."""

from __future__ import annotations

from energy.facts import StageEnergy
from kitchen.domain.band import BandPart

_OFF_W = 5.0
_STEADY = 0.85
"""From which share of its peak a stage's mean is drawn as one block: below it the element ticks."""


def heat_of(stage: StageEnergy) -> str:
    """Return whether the element was ``on``, ``cycling`` or ``off`` in a stage."""
    if stage.mean_w < _OFF_W:
        return "off"
    return "cycling" if stage.cycling else "on"


def stage_part(stage: StageEnergy, *, measured: bool = True) -> BandPart:
    """Return a stage as it is drawn over its time; the doubt of an estimate is what its energy may be less or more."""
    if heat_of(stage) == "off":
        return BandPart(round(stage.span_s, 1), on=0.0, power_w=0.0)
    peak_w = max(stage.peak_w or 0.0, stage.mean_w)
    ticks = stage.mean_w < _STEADY * peak_w
    doubt = 0.0 if measured or not stage.energy_wh else 2 * stage.uncertainty_wh / (stage.energy_wh + stage.uncertainty_wh)
    return BandPart(
        round(stage.span_s, 1),
        round(peak_w if ticks else stage.mean_w, 1),
        round(stage.mean_w / peak_w, 4) if ticks else 1.0,
        round(min(doubt, 1.0), 3),
    )
