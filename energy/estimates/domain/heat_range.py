"""The range of another cook: what the ends leave open, what each input may be off, and how one cook differs from the next."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeVar

from energy.estimates.domain.foretelling import Foretold, OtherCook, foretold, need
from energy.estimates.domain.repeats import FIRST_SPREAD, UsualSpread, pooled
from energy.estimates.domain.three_ends import MeanCook

SURELY_NOT, SURELY = 1.10, 1.25
"""It does not get there below the need over the one; it does above the need times the other. [-]"""

_REPEATS = "repeats"

_Cook = TypeVar("_Cook", MeanCook, OtherCook)

Answer = Literal["yes", "may_not", "no", "unknown"]


@dataclass(frozen=True)
class Doubt:
    """By what one input may be off (one standard uncertainty), as what it adds to the fields of the measured and the other cook.

    What is the same unknown on both days stands in both.
    """

    code: str
    cook: tuple[tuple[str, float], ...] = ()
    other: tuple[tuple[str, float], ...] = ()

    def changed(self, cooks: Sequence[MeanCook], other: OtherCook) -> tuple[list[MeanCook], OtherCook]:
        """Return both as they would be."""
        return [_added(cook, self.cook) for cook in cooks], _added(other, self.other)


def _added(row: _Cook, changes: tuple[tuple[str, float], ...]) -> _Cook:
    return replace(row, **{name: getattr(row, name) + by for name, by in changes}) if changes else row


@dataclass(frozen=True)
class Part:
    """What one doubt makes of the lowest and of the highest figure, as a half width at 95 %. [Wh]"""

    code: str
    low_wh: float
    high_wh: float


@dataclass(frozen=True)
class Spread:
    """A range: its lower end always, its middle and its upper end where each end of what is known gets there."""

    low: float
    middle: float | None = None
    high: float | None = None


@dataclass(frozen=True)
class HeatRange:
    """What another cook takes.

    Attributes
    ----------
    answer : str
        ``yes``, ``may_not`` (then the low figures are "at least"), ``no``, or ``unknown``: then nothing else says anything.
    energy, climb : Spread
        Heating and holding together, and the time up to its end. [Wh, s]
    ends : tuple of Foretold
        What each end says.
    parts : tuple of Part
        What the range is made of, besides the ends.
    need_w : float
        The most power that may be needed to get there; where it does not, the least. [W]
    """

    answer: Answer
    energy: Spread = Spread(0.0)
    climb: Spread = Spread(0.0)
    ends: tuple[Foretold, ...] = ()
    parts: tuple[Part, ...] = ()
    need_w: float = 0.0

    def narrower_wh(self, code: str) -> float:
        """Return by how much the whole range would be narrower without one doubt; nothing where there is no upper end. [Wh]

        Examples
        --------
        >>> made = HeatRange("yes", Spread(95, 100, 105), parts=(Part("air", 4, 3), Part("repeats", 3, 4)))
        >>> round(made.narrower_wh("air"), 1), made.narrower_wh("height")
        (3.0, 0.0)
        """
        middle, high = self.energy.middle, self.energy.high
        if middle is None or high is None:
            return 0.0
        below, above = middle - self.energy.low, high - middle
        without_low = below**2 - sum(part.low_wh**2 for part in self.parts if part.code == code)
        without_high = above**2 - sum(part.high_wh**2 for part in self.parts if part.code == code)
        return below + above - math.sqrt(max(without_low, 0.0)) - math.sqrt(max(without_high, 0.0))


@dataclass(frozen=True)
class Scatter:
    """By what share one cook of a recipe may differ from the mean of all there could be, at 95 %, and from how many runs.

    Attributes
    ----------
    of_one : float
        One cook. [-]
    n : int, >= 1
        Runs in the mean.
    """

    of_one: float
    n: int

    @property
    def of_mean(self) -> float:
        """By what share the mean of the runs may be off. [-]"""
        return self.of_one / math.sqrt(self.n)

    @property
    def of_next(self) -> float:
        """By what share the next cook may differ from the mean of the runs. [-]"""
        return math.hypot(self.of_one, self.of_mean)


def repeats_share(n: int, spread: float | None, usual: UsualSpread = FIRST_SPREAD) -> Scatter:
    """Return by what share cooks may differ, from n runs.

    Parameters
    ----------
    n : int, >= 1
        Runs in the mean.
    spread : float or None
        Their relative standard deviation; None for one. [-]
    usual : UsualSpread
        How much cooks of one recipe differ in this kitchen.

    Notes
    -----
    t s*, with s* and t of ``repeats.pooled``.

    Examples
    --------
    >>> round(repeats_share(3, 0.04).of_next, 4), round(repeats_share(1, None).of_next, 4)
    (0.1376, 0.1903)
    """
    of_one, t = pooled(n, (n - 1) * (spread or 0.0) ** 2, usual)
    return Scatter(t * of_one, n)


def heat_range(cooks: Sequence[MeanCook], other: OtherCook, doubts: Sequence[Doubt], repeats: Scatter) -> HeatRange:
    """Return what another cook takes, as a range, and whether it gets there.

    Parameters
    ----------
    cooks : sequence of MeanCook
        The measured cook, or two at different powers.
    other : OtherCook
        What is asked.
    doubts : sequence of Doubt
        What each input may be off; each is changed alone, and all is worked out again.
    repeats : Scatter
        By what share cooks differ. That the mean of those that were measured is off is one more doubt.

    Notes
    -----
    M, the middle of the least and the greatest end, less sqrt((M - E_min)^2 + (S E_min)^2 + (2 u_min)^2), likewise above; S what
    one cook differs by, u the root of the sum of squares of what the doubts change. A mean that is a little off is another split
    of its energy, which matters the more the less alike the other cook is. Never below the food's own heat. It does not get there
    below 1/1.10 of what every end needs less what the doubts make of that (u); it may not below 1.25 of what any end needs, nor
    below that and what the doubts make of it.

    Examples
    --------
    >>> open_pot = MeanCook(11700, 900, 15, 20, 100, 100, 372, 900, 110, 1800, 0.74, 0.92, held=True)
    >>> half = OtherCook(11700, 900, 15, 20, 100, 100, 276.3, power_share=0.5)
    >>> made = heat_range([open_pot], half, [], repeats_share(3, 0.04))
    >>> made.answer, round(made.energy.middle, 2), round(made.need_w, 1)
    ('yes', 500.4, 234.0)
    """
    changed = [doubt.changed(cooks, other) for doubt in doubts] + [([_off(cook, repeats.of_mean / 2) for cook in cooks], other)]
    ends = foretold(cooks, other) if all(cook.known for cook in cooks) else ()
    moved = [foretold(*one) for one in changed] if ends else [()]
    if not all(moved):
        return HeatRange("unknown")
    asked, power_w = _need(cooks, other, changed), other.power_share * cooks[0].power_w
    never = power_w < asked.surely_w / SURELY_NOT
    if never or all(math.isinf(end.heat_s) for end in ends):
        least, need_w = Spread(other.least_wh), asked.least_w if never else asked.most_w
        return HeatRange("no" if never else "may_not", least, Spread(0.0), ends, (), need_w)
    energies = _Figures([end.energy_wh for end in ends], [[end.energy_wh for end in one] for one in moved])
    times = _Figures([end.heat_s for end in ends], [[end.heat_s for end in one] for one in moved])
    energy = energies.spread(repeats.of_one, _floor_wh(cooks, other, doubts, repeats))
    sure = energy.high is not None and power_w >= asked.enough_w
    return HeatRange(
        answer="yes" if sure else "may_not",
        energy=energy,
        climb=times.spread(repeats.of_one, 0.0),
        ends=ends,
        parts=energies.parts([*(doubt.code for doubt in doubts), _REPEATS], repeats.of_one),
        need_w=asked.most_w,
    )


def _floor_wh(cooks: Sequence[MeanCook], other: OtherCook, doubts: Sequence[Doubt], repeats: Scatter) -> float:
    """Return what it takes at least: the food's own heat, and turned down no less than at the power that was measured. [Wh]"""
    if len(cooks) > 1 or other.power_share >= 1:
        return other.least_wh
    return max(heat_range(cooks, replace(other, power_share=1.0), doubts, repeats).energy.low, other.least_wh)


