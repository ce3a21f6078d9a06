"""From series to one log: in the order of time, once a moment, no glitches, intervals added up. Says what it did."""

from __future__ import annotations

import math
from array import array
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import islice, pairwise
from operator import eq
from statistics import median

from energy.meters.files.columns.sensors import Series
from energy.meters.files.columns.shape import INTERVAL, POWER, UnreadableFile
from energy.runs.domain.counter import climbs, falls_in
from energy.runs.domain.rhythm import Hole
from energy.runs.domain.watts import looks_sampled

_NAN = float("nan")
FEWEST_STEPS = 25
"""A counter with fewer steps than this is left out beside dense watts: they say more."""

DENSE_S = 60.0
_ENOUGH = 5000
"""So many moments tell a log's rhythm."""

_FEW_STEPS = 1000
"""Clocks that are changed step back as rarely; a long log is not copied to be put in order then."""


@dataclass
class Track:
    """A figure in the order of time, once a moment; how many rows fell out by that, and what they held. [s, W or Wh or %, Wh]"""

    times_s: array[float] = field(default_factory=lambda: array("d"))
    values: array[float] = field(default_factory=lambda: array("d"))
    dropped: int = 0
    dropped_wh: float = 0.0


def settled(series: Series, notes: list[str], *, keep_gaps: bool = False) -> Track:
    """Return a series in its unit, in the order of time and once a moment; what was mended is noted.

    ``keep_gaps``: moments at which nothing was read stay, as not-a-number.
    """
    times, values, factor = series.times_s, series.values, series.factor
    order = _order(times, series, notes)
    if _is_settled(order, times, values):
        return Track(times, values if factor == 1.0 else array("d", (value * factor for value in values)))
    track, last_s, doubles, dropped = Track(), -math.inf, 0, 0.0
    for place in order:
        value = values[place] * factor
        if math.isnan(value) and not keep_gaps:
            continue
        at_s = times[place]
        if at_s == last_s:
            doubles += 1
            if not math.isnan(value):
                span_s = at_s - track.times_s[-2] if len(track.times_s) > 1 else 0.0
                dropped += _dropped_wh(series.role, track.values[-1], value, span_s)
                track.values[-1] = value
            continue
        track.times_s.append(at_s)
        track.values.append(value)
        last_s = at_s
    if doubles:
        lost = f", {dropped:,.0f} Wh in the others" if series.role == INTERVAL else ""
        notes.append(f"{doubles:,} row{'s' if doubles > 1 else ''} with the time of the row before: the last one counts{lost}.")
        track.dropped, track.dropped_wh = doubles, dropped
    return track


def _dropped_wh(role: str, gone: float, kept: float, span_s: float) -> float:
    """Return how much energy a row held that another of the same moment takes the place of; of equal watts none. [Wh]"""
    if role == INTERVAL:
        return max(gone, 0.0)
    return abs(gone - kept) * span_s / 3600 if role == POWER else abs(gone - kept)


def _is_settled(order: Sequence[int], times: Sequence[float], values: Sequence[float]) -> bool:
    """Return whether nothing is to be done: in order already, no moment twice, everywhere a number. Long logs mostly are."""
    if not isinstance(order, range) or order.step != 1:
        return False
    return not any(map(eq, times, islice(times, 1, None))) and not any(map(math.isnan, values))


def _order(times: Sequence[float], series: Series, notes: list[str]) -> Sequence[int]:
    """Return the places of the rows in the order of time."""
    backward = sum(later < earlier for earlier, later in pairwise(times))
    if not backward:
        return range(len(times))
    if backward >= 0.9 * (len(times) - 1):
        notes.append("The newest row stands first: the rows were turned round.")
        return (
            range(len(times) - 1, -1, -1)
            if backward == len(times) - 1
            else sorted(range(len(times)), key=lambda n: (times[n], -n))
        )
    notes.append(f"The time steps backward {'once' if backward == 1 else f'{backward:,} times'}: the rows were put in order.")
    return sorted(range(len(times)), key=times.__getitem__) if backward > _FEW_STEPS else _put_in_order(times)


def _put_in_order(times: Sequence[float]) -> array[int]:
    """Return the places in the order of time where only few steps go back: each stretch that overlaps is sorted by itself.

    Examples
    --------
    >>> list(_put_in_order([0, 1, 2, 3, 2, 1, 2, 4, 5, 4.5]))
    [0, 1, 5, 2, 4, 6, 3, 7, 9, 8]
    """
    order, done = array("L", range(len(times))), 0
    for place in (place for place, (earlier, later) in enumerate(pairwise(times), 1) if later < earlier):
        if place < done:
            continue
        highest = times[order[place - 1]]
        done = next((later for later in range(place, len(times)) if times[later] >= highest), len(times))
        low = bisect_right(order, min(times[place:done]), hi=place, key=times.__getitem__)
        order[low:done] = array("L", sorted(order[low:done], key=times.__getitem__))
    return order


