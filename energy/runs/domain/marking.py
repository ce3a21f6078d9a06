"""What a power curve says about a cook: where one cook ends and another begins, and where its stages may begin.

Everything here is a proposal for a person to take, to move or to leave. Moments are seconds from one zero of the caller's.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from energy.runs.domain.counter import climbs, falls_in

IDLE_S = 20 * 60.0
"""A cooker that draws nothing for this long has finished a cook: a pot on its pressure is left alone for less. [s]"""

LEAST_COOK_WH = 3.0
"""A stretch that took less than this is a clock, a lamp or a test, not a cook. [Wh]"""

STANDBY_W = 5.0
"""What a switched-off cooker's display may draw. [W]"""

_TICK_S = 180.0
"""A thermostat switches again within this; a longer stretch is a stage of its own. [s]"""

_LEAST_STAGE_S = 60.0
_LEVEL_S = 60.0
_LEVEL_SHARE = 0.2
_MOST_MARKS = 10


@dataclass(frozen=True)
class Curve:
    """Watts at moments that never go backward.

    ``held``: each value holds until the next one, else the watts run straight; ``from_counter``: they are means between readings.
    """

    times_s: Sequence[float]
    watts: Sequence[float]
    held: bool = False
    from_counter: bool = False

    @property
    def peak_w(self) -> float:
        """The highest watts, 0 of an empty curve. [W]"""
        return max(self.watts, default=0.0)


@dataclass(frozen=True)
class Stretch:
    """A stretch of a log that looks like one cook. [s, s, Wh, W]"""

    start_s: float
    end_s: float
    energy_wh: float
    peak_w: float


@dataclass(frozen=True)
class Mark:
    """A moment at which the element began something else.

    ``on``, ``more`` (on, and more than before), ``low`` (on, and less than before), ``ticking`` (on and off by itself), ``off``.
    """

    at_s: float
    state: str


def counter_curve(times_s: Sequence[float], energies_wh: Sequence[float]) -> Curve:
    """Return the mean watts between the readings of a counter; resets taken out (``counter.falls_in``).

    Parameters
    ----------
    times_s, energies_wh : sequence of float
        The readings in the order of time. [s, Wh]

    Returns
    -------
    Curve
        A held one: each interval's mean until the next reading. [W]

    Examples
    --------
    >>> list(counter_curve([0, 600, 1200], [0, 100, 100]).watts)
    [600.0, 0.0, 0.0]
    """
    sums = climbs(energies_wh, times_s, falls_in(times_s, energies_wh)) if times_s else iter(())
    steps = pairwise(zip(times_s, sums, strict=True))
    watts = [
        (after - before) * 3600 / (until_s - from_s) if until_s > from_s else 0.0 for (from_s, before), (until_s, after) in steps
    ]
    return Curve(times_s, [*watts, watts[-1]] if watts else [0.0] * len(times_s), held=True, from_counter=True)


def envelope(curve: Curve, start_s: float, end_s: float, columns: int) -> list[tuple[float, float]]:
    """Return a curve thinned to so many columns: of each the first, the lowest, the highest and the last, so no peak is lost.

    Parameters
    ----------
    curve : Curve
        The curve. [s, W]
    start_s, end_s : float
        The stretch that is shown. [s]
    columns : int
        How many columns the drawing has.

    Returns
    -------
    list of (s, W)
        In the order of time; corners of a held curve are not added.

    Examples
    --------
    >>> envelope(Curve([0, 1, 2, 3, 4, 5], [0, 9, 1, 2, 2, 0]), 0, 6, 1)
    [(0, 0), (1, 9), (5, 0)]
    """
    width_s = max((end_s - start_s) / max(columns, 1), 1e-9)
    thinned: list[tuple[float, float]] = []
    column, inside = 0, []  # type: int, list[tuple[float, float]]
    for at_s, power_w in zip(curve.times_s, curve.watts, strict=True):
        if not start_s <= at_s <= end_s:
            continue
        here = int((at_s - start_s) / width_s)
        if here != column:
            thinned += _corners(inside)
            column, inside = here, []
        inside.append((at_s, power_w))
    return thinned + _corners(inside)