def _off(cook: MeanCook, share: float) -> MeanCook:
    """Return a measured cook that took a little more, at the same power."""
    more = 1 + share
    return replace(cook, heat_wh=cook.heat_wh * more, heat_s=cook.heat_s * more, hold_wh=cook.hold_wh * more)


@dataclass(frozen=True)
class _Need:
    """The least and the most power that may be needed; what is needed for sure, and what is enough for sure. [W]"""

    least_w: float
    most_w: float
    surely_w: float
    enough_w: float


def _need(cooks: Sequence[MeanCook], other: OtherCook, changed: Sequence[tuple[Sequence[MeanCook], OtherCook]]) -> _Need:
    """Return the power that is needed, and what the doubts leave of it for sure."""
    asked, moved = need(cooks, other), [need(*one) for one in changed]
    less_w = math.hypot(*(one.least_w - asked.least_w for one in moved))
    more_w = math.hypot(*(one.most_w - asked.most_w for one in moved))
    return _Need(asked.least_w, asked.most_w, asked.least_w - less_w, max(SURELY * asked.most_w, asked.most_w + more_w))


class _Figures:
    """One figure at every end, as it is and as it would be with each input changed; an end that never gets there is infinite."""

    def __init__(self, ends: Sequence[float], moved: Sequence[Sequence[float]]) -> None:
        self.bounded = all(math.isfinite(one) for one in (*ends, *(one for changed in moved for one in changed)))
        self.least, self.most = min(ends), max(ends) if self.bounded else 0.0
        # a change that lets no end get there leaves nothing sure of the least
        self.below = [min(min(changed) - self.least, self.least) for changed in moved]
        self.above = [max(changed) - self.most if self.bounded else 0.0 for changed in moved]

    def spread(self, repeats: float, floor: float) -> Spread:
        """Return their range, never below a floor."""
        below = math.hypot(repeats * self.least, 2 * math.hypot(*self.below))
        if not self.bounded:
            return Spread(max(self.least - below, floor))
        above = math.hypot(repeats * self.most, 2 * math.hypot(*self.above))
        middle = (self.least + self.most) / 2
        low, high = middle - math.hypot(middle - self.least, below), middle + math.hypot(self.most - middle, above)
        return Spread(max(low, floor), max(middle, floor), max(high, floor))

    def parts(self, codes: Sequence[str], repeats: float) -> tuple[Part, ...]:
        """Return what each change makes of the range, as half widths at 95 %."""
        changes = zip(codes, self.below, self.above, strict=True)
        made = (Part(code, 2 * abs(below), 2 * abs(above)) for code, below, above in changes)
        return (Part(_REPEATS, repeats * self.least, repeats * self.most), *made)
