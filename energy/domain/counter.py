"""Energy from a counter that only climbs: the first choice, because nothing that happens between two readings is lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby

from energy.domain.samples import Sample
from energy.domain.track import EnergyTrack


@dataclass(frozen=True)
class Fall:
    """A counter that showed less than before."""

    at_s: float
    before_wh: float
    after_wh: float


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
    The sum of the positive steps. A fall is a reset: the counter began again at zero, so its new value is what was added
    since; what was drawn between the last reading and the reset is lost. Readings of the same moment are taken upwards,
    those above the counter's last value first, so that the order in which readings arrive never matters.

    Examples
    --------
    >>> track, falls = counter_track([Sample(0, 10), Sample(60, 22), Sample(120, 3), Sample(180, 5)])
    >>> track.sums_wh
    (0.0, 12.0, 15.0, 17.0)
    >>> falls
    (Fall(at_s=120, before_wh=22, after_wh=3),)
    """
    times: list[float] = []
    sums: list[float] = []
    falls: list[Fall] = []
    last = None
    for at_s, value in _in_order(samples):
        if last is None:
            total = 0.0
        elif value < last:
            falls.append(Fall(at_s, last, value))
            total = sums[-1] + value
        else:
            total = sums[-1] + value - last
        times.append(at_s)
        sums.append(total)
        last = value
    if last is None:
        raise ValueError("no reading shows a counter")
    return EnergyTrack(tuple(times), tuple(sums)), tuple(falls)


def _in_order(samples: Sequence[Sample]) -> list[tuple[float, float]]:
    """Return (moment, counter) in the order of time, several of one moment as a climbing counter would have shown them."""
    shown = sorted((sample.at_s, sample.energy_wh) for sample in samples if sample.energy_wh is not None)
    ordered: list[tuple[float, float]] = []
    for _, group in groupby(shown, key=lambda pair: pair[0]):
        last = ordered[-1][1] if ordered else 0.0
        ordered.extend(sorted(group, key=lambda pair, last=last: (pair[1] < last, pair[1])))  # type: ignore[misc]
    return ordered