def _corners(inside: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    if len(inside) <= 4:
        return list(inside)
    order = range(len(inside))
    low, high = min(order, key=lambda one: inside[one][1]), max(order, key=lambda one: inside[one][1])
    return [inside[one] for one in sorted({0, low, high, len(inside) - 1})]


def propose_cuts(curve: Curve, *, idle_s: float = IDLE_S) -> list[Stretch]:
    """Return the stretches of a long log that look like one cook each, cut where nothing was drawn for long.

    Parameters
    ----------
    curve : Curve
        The whole log. [s, W]
    idle_s : float
        How long nothing must have been drawn between two cooks. [s]

    Returns
    -------
    list of Stretch
        From switching on to the first reading after the last draw. Stretches below 3 Wh are left out.

    Notes
    -----
    Idle is what lies at or below 5 W or 2 % of the log's peak, whichever is more, and any time without a reading.

    Examples
    --------
    >>> log = Curve([0, 600, 1200, 7200, 7800, 8400], [0, 900, 0, 0, 600, 0])
    >>> [(one.start_s, one.end_s, round(one.energy_wh)) for one in propose_cuts(log)]
    [(0, 1200, 150), (7200, 8400, 100)]
    """
    idle_w = max(STANDBY_W, 0.02 * curve.peak_w)
    found: list[Stretch] = []
    begin: int | None = None
    last: int | None = None
    for place, power_w in enumerate(curve.watts):
        if power_w <= idle_w:
            continue
        if last is not None and begin is not None and curve.times_s[place] - _drawn_until(curve, last) >= idle_s:
            found.append(_stretch(curve, begin, last, idle_s))
            begin = None
        begin, last = place if begin is None else begin, place
    if begin is not None and last is not None:
        found.append(_stretch(curve, begin, last, idle_s))
    return [stretch for stretch in found if stretch.energy_wh >= LEAST_COOK_WH]


def _drawn_until(curve: Curve, place: int) -> float:
    """Return until when a value above idle was drawn: a held one until the next value, a sampled one for its moment. [s]"""
    return curve.times_s[min(place + 1, len(curve.times_s) - 1)] if curve.held else curve.times_s[place]


def _stretch(curve: Curve, begin: int, last: int, idle_s: float) -> Stretch:
    """Return the stretch from one reading to another, with the readings beside it where they are near."""
    times = curve.times_s
    if not curve.held and begin > 0 and times[begin] - times[begin - 1] < idle_s:
        begin -= 1
    if last + 1 < len(times) and (curve.held or times[last + 1] - times[last] < idle_s):
        last += 1
    energy_ws = 0.0
    for place in range(begin, last):
        mean_w = curve.watts[place] if curve.held else (curve.watts[place] + curve.watts[place + 1]) / 2
        energy_ws += mean_w * (times[place + 1] - times[place])
    return Stretch(times[begin], times[last], energy_ws / 3600, max(curve.watts[begin : last + 1]))


def propose_marks(curve: Curve, start_s: float, end_s: float) -> list[Mark]:
    """Return the moments of a cook at which the element began something else, at most ten.

    Parameters
    ----------
    curve : Curve
        The cook's watts. [s, W]
    start_s, end_s : float
        The cook. [s]

    Returns
    -------
    list of Mark
        In the order of time, the first one at the start.

    Notes
    -----
    On is above a tenth of the peak, off below a twentieth. Switchings less than three minutes apart are one stretch of ticking;
    a lasting change by more than a fifth of the peak begins a stretch, too; nothing shorter than a minute stands alone.

    Examples
    --------
    >>> times = list(range(0, 1500, 10))
    >>> watts = [1000 if at < 600 else (1000 if at // 30 % 2 else 0) if at < 1200 else 0 for at in times]
    >>> [(mark.at_s, mark.state) for mark in propose_marks(Curve(times, watts), 0, 1490)]
    [(0, 'on'), (600, 'ticking'), (1200, 'off')]
    """
    inside = [(at_s, power_w) for at_s, power_w in zip(curve.times_s, curve.watts, strict=True) if start_s <= at_s <= end_s]
    peak_w = max((power_w for _, power_w in inside), default=0.0)
    if peak_w <= STANDBY_W or end_s <= start_s:
        return []
    marks = _ticking(_switchings(inside, peak_w, start_s), end_s)
    marks = _levels(marks, inside, peak_w, end_s)
    return _lasting(marks, end_s)[:_MOST_MARKS]


def _switchings(points: Sequence[tuple[float, float]], peak_w: float, start_s: float) -> list[Mark]:
    """Return each switching on or off, the first one at the start."""
    on = points[0][1] > 0.1 * peak_w
    found = [Mark(start_s, "on" if on else "off")]
    for at_s, power_w in points:
        if (power_w > 0.1 * peak_w and not on) or (power_w < 0.05 * peak_w and on):
            on = not on
            found.append(Mark(at_s, "on" if on else "off"))
    return found


def _ticking(marks: Sequence[Mark], end_s: float) -> list[Mark]:
    """Return the switchings with each thermostat's ticking made one: at least three short stretches in a row."""
    ends = [*(mark.at_s for mark in marks[1:]), end_s]
    short = [end - mark.at_s < _TICK_S for mark, end in zip(marks, ends, strict=True)]
    short[-1] = short[-1] and len(marks) > 1 and short[-2]
    found: list[Mark] = []
    place = 0
    while place < len(marks):
        row = next((more for more in range(place, len(marks)) if not short[more]), len(marks)) - place
        found.append(Mark(marks[place].at_s, "ticking") if row >= 3 else marks[place])
        place += row if row >= 3 else 1
    return found


def _levels(marks: Sequence[Mark], points: Sequence[tuple[float, float]], peak_w: float, end_s: float) -> list[Mark]:
    """Return the marks with those added where the watts change for good while the element stays on."""
    found: list[Mark] = []
    for mark, until_s in zip(marks, [*(mark.at_s for mark in marks[1:]), end_s], strict=True):
        found.append(mark)
        if mark.state == "on":
            means = _means([point for point in points if mark.at_s <= point[0] < until_s], mark.at_s)
            for (_, before_w), (at_s, now_w) in pairwise(means):
                if abs(now_w - before_w) > _LEVEL_SHARE * peak_w and at_s - found[-1].at_s >= _LEAST_STAGE_S:
                    found.append(Mark(at_s, "low" if now_w < before_w else "more"))
    return found


def _means(points: Sequence[tuple[float, float]], start_s: float) -> list[tuple[float, float]]:
    """Return the mean watts of each minute in which there is a reading, with the first reading's moment."""
    minutes: dict[int, list[tuple[float, float]]] = {}
    for at_s, power_w in points:
        minutes.setdefault(int((at_s - start_s) / _LEVEL_S), []).append((at_s, power_w))
    return [(inside[0][0], sum(power for _, power in inside) / len(inside)) for inside in minutes.values()]


def _lasting(marks: Sequence[Mark], end_s: float) -> list[Mark]:
    """Return the marks whose stretch lasts a minute or more and that change something; the first stays at the start."""
    found: list[Mark] = []
    for mark, until_s in zip(marks, [*(mark.at_s for mark in marks[1:]), end_s], strict=True):
        if found and (until_s - mark.at_s < _LEAST_STAGE_S or found[-1].state == mark.state):
            continue
        found.append(Mark(marks[0].at_s, mark.state) if not found else mark)
    return found


_FITS = {
    "on": ("preheat", "brown", "come_up", "bake", "reduce"),
    "ticking": ("hold", "bake", "reduce", "keep_warm"),
    "more": ("brown", "come_up", "bake", "reduce"),
    "low": ("hold", "reduce", "keep_warm", "bake"),
    "off": ("release", "rest", "hold"),
}
_USUAL = {"on": "come_up", "more": "come_up", "ticking": "hold", "low": "hold", "off": "rest"}


def name_marks(marks: Sequence[Mark], method: Sequence[str] = ()) -> list[tuple[float, str]]:
    """Return each mark's moment with a kind of stage: the next one of the method that fits what the element did.

    Parameters
    ----------
    marks : sequence of Mark
        As ``propose_marks`` found them.
    method : sequence of str
        The kinds of stage that the recipe's method goes through, in its order.

    Returns
    -------
    list of (s, str)

    Examples
    --------
    >>> name_marks([Mark(0, "on"), Mark(600, "ticking"), Mark(1200, "off")], ["brown", "come_up", "hold", "release"])
    [(0, 'brown'), (600, 'hold'), (1200, 'release')]
    """
    named, place = [], 0
    for mark in marks:
        fitting = next((at for at in range(place, len(method)) if method[at] in _FITS[mark.state]), None)
        named.append((mark.at_s, _USUAL[mark.state] if fitting is None else method[fitting]))
        place = place if fitting is None else fitting + 1
    return named
