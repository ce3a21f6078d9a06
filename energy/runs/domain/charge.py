"""Energy from the fall of a battery's charge: what is left when there is neither counter nor watts."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from energy.runs.domain.samples import Sample
from energy.runs.domain.track import EnergyTrack


def charge_points(samples: Sequence[Sample]) -> list[tuple[float, float]]:
    """Return (moment, charge) in the order of time; at one moment the higher charge first."""
    shown = [(sample.at_s, sample.charge_pct) for sample in samples if sample.charge_pct is not None]
    return sorted(shown, key=lambda pair: (pair[0], -pair[1]))


def charge_rises(points: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return (moment, by how much) where the charge rose between two readings. [s, %]"""
    return [(after_s, after - before) for (_, before), (after_s, after) in pairwise(points) if after > before]


def charge_track(points: Sequence[tuple[float, float]], capacity_wh: float) -> EnergyTrack:
    """Return the energy that left a battery, from the falls of its charge.

    Parameters
    ----------
    points : sequence of (float, float)
        Moment and charge in per cent, in the order of time; at least one.
    capacity_wh : float, > 0
        What the full battery holds. [Wh]

    Returns
    -------
    EnergyTrack
        Watt-hours out of the battery since the first reading; a rise adds nothing. [Wh]

    Raises
    ------
    ValueError
        If there is no point, or the capacity is not above zero.

    Examples
    --------
    >>> round(charge_track([(0, 100), (1800, 62)], 768).sums_wh[-1], 1)
    291.8
    """
    if not points or capacity_wh <= 0:
        raise ValueError("a charge needs at least one reading and a capacity above zero")
    sums = [0.0]
    for (_, before), (_, after) in pairwise(points):
        sums.append(sums[-1] + max(before - after, 0) * capacity_wh / 100)
    return EnergyTrack(tuple(at_s for at_s, _ in points), tuple(sums))