def spread(series: Series, notes: list[str]) -> Series:
    """Return watts whose stamps leave the seconds out, laid evenly over the time that their rows share."""
    times = series.times_s
    if len(times) < 6 or sum(map(eq, times, islice(times, 1, None))) < 0.3 * len(times):
        return series
    order = _order(times, series, [])
    laid = array("d", times)
    runs: list[list[int]] = []
    for place in order:
        if runs and times[runs[-1][0]] == times[place]:
            runs[-1].append(place)
        else:
            runs.append([place])
    if len(runs) < 2:
        return series
    most = max(map(len, runs))
    for run, following in pairwise([*runs, []]):
        begin_s = times[run[0]]
        span_s = times[following[0]] - begin_s if following else times[run[0]] - times[runs[-2][0]]
        first = most - len(run) if run is runs[0] else 0
        parts = max(len(run) + first, most if not following else 1)
        for nth, place in enumerate(run):
            laid[place] = begin_s + (first + nth) * span_s / parts
    notes.append("Several rows share each time, which leaves the seconds out: they were laid evenly up to the next time.")
    return replace(series, times_s=laid)


def refuse_sent_out(values: Sequence[float]) -> None:
    """Refuse figures that are below zero nearly everywhere: energy that was sent out, or a clamp the wrong way round.

    Raises
    ------
    UnreadableFile
        If what is below zero outweighs the rest a hundred times.
    """
    below = -sum(value for value in values if value < 0)
    if below > 100 * sum(value for value in values if value > 0) and below > 0:
        raise UnreadableFile(
            "Nearly all its figures are below zero: energy that was sent out, or a meter’s clamp the wrong way round. "
            "Turn the sign in the file if the cooker drew it."
        )


def watts(series: Series, notes: list[str], holes: list[Hole], *, held: bool) -> Track:
    """Return power that is never below zero; in a log of changes the last watts do not hold while nothing was heard: a hole."""
    track = settled(spread(series, notes), notes, keep_gaps=held)
    refuse_sent_out(track.values)
    below = silent = 0
    for place, value in enumerate(track.values):
        if math.isnan(value):
            silent += 1
            track.values[place] = 0.0
            if place + 1 < len(track.times_s):
                holes.append((track.times_s[place], track.times_s[place + 1]))
        elif value < 0:
            below += 1
            track.values[place] = 0.0
    if below:
        notes.append(f"{below:,} row{'s' if below > 1 else ''} with less than 0 W: taken as 0 W.")
    if silent:
        notes.append(
            f"{silent:,} time{'s' if silent > 1 else ''} the device was not heard: "
            "from there on nothing is counted until it speaks again."
        )
    return track


def counter(series: Series, notes: list[str]) -> Track:
    """Return a counter without rows that dip for a moment and without steps back that are smaller than its display's own."""
    track = settled(series, notes)
    values = track.values
    if not any(later < earlier for earlier, later in pairwise(values)):
        return track
    small = 2.5 * min((later - earlier for earlier, later in pairwise(values) if later > earlier), default=0.0)
    kept = Track()
    dips = backs = left_out = 0
    for place, value in enumerate(values):
        if left_out:
            left_out -= 1
            continue
        last = kept.values[-1] if kept.values else value
        if glitch := _glitch(values, place, last, small):
            dips, left_out = dips + glitch, glitch - 1
            continue
        back = 0 < last - value <= small and value > 0.5 * last
        backs += back
        kept.times_s.append(track.times_s[place])
        kept.values.append(max(last if back else value, 0.0))
    if dips:
        notes.append(f"{dips:,} row{'s' if dips > 1 else ''} in which the counter jumps for a moment and comes back: left out.")
    if backs:
        notes.append(
            f"The counter steps back by its own smallest step {'once' if backs == 1 else f'{backs:,} times'}: "
            "taken as standing still."
        )
    _tell_falls(kept, notes)
    return kept


def _tell_falls(track: Track, notes: list[str]) -> None:
    """Note where a counter begins again, and where it falls without that."""
    falls = falls_in(track.times_s, track.values)
    resets = sum(fall.is_reset for fall in falls)
    if resets:
        notes.append(f"The counter begins again {'once' if resets == 1 else f'{resets:,} times'}: what it shows then is added.")
    if faults := [fall for fall in falls if not fall.is_reset]:
        first = faults[0]
        where = "once" if len(faults) == 1 else f"{len(faults):,} times"
        notes.append(
            f"The counter falls {where} without beginning again, first from {first.before_wh:,.0f} to {first.after_wh:,.0f} Wh: "
            "what was drawn between these two readings is not known and not counted."
        )


_LONGEST_DIP = 10
"""So many rows in a row may lie beside a counter's course."""


