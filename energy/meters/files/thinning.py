"""Fewer readings that say the same: energy, peaks and switching edges stay, the wobble between them goes."""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, pairwise
from operator import ne

from energy.meters.files.reading import MeterLog
from energy.runs.domain.log_columns import LogColumns, only_places

MANY = 20_000
"""From so many readings on a log is thinned."""

ENERGY_SHARE = 0.0001
"""By so much of the whole may the energy before any moment move at each wobble: six of them stay within 0.1 %."""

_FAR = 4
"""Where so many times too many are left, the next two tries are passed over."""

_WOBBLES = (0.001, 0.003, 0.01, 0.03, 0.1, 0.2, 0.4)
"""How far from the kept line a reading that is left out may lie, as a share of the highest, tried in this order."""


def thinned(log: MeterLog, most: int = MANY) -> MeterLog:
    """Return a log with at most so many readings, where that can be done without changing what it says.

    Parameters
    ----------
    log : MeterLog
        In the order of time.
    most : int
        How many readings are enough.

    Returns
    -------
    MeterLog
        The same log where it is short already; else one whose energy before any moment differs by at most 0.1 % of the whole,
        with its highest and lowest readings and both sides of every switching edge. A load that switches more often than
        ``most`` allows keeps its edges and stays longer.

    Examples
    --------
    >>> from array import array
    >>> nan = array("d", [float("nan")]) * 6
    >>> told = {"total_wh": 0.4, "method": "watts", "notes": (), "rows": 6}
    >>> log = MeterLog(array("d", range(6)), nan, array("d", [0, 0, 0, 700, 700, 700]), nan, **told)
    >>> list(thinned(log, 4).times_s)
    [0.0, 2.0, 3.0, 5.0]
    """
    if len(log.times_s) <= most:
        return log
    places = array("L", _changing(log))
    wobble = 0
    while len(places) > most and wobble < len(_WOBBLES):
        far = len(places) > _FAR * most
        places = _needed_places(log, places, _WOBBLES[min(wobble + 2, len(_WOBBLES) - 1) if far else wobble])
        wobble += 3 if far else 1
    note = f"{len(log.times_s):,} readings were thinned to {len(places):,}: energy, peaks and switching edges are kept."
    return replace(only_places(log, places), notes=(*log.notes, note))


def _changing(log: LogColumns) -> Iterator[int]:
    """Yield the places at which something differs from the reading before or after: what stands still says nothing."""
    last = len(log.times_s) - 1
    figures = [values for values in (log.power_w, log.energy_wh, log.charge_pct) if not all(map(math.isnan, values))]
    changes = bytearray(last + 2)
    for values in figures:
        for place, moved in enumerate(map(ne, values, islice(values, 1, None))):
            if moved:
                changes[place] = 1
    yield 0
    yield from (place for place in range(1, last) if changes[place] or changes[place - 1])
    yield last


def _needed_places(log: LogColumns, places: Sequence[int], wobble: float) -> array[int]:
    """Return the places that one of the figures needs."""
    wanted = bytearray(len(log.times_s))
    for values, held in ((log.power_w, bool(log.came.held)), (log.energy_wh, False), (log.charge_pct, True)):
        told = array("L", (place for place in places if not math.isnan(values[place])))
        if told:
            for place in _needed(log.times_s, values, told, wobble, held=held, counts=values is log.energy_wh):
                wanted[place] = 1
    return array("L", (place for place in places if wanted[place]))


def _needed(
    times: Sequence[float], values: Sequence[float], places: Sequence[int], wobble: float, *, held: bool, counts: bool
) -> list[int]:
    """Return the places between which the values run straight (or hold), within a wobble and within the energy's share.

    Of a counter both sides of every fall are among them.
    """
    highest = max(values[place] for place in places)
    lowest = min(values[place] for place in places)
    allowed = wobble * (highest - lowest)
    line = _Line(times, values, allowed, ENERGY_SHARE * _area(times, values, places, held=held), held=held)
    wanted = {next(place for place in places if values[place] == edge) for edge in (highest, lowest)}
    if not held and counts:
        wanted |= {place for pair in pairwise(places) if values[pair[1]] < values[pair[0]] for place in pair}
    for place in places:
        line.offer(place, must=place in wanted)
    return line.ended()


def _area(times: Sequence[float], values: Sequence[float], places: Sequence[int], *, held: bool) -> float:
    """Return the area under values, whatever their sign."""
    return sum(
        abs(values[one] if held else (values[one] + values[two]) / 2) * (times[two] - times[one]) for one, two in pairwise(places)
    )


class _Line:
    """Keeps the fewest readings greedily: a stretch grows while every reading in it lies near the line between its ends.

    The slopes that are open to a stretch narrow with each reading in it (a swinging door), so that a stretch costs no more than
    its length; the area between the readings and the line is carried on from stretch to stretch and stays within its limit.
    """

    def __init__(self, times: Sequence[float], values: Sequence[float], allowed: float, most_area: float, *, held: bool) -> None:
        self.times, self.values, self.allowed, self.most_area, self.held = times, values, allowed, most_area, held
        self.kept: list[int] = []
        self.last = -1
        self.area = self.open_area = 0.0
        self.low, self.high = -math.inf, math.inf

    def offer(self, place: int, *, must: bool) -> None:
        """Take the next reading: the one before it is kept where the stretch cannot reach this one."""
        if not self.kept:
            self.kept.append(place)
        elif self.last != self.kept[-1] and not self._reaches(place):
            self._keep(self.last)
        if place != self.kept[-1]:
            self._grow(place)
            if must:
                self._keep(place)
        self.last = place

    def ended(self) -> list[int]:
        """Return what is kept, the last reading included."""
        if self.last != self.kept[-1]:
            self.kept.append(self.last)
        return self.kept

    def _reaches(self, place: int) -> bool:
        begin = self.kept[-1]
        if self.held:
            near = abs(self.values[self.last] - self.values[begin]) <= self.allowed
        else:
            slope = (self.values[place] - self.values[begin]) / max(self.times[place] - self.times[begin], 1e-9)
            near = self.low <= slope <= self.high
        return near and abs(self.area + self._area_beyond(place)) <= self.most_area

    def _area_beyond(self, place: int) -> float:
        """Return the area that a stretch to this reading adds to the line beyond the readings."""
        begin = self.kept[-1]
        span_s = self.times[place] - self.times[begin]
        last_s = self.times[place] - self.times[self.last]
        first, before, now = self.values[begin], self.values[self.last], self.values[place]
        if self.held:
            return first * span_s - self.open_area - before * last_s
        return (first + now) / 2 * span_s - self.open_area - (before + now) / 2 * last_s

    def _grow(self, place: int) -> None:
        begin, last = self.kept[-1], self.last
        step_s = self.times[place] - self.times[last]
        self.open_area += (self.values[last] if self.held else (self.values[last] + self.values[place]) / 2) * step_s
        span_s = max(self.times[place] - self.times[begin], 1e-9)
        rise = self.values[place] - self.values[begin]
        self.low = max(self.low, (rise - self.allowed) / span_s - 1e-12)
        self.high = min(self.high, (rise + self.allowed) / span_s + 1e-12)

    def _keep(self, place: int) -> None:
        """End the stretch at a reading that was taken already, and begin the next there."""
        begin = self.kept[-1]
        span_s = self.times[place] - self.times[begin]
        first, now = self.values[begin], self.values[place]
        self.area += (first if self.held else (first + now) / 2) * span_s - self.open_area
        self.kept.append(place)
        self.open_area, self.low, self.high = 0.0, -math.inf, math.inf
