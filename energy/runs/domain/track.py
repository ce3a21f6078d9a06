"""Watt-hours as they climb over a run, whatever they were read from, so that any stretch of the run can be cut out of them."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True)
class EnergyTrack:
    """Watt-hours so far at a row of moments.

    ``times_s`` never falls, ``sums_wh`` never falls, both have the same length. Between two moments the sum is linear; where
    ``powers_w`` is given (watts sampled at the moments), the power is linear and the sum follows it.
    """

    times_s: tuple[float, ...]
    sums_wh: tuple[float, ...]
    powers_w: tuple[float, ...] = ()

    @cached_property
    def starts_s(self) -> float:
        """The first moment that the track knows. [s]"""
        return self.times_s[0]

    @cached_property
    def ends_s(self) -> float:
        """The last moment that the track knows. [s]"""
        return self.times_s[-1]

    def at(self, moment_s: float) -> float:
        """Return the watt-hours so far; before the first moment the first sum, after the last one the last.

        Examples
        --------
        >>> EnergyTrack((0, 600), (0, 105)).at(300)
        52.5
        """
        after = bisect_right(self.times_s, moment_s)
        if after == 0:
            return self.sums_wh[0]
        if after == len(self.times_s):
            return self.sums_wh[-1]
        return self.sums_wh[after - 1] + self._since(after, moment_s)

    def between(self, start_s: float, end_s: float) -> float:
        """Return the energy from one moment to a later one. [Wh]

        Examples
        --------
        >>> EnergyTrack((0, 600, 720), (0, 105, 118)).between(300, 720)
        65.5
        """
        return max(self.at(end_s) - self.at(start_s), 0.0)

    def step_around(self, moment_s: float) -> float:
        """Return the energy of the step between two readings in which a moment falls; 0 where it falls on or outside them."""
        after = bisect_left(self.times_s, moment_s)
        if after in (0, len(self.times_s)) or self.times_s[after] == moment_s:
            return 0.0
        return self.sums_wh[after] - self.sums_wh[after - 1]

    def nearest_gap_s(self, moment_s: float) -> float:
        """Return how far the nearest reading lies from a moment. [s]"""
        after = bisect_left(self.times_s, moment_s)
        near = self.times_s[max(after - 1, 0) : after + 1]
        return min(abs(moment_s - time) for time in near)

    def _since(self, after: int, moment_s: float) -> float:
        before_s, after_s = self.times_s[after - 1], self.times_s[after]
        past_s, span_s = moment_s - before_s, after_s - before_s
        if not self.powers_w:
            return (self.sums_wh[after] - self.sums_wh[after - 1]) * past_s / span_s
        first_w, last_w = self.powers_w[after - 1], self.powers_w[after]
        here_w = first_w + (last_w - first_w) * past_s / span_s
        return (first_w + here_w) / 2 * past_s / 3600