def _glitch(values: Sequence[float], place: int, last: float, small: float) -> int:
    """Return how many rows from here on lie beside the counter's course, which it then takes up again; 0 for none."""
    value = values[place]
    for rows in range(1, min(_LONGEST_DIP, len(values) - place - 1) + 1 if value != last else 0):
        after = values[place + rows]
        if _dip(value, last, after, small) or (place > 0 and _spike(value, last, after)):
            return rows
        if abs(after - value) > abs(value - last) * 0.1:
            break
    return 0


def _dip(value: float, last: float, after: float, small: float) -> bool:
    """Return whether a counter falls and is back at its course afterwards."""
    if not value < last <= after:
        return False
    return value < 0.5 * last or after - last <= 50 * max(small, 1e-9) + last - value


def _spike(value: float, last: float, after: float) -> bool:
    """Return whether a counter shoots up and is back at its course afterwards."""
    return last <= after < value and value - last > 100 * max(after - last, 1e-9) and value > 2 * max(after, 1e-9)


def added_up(series: Series, notes: list[str], holes: list[Hole], *, at_end: bool) -> Track:
    """Return energies of intervals as a counter that begins at zero; a missing interval adds nothing and is a hole."""
    track = settled(series, notes)
    if not track.times_s:
        return track
    every = len(track.times_s) // _ENOUGH + 1
    spans = [later - earlier for earlier, later in islice(pairwise(track.times_s), 0, None, every)]
    step_s = median(spans) if spans else 900.0
    refuse_sent_out(track.values)
    found = Track(dropped=track.dropped, dropped_wh=track.dropped_wh)
    total_wh, below = 0.0, 0
    for at_s, value in zip(track.times_s, track.values, strict=True):
        start_s = at_s - step_s if at_end else at_s
        if found.times_s and start_s > found.times_s[-1] + 0.5 * step_s:
            holes.append((found.times_s[-1], start_s))
        if not found.times_s or start_s > found.times_s[-1] + 0.01 * step_s:
            found.times_s.append(start_s)
            found.values.append(total_wh)
        below += value < 0
        total_wh += max(value, 0.0)
        end_s = start_s + step_s
        if end_s <= found.times_s[-1]:
            found.values[-1] = total_wh
            continue
        found.times_s.append(end_s)
        found.values.append(total_wh)
    if below:
        notes.append(
            f"{below:,} interval{'s' if below > 1 else ''} with less than 0 Wh (sent out, not used): counted as nothing."
        )
    return found


def energy_of(track: Track) -> float:
    """Return what a counter climbed, what it shows after a reset added. [Wh]"""
    falls = falls_in(track.times_s, track.values)
    if not falls:
        return track.values[-1] - track.values[0]
    *_, total = climbs(track.values, track.times_s, falls)
    return total


def energy_of_watts(track: Track, *, held: bool) -> float:
    """Return what watts add up to over their time: held until the next, or straight between two. [Wh]"""
    pairs = zip(pairwise(track.times_s), pairwise(track.values), strict=True)
    return sum((v0 if held else (v0 + v1) / 2) * (t1 - t0) for (t0, t1), (v0, v1) in pairs) / 3600


def is_held(track: Track, told: bool | None) -> bool:
    """Return whether watts hold until the next row: as told, else as the log looks."""
    return not looks_sampled(track.times_s[:_ENOUGH], track.values[:_ENOUGH]) if told is None else told


def usual_step_s(times_s: Sequence[float]) -> float:
    """Return the usual interval of a log. [s]"""
    return median([later - earlier for earlier, later in pairwise(times_s[:_ENOUGH])]) if len(times_s) > 1 else math.inf


def is_coarse(found: Track, power: Track) -> bool:
    """Return whether a counter has so few steps that dense watts beside it say more."""
    steps = sum(later > earlier for earlier, later in pairwise(found.values))
    return steps < FEWEST_STEPS and len(power.times_s) >= 10 and usual_step_s(power.times_s) <= DENSE_S


def merged(tracks: Sequence[Track | None]) -> tuple[array[float], list[array[float]]]:
    """Return tracks on one row of times, not-a-number where a track says nothing."""
    told = [track for track in tracks if track is not None]
    first = told[0].times_s
    if all(track.times_s == first for track in told):
        empty = array("d", [_NAN]) * len(first)
        return first, [empty if track is None else track.values for track in tracks]
    times = array("d", sorted({at_s for track in told for at_s in track.times_s}))
    return times, [_values_at(track, times) for track in tracks]


def _values_at(track: Track | None, times: array[float]) -> array[float]:
    values = array("d", [_NAN]) * len(times)
    if track is None:
        return values
    place = 0
    for at_s, value in zip(track.times_s, track.values, strict=True):
        place = bisect_right(times, at_s, place) - 1
        values[place] = value
    return values
