"""What one per cent of a battery's charge gives at the socket, learned from cooks that were read at both ends."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

LEAST_FALL_STEPS = 5
"""A fall of fewer steps of the charge display says too little."""


@dataclass(frozen=True)
class BothEnds:
    """One cook: energy at the socket and its expanded uncertainty, the fall of the charge, the time. [Wh, Wh, %, s]"""

    load_wh: float
    uncertainty_wh: float
    fall_pct: float
    span_s: float


@dataclass(frozen=True)
class GivenPerPct:
    """What one per cent of the charge gives at the socket, its expanded uncertainty, and from how many cooks. [Wh, Wh, -]"""

    wh: float
    uncertainty_wh: float
    cooks: int


def given_per_pct(cooks: Sequence[BothEnds], *, inverter_efficiency: float, idle_w: float, step_pct: float) -> GivenPerPct | None:
    """Return what one per cent of the charge gives by all cooks together, or None where they say too little.

    Parameters
    ----------
    cooks : sequence of BothEnds
        Cooks metered at the socket, with the fall of the charge.
    inverter_efficiency : float, 0 < x <= 1
        With which its own draw is seen at the socket. [-]
    idle_w : float, >= 0
        What the inverter draws for itself, taken as known. [W]
    step_pct : float, > 0
        The smallest step of the charge display. [%]

    Returns
    -------
    GivenPerPct or None

    Notes
    -----
    For each cook (E + efficiency x idle x t) / dS. They are averaged with the inverse squares of their uncertainties as weights;
    the display's step (step / sqrt(6) for a fall) makes them unsure, so many small cooks say as much as one large one. The
    uncertainty is widened where they differ more than that explains (by the root of chi-square over n - 1). Neither what the
    inverter loses nor what the battery truly holds is told by it, and neither is needed: both are in it.

    References
    ----------
    JCGM 100:2008, 5.1.6 (clause from memory); weighted mean as in the Particle Data Group's review, section 5.2.2 (from memory).

    Examples
    --------
    213 Wh at the socket in 31 minutes took 26 % of the charge; 9 W were the inverter's own:

    >>> told = given_per_pct([BothEnds(213, 5, 26, 31 * 60)], inverter_efficiency=0.88, idle_w=9, step_pct=1)
    >>> round(told.wh, 2), round(told.uncertainty_wh, 2), told.cooks
    (8.35, 0.33, 1)
    """
    found = [pair for cook in cooks if (pair := _of_cook(cook, inverter_efficiency, idle_w, step_pct)) is not None]
    if not found:
        return None
    weights = [1 / u**2 for _, u in found]
    value = sum(weight * one for weight, (one, _) in zip(weights, found, strict=True)) / sum(weights)
    u = 1 / math.sqrt(sum(weights))
    if len(found) > 1:
        chi = sum(((one - value) / own) ** 2 for one, own in found) / (len(found) - 1)
        u *= max(1.0, math.sqrt(chi))
    return GivenPerPct(value, 2 * u, len(found))


def _of_cook(cook: BothEnds, efficiency: float, idle_w: float, step_pct: float) -> tuple[float, float] | None:
    """Return one cook's watt-hours for each per cent, and their standard uncertainty; None where the display moved too little."""
    if cook.fall_pct < LEAST_FALL_STEPS * step_pct or cook.load_wh <= 0:
        return None
    value = (cook.load_wh + efficiency * idle_w * cook.span_s / 3600) / cook.fall_pct
    u_fall_pct = step_pct / math.sqrt(6)
    return value, math.hypot(cook.uncertainty_wh / 2, value * u_fall_pct) / cook.fall_pct
