"""Energy from a counter that only climbs: the first choice, because nothing that happens between two readings is lost."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from energy.runs.domain.samples import RESET_NOTE, Sample
from energy.runs.domain.track import EnergyTrack

MOST_W = 60_000.0
"""The supply of a house or a camp gives no more than this. [W]"""

_AT_ONCE_SHARE = 1.5
_NEAR_ZERO = 0.02
_SAME = 0.05


@dataclass(frozen=True)
class Fall:
    """A counter that showed less than before.

    ``is_reset`` False: it fell too little to have begun again, so the energy between the two readings is not known; ``from_s``
    is when it was last read before.
    """

    at_s: float
    before_wh: float
    after_wh: float
    from_s: float = 0.0
    is_reset: bool = True


def falls_in(times_s: Sequence[float], values_wh: Sequence[float], told_s: Collection[float] = ()) -> tuple[Fall, ...]:
    """Return where a counter fell, and whether it began again there.

    Parameters
    ----------
    times_s, values_wh : sequence of float
        Readings in the order of time. [s, Wh]
    told_s : collection of float
        Moments at which somebody said that it was reset.

    Notes
    -----
    It began again where it shows no more than the cooker can have drawn since (at one and a half times the steepest climb that
    the log shows elsewhere), hardly anything, or the small value at which it began before. Any other fall is a fault: of the
    display, of the meter that forgot its last minutes, or of whoever copied the figure.

    Examples
    --------
    >>> [fall.is_reset for fall in falls_in([0, 60, 120, 180], [10, 22, 3, 5])]
    [True]
    >>> [fall.is_reset for fall in falls_in([0, 60, 120, 180], [7_016_340, 7_016_350, 7_016_280, 7_016_290])]
    [False]
    """
    places = [place for place, (before, after) in enumerate(pairwise(values_wh), 1) if after < before]
    if not places:
        return ()
    most_w = steepest_w(times_s, values_wh)
    begun = [values_wh[0]]
    found = []
    for place in places:
        before, after, from_s, at_s = values_wh[place - 1], values_wh[place], times_s[place - 1], times_s[place]
        is_reset = at_s in told_s or _begins_again(before, after, most_w * (at_s - from_s) / 3600, begun)
        begun.append(after)
        found.append(Fall(at_s, before, after, from_s, is_reset))
    return tuple(found)


def _begins_again(before_wh: float, after_wh: float, drawn_wh: float, begun: Sequence[float]) -> bool:
    if after_wh > 0.5 * before_wh:
        return False
    again = any(abs(after_wh - value) <= _SAME * value for value in begun if value <= 0.5 * before_wh)
    return again or after_wh <= max(_AT_ONCE_SHARE * drawn_wh, 1.0) or after_wh <= _NEAR_ZERO * min(before_wh, 10_000.0)


def steepest_w(times_s: Sequence[float], values_wh: Sequence[float]) -> float:
    """Return the steepest climb between two readings, at most what a supply can give. [W]"""
    rows = zip(pairwise(times_s), pairwise(values_wh), strict=True)
    steepest = max(((v1 - v0) * 3600 / (t1 - t0) for (t0, t1), (v0, v1) in rows if t1 > t0 and v1 > v0), default=0.0)
    return min(steepest, MOST_W)


def climbs(values_wh: Sequence[float], times_s: Sequence[float], falls: Sequence[Fall]) -> Iterator[float]:
    """Yield the watt-hours since the first reading at each: a reset adds what is shown after it, any other fall nothing. [Wh]"""
    resets = {fall.at_s for fall in falls if fall.is_reset}
    total, last = 0.0, values_wh[0]
    for at_s, value in zip(times_s, values_wh, strict=True):
        if value >= last:
            total += value - last
        elif at_s in resets:
            total += value
        last = value
        yield total


def counter_track(samples: Sequence[Sample]) -> tuple[EnergyTrack, tuple[Fall, ...]]:
    """Return the climb of a counter and the places where it fell.

    Parameters
    ----------
    samples : sequence of Sample
        Readings in any order; those without a counter are passed over. At least one must have one.

    Returns
    -------
    EnergyTrack
        Watt-hours since the first reading. [Wh]
    tuple of Fall
        Where the counter fell, in the order of time.

    Raises
    ------
    ValueError
        If no reading has a counter.

    Notes
    -----
    The sum of the positive steps. Where the counter began again its new value is what was added since; what was drawn between
    the last reading and the reset is lost. Any other fall adds nothing (``falls_in``). Readings of the same moment are taken
    upwards, those above the counter's last value first, so that the order in which readings arrive never matters.

    Examples
    --------
    >>> track, falls = counter_track([Sample(0, 10), Sample(60, 22), Sample(120, 3), Sample(180, 5)])
    >>> track.sums_wh
    (0.0, 12.0, 15.0, 17.0)
    >>> falls
    (Fall(at_s=120, before_wh=22, after_wh=3, from_s=60, is_reset=True),)
    """
    shown = _in_order(samples)
    if not shown:
        raise ValueError("no reading shows a counter")
    times, values = zip(*shown, strict=True)
    told = {sample.at_s for sample in samples if RESET_NOTE in sample.note and sample.energy_wh is not None}
    falls = falls_in(times, values, told)
    return EnergyTrack(times, tuple(climbs(values, times, falls))), falls


def _in_order(samples: Sequence[Sample]) -> list[tuple[float, float]]:
    """Return (moment, counter) in the order of time, several of one moment as a climbing counter would have shown them."""
    shown = sorted((sample.at_s, sample.energy_wh) for sample in samples if sample.energy_wh is not None)
    ordered: list[tuple[float, float]] = []
    for _, group in groupby(shown, key=lambda pair: pair[0]):
        last = ordered[-1][1] if ordered else 0.0
        ordered.extend(pair for _, pair in sorted((pair[1] < last, pair) for pair in group))
    return ordered
