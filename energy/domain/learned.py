"""An inverter's efficiency, learned from cooks that were metered at the socket and read on the charge display."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from energy.domain.sources import charge_display_wh

LEAST_FALL_STEPS = 5
"""A fall of fewer steps of the charge display says too little."""

_LIKELY = (0.5, 1.0)


@dataclass(frozen=True)
class BothEnds:
    """One cook: energy at the socket and its expanded uncertainty, the fall of the charge, the time. [Wh, Wh, %, s]"""

    load_wh: float
    uncertainty_wh: float
    fall_pct: float
    span_s: float


@dataclass(frozen=True)
class Learned:
    """An efficiency with its expanded uncertainty, from how many cooks. [-]"""

    value: float
    uncertainty: float
    cooks: int


def learned_efficiency(cooks: Sequence[BothEnds], *, capacity_wh: float, idle_w: float, step_pct: float) -> Learned | None:
    """Return the inverter's efficiency by all cooks together, or None where they say too little or what cannot be.

    Parameters
    ----------
    cooks : sequence of BothEnds
        Cooks metered at the socket, with the fall of the charge.
    capacity_wh : float, > 0
        What the full battery holds. [Wh]
    idle_w : float, >= 0
        What the inverter draws for itself, taken as known. [W]
    step_pct : float, > 0
        The smallest step of the charge display. [%]

    Returns
    -------
    Learned or None

    Notes
    -----
    For each cook E / (dS x capacity - idle x t). They are averaged with the inverse squares of their uncertainties as weights;
    the display's step is what makes them unsure, so many small cooks say as much as one large one. The uncertainty is widened
    where they differ more than that explains (by the root of chi-square over n - 1). A battery that holds less than its label
    makes the efficiency look too high: what is learned holds for this battery as it is labelled.

    References
    ----------
    JCGM 100:2008, 5.1.6 (clause from memory); weighted mean as in the Particle Data Group's review, section 5.2.2 (from memory).

    Examples
    --------
    >>> told = learned_efficiency([BothEnds(213, 5, 26, 31 * 60)], capacity_wh=1024, idle_w=9, step_pct=1)
    >>> round(told.value, 3), round(told.uncertainty, 3), told.cooks
    (0.814, 0.032, 1)
    """
    found = [pair for cook in cooks if (pair := _one(cook, capacity_wh, idle_w, step_pct)) is not None]
    if not found:
        return None
    weights = [1 / u**2 for _, u in found]
    value = sum(weight * one for weight, (one, _) in zip(weights, found, strict=True)) / sum(weights)
    u = 1 / math.sqrt(sum(weights))
    if len(found) > 1:
        chi = sum(((one - value) / own) ** 2 for one, own in found) / (len(found) - 1)
        u *= max(1.0, math.sqrt(chi))
    return Learned(value, 2 * u, len(found)) if _LIKELY[0] <= value <= _LIKELY[1] else None


def _one(cook: BothEnds, capacity_wh: float, idle_w: float, step_pct: float) -> tuple[float, float] | None:
    """Return one cook's efficiency and its standard uncertainty; None where the display moved too little."""
    through_wh = cook.fall_pct / 100 * capacity_wh - idle_w * cook.span_s / 3600
    if cook.fall_pct < LEAST_FALL_STEPS * step_pct or through_wh <= 0 or cook.load_wh <= 0:
        return None
    value = cook.load_wh / through_wh
    u_battery_wh = charge_display_wh(capacity_wh, step_pct)
    return value, math.hypot(cook.uncertainty_wh / 2 / through_wh, value * u_battery_wh / through_wh)
