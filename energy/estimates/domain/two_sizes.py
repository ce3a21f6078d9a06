"""Cooks of two or more sizes: a straight line through them, which needs no physics and replaces the heat balance."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

from energy.estimates.domain.repeats import t_95


@dataclass(frozen=True)
class SizedCook:
    """One size: how much food against the written amount, what it took and how sure that is (k = 2). [-, Wh, Wh]"""

    k: float
    energy_wh: float
    uncertainty_wh: float


@dataclass(frozen=True)
class SizeLine:
    """energy = start + slope k, with what is needed to say how sure it is."""

    start_wh: float
    slope_wh: float
    mean_k: float
    spread_k: float
    n: int
    residual_wh: float
    meter_wh: float

    def at(self, k: float) -> float:
        """Return what k times the food takes. [Wh]"""
        return self.start_wh + self.slope_wh * k

    def half_width_wh(self, k: float) -> float:
        """Return half of the interval that another cook of this size falls into. [Wh]

        Notes
        -----
        From three sizes on t s sqrt(1 + 1/n + (k - mean)^2 / S) with n - 2 degrees of freedom; never below what the meters
        alone leave open, which is all that two sizes can say.
        """
        lever = math.sqrt(1 / self.n + (k - self.mean_k) ** 2 / self.spread_k)
        meters_wh = self.meter_wh * lever
        if self.n < 3:
            return meters_wh
        return max(t_95(self.n - 2) * self.residual_wh * math.sqrt(1 + lever**2), meters_wh)


def size_line(cooks: Sequence[SizedCook]) -> SizeLine | None:
    """Return the least-squares line through cooks of two or more sizes; None where all are of one size.

    Parameters
    ----------
    cooks : sequence of SizedCook
        What was measured, each with its size.

    Returns
    -------
    SizeLine or None
        None too where more food took less: then cooks differ more than sizes, and a line would mislead.

    References
    ----------
    Ordinary least squares; the interval of a new observation as in JCGM 100:2008, H.3 (calibration line).

    Examples
    --------
    >>> line = size_line([SizedCook(0.5, 150, 6), SizedCook(1.0, 240, 8)])
    >>> line.at(2), line.start_wh
    (420.0, 60.0)
    """
    n = len(cooks)
    mean_k = fmean(cook.k for cook in cooks) if cooks else 0.0
    spread_k = sum((cook.k - mean_k) ** 2 for cook in cooks)
    if spread_k <= 1e-12:
        return None
    mean_wh = fmean(cook.energy_wh for cook in cooks)
    slope_wh = sum((cook.k - mean_k) * (cook.energy_wh - mean_wh) for cook in cooks) / spread_k
    if slope_wh < 0:
        return None
    start_wh = mean_wh - slope_wh * mean_k
    off = [cook.energy_wh - start_wh - slope_wh * cook.k for cook in cooks]
    residual_wh = math.sqrt(sum(one**2 for one in off) / (n - 2)) if n > 2 else 0.0
    return SizeLine(start_wh, slope_wh, mean_k, spread_k, n, residual_wh, max(cook.uncertainty_wh for cook in cooks))
