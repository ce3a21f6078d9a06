"""Where the energy of a measured climb went: three answers that it cannot tell apart, which bound what another cook takes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

from energy.heat.climbing import LATENT_J_PER_KG, Way, climb_s, root

MOST_STEAM_KG_PER_S = 0.06e-3
"""More steam than this no lid or gap lets out on the way to the boil. [kg/s]"""

MOST_REACHES = 0.995
TRULY_HELD_S = 300.0
DRIFT_C, DRIFT_S = 2.0, 600.0
"""Held means within 2 K; over less than ten minutes by that share of it."""

_NEARLY = 1e-8


@dataclass(frozen=True)
class MeanCook:
    """The mean of the runs that count, as the heat of it is known.

    Attributes
    ----------
    food_j_per_k, vessel_j_per_k : float
        Heat capacities. [J/K]
    start_c, ambient_c, end_c, boil_c : float
        Where food and vessel started as one, the air, where it ended, and where water boils in the open there. [C]
    heat_wh, heat_s, hold_wh, hold_s : float
        What it drew and how long it took to its temperature, and while it stayed there. [Wh, s]
    reaches_low, reaches_high : float
        The heater's band (``energy.heat.heaters``). [-]
    held : bool
        Whether the temperature is known while it stayed there: it boiled, or its pressure showed.
    sealed : bool
        Whether it was under pressure: then nothing steams while it is held.
    heating_w : float or None
        The watts of the heater, where no come-up is marked; ``heat_wh`` and ``heat_s`` are then those of heating and holding
        together, and ``hold_wh`` and ``hold_s`` nothing. [W]
    """

    food_j_per_k: float
    vessel_j_per_k: float
    start_c: float
    ambient_c: float
    end_c: float
    boil_c: float
    heat_wh: float
    heat_s: float
    hold_wh: float
    hold_s: float
    reaches_low: float
    reaches_high: float
    held: bool
    sealed: bool = False
    heating_w: float | None = None

    @property
    def known(self) -> bool:
        """Whether anything can be said from it."""
        figures = (self.food_j_per_k, self.vessel_j_per_k, self.start_c, self.ambient_c, self.end_c, self.boil_c, self.hold_wh)
        return (
            all(math.isfinite(one) for one in (*figures, self.heat_wh, self.heat_s, self.hold_s, self.power_w))
            and self.end_c > max(self.start_c, self.ambient_c)
            and min(self.heat_wh, self.heat_s, self.food_j_per_k, self.power_w) > 0
            and (self.heating_w is None or self.heat_wh * 3600 < self.heating_w * self.heat_s)
        )

    @cached_property
    def ends(self) -> tuple[End, ...]:
        """What it leaves open (``three_ends``)."""
        return three_ends(self)

    @cached_property
    def power_w(self) -> float:
        """Its power while it heated. [W]"""
        if self.heating_w is not None:
            return self.heating_w
        return self.heat_wh * 3600 / self.heat_s if self.heat_s > 0 else 0.0

    @property
    def holds(self) -> bool:
        """Whether it was held, for a time that is known or that the whole cook hides."""
        return self.hold_s > 0 or self.heating_w is not None

    @property
    def bounded(self) -> bool:
        """Whether what holding took bounds the losses."""
        return self.held and self.hold_s >= TRULY_HELD_S

    @cached_property
    def way(self) -> Way:
        """What was heated."""
        return Way(self.food_j_per_k + self.vessel_j_per_k, self.start_c, self.ambient_c, self.end_c, self.boil_c)

    @cached_property
    def lossless(self) -> float:
        """The share of its energy that food and vessel took. [-]"""
        return self.way.lossless_j / (self.heat_wh * 3600)

    @cached_property
    def drift_j(self) -> float:
        """What the pot may have given while it was held within 2 K. [J]"""
        return DRIFT_C * self.way.heat_j_per_k * min(1.0, self.hold_s / DRIFT_S)

    def most_loss(self, reaches: float) -> float:
        """Return the loss that holding allows at a share that reaches the pot; without end where it was not truly held. [W/K]"""
        if not self.bounded:
            return math.inf
        return (reaches * self.hold_wh * 3600 + self.drift_j) / (self.hold_s * (self.end_c - self.ambient_c))


@dataclass(frozen=True, slots=True)
class End:
    """One answer: the share that reaches the pot, the loss to the air, and the steam near the boil. [-, W/K, kg/s]

    ``heat_wh`` and ``hold_wh`` are how the measured energy splits then, ``hold_s`` how long it was held.
    """

    reaches: float
    loss_w_per_k: float
    steam_kg_per_s: float
    heat_wh: float
    hold_wh: float
    hold_s: float
    holds_as_measured: bool = False


def three_ends(cook: MeanCook) -> tuple[End, ...]:
    """Return the three ends of what a measured cook leaves open; none where nothing is known.

    Parameters
    ----------
    cook : MeanCook

    Notes
    -----
    A climb does not tell apart what the heater loses (in proportion to power), what the pot loses (in proportion to time and to
    its height above the air) and what steams away near the boil. (a) The least reaches the pot, the rest is lost to the air. (b)
    The most reaches the pot. (c) The most reaches the pot, and as much as can be steamed away. What holding took bounds the loss
    to the air, and of an open pot what steams away with it; where it binds, less reaches the pot. Without a marked come-up
    nothing is lost, and the rest was holding; or losses explain climb and hold, with the least or with the most that reaches
    the pot.

    Examples
    --------
    An induction plate, 15 minutes up to the boil and half an hour at it, then a pressure cooker in the frost:

    >>> open_pot = MeanCook(11700, 900, 15, 20, 100, 100, 372, 900, 110, 1800, 0.74, 0.92, held=True)
    >>> [(round(end.reaches, 4), round(end.loss_w_per_k, 4), round(end.steam_kg_per_s * 1e3, 3)) for end in three_ends(open_pot)]
    [(0.7997, 0.0, 0.0), (0.8664, 2.5576, 0.0), (0.8664, 2.5576, 0.0)]
    >>> pressed = MeanCook(9500, 1800, 12, 22, 115.6, 100, 410, 1476, 45, 1800, 0.80, 0.97, held=True, sealed=True)
    >>> [(round(end.reaches, 4), round(end.loss_w_per_k, 4), round(end.steam_kg_per_s * 1e3, 3)) for end in three_ends(pressed)]
    [(0.8, 0.1633, 0.0), (0.8332, 0.9353, 0.0), (0.8572, 0.9583, 0.06)]
    """
    ends = _ends(cook) if cook.known else ()
    return ends if all(math.isfinite(figure) for end in ends for figure in (end.reaches, end.loss_w_per_k, end.hold_s)) else ()


def _ends(cook: MeanCook) -> tuple[End, ...]:
    least = max(cook.reaches_low, min(cook.lossless, MOST_REACHES))
    most = max(cook.reaches_high, least)
    if cook.heating_w is not None:
        return _unmarked_ends(cook, least, most)
    low, high = replace(_dry_end(cook, least), holds_as_measured=True), _dry_end(cook, most)
    return low, high, _sealed_end(cook, most) if cook.sealed and cook.bounded else _open_end(cook, high.reaches)


def _end(cook: MeanCook, reaches: float, loss: float, steam: float = 0.0) -> End:
    return End(reaches, loss, steam, cook.heat_wh, cook.hold_wh, cook.hold_s)


def _dry_end(cook: MeanCook, reaches: float) -> End:
    """Return the end without steam; above what holding allows less reaches the pot."""
    if not _too_fast(cook, reaches, cook.most_loss(reaches)):
        return _end(cook, reaches, _loss_of_climb(cook, reaches))
    reaches = _reaches_at_the_cap(cook, reaches)
    return _end(cook, reaches, max(cook.most_loss(reaches), 0.0))


def _open_end(cook: MeanCook, reaches: float) -> End:
    """Return the end that steams, of an open pot or of one that was not truly held.

    An open pot that is held steams as on its way there, or more: what holding took bounds what it steams and loses together.
    """
    up_c = cook.end_c - cook.ambient_c
    most = min(MOST_STEAM_KG_PER_S, max(cook.most_loss(reaches), 0.0) * up_c / LATENT_J_PER_KG)
    end = _steaming(cook, reaches, 0.0, most)
    if end.loss_w_per_k + end.steam_kg_per_s * LATENT_J_PER_KG / up_c <= cook.most_loss(reaches):
        return end

    def left(steam: float) -> float:
        return max(cook.most_loss(reaches) - steam * LATENT_J_PER_KG / up_c, 0.0)

    steam = root(lambda one: _faster(cook, reaches, left(one), one), 0.0, most, nearly=_NEARLY)
    return _end(cook, reaches, left(steam), steam)


def _sealed_end(cook: MeanCook, reaches: float) -> End:
    """Return the end that steams, of a pot that was held under pressure."""
    cap = cook.most_loss(reaches)
    if not _too_fast(cook, reaches, cap):
        return _end(cook, reaches, _loss_of_climb(cook, reaches))
    if not _too_fast(cook, reaches, cap, MOST_STEAM_KG_PER_S):
        return _steaming(cook, reaches, cap, MOST_STEAM_KG_PER_S)
    reaches = _reaches_at_the_cap(cook, reaches, MOST_STEAM_KG_PER_S)
    return _end(cook, reaches, cook.most_loss(reaches), MOST_STEAM_KG_PER_S)


def _steaming(cook: MeanCook, reaches: float, loss: float, most: float) -> End:
    """Return the end with as much steam as explains the climb, at most so much; what is missing then is loss to the air."""
    if not cook.way.steams:
        return _end(cook, reaches, _loss_of_climb(cook, reaches))
    if _too_fast(cook, reaches, loss, most):
        return _end(cook, reaches, _loss_of_climb(cook, reaches, most), most)
    return _end(cook, reaches, loss, root(lambda steam: _faster(cook, reaches, loss, steam), 0.0, most, nearly=_NEARLY))


def _loss_of_climb(cook: MeanCook, reaches: float, steam: float = 0.0) -> float:
    """Return the loss with which the climb takes as long as it did; none where it is too slow without any. [W/K]"""
    if not _too_fast(cook, reaches, 0.0, steam):
        return 0.0
    most = _most_loss_of_climb(cook, reaches * cook.power_w, steam)
    return root(lambda loss: _faster(cook, reaches, loss, steam), 0.0, most, nearly=_NEARLY)


def _most_loss_of_climb(cook: MeanCook, net_w: float, steam: float) -> float:
    """Return a loss that is too much for the climb: as it slows, its pot is hotter than half-way most of the time. [W/K]"""
    most = net_w / (cook.end_c - cook.ambient_c)
    top_c = min(cook.end_c, cook.boil_c) - cook.ambient_c
    if steam > 0 and cook.way.steams and top_c > 0:
        most = min(most, max(net_w - steam * LATENT_J_PER_KG, 0.0) / top_c)
    half_way_c = (cook.start_c + cook.end_c) / 2 - cook.ambient_c
    goes_on_slowing = steam <= 0 or cook.end_c <= cook.boil_c
    return min(most, (net_w - cook.way.lossless_j / cook.heat_s) / half_way_c) if goes_on_slowing and half_way_c > 0 else most


def _reaches_at_the_cap(cook: MeanCook, reaches: float, steam: float = 0.0) -> float:
    """Return the share that reaches the pot with which the climb takes as long as it did, at the loss that holding allows. [-]"""
    least = min(cook.lossless, MOST_REACHES, reaches)
    return root(lambda share: _faster(cook, share, cook.most_loss(share), steam), least, reaches, nearly=_NEARLY)


def _too_fast(cook: MeanCook, reaches: float, loss: float, steam: float = 0.0) -> bool:
    """Return whether it would climb faster than it did, so that more must have been lost."""
    return math.isfinite(loss) and _faster(cook, reaches, loss, steam) > _NEARLY


def _faster(cook: MeanCook, reaches: float, loss: float, steam: float) -> float:
    """Return how much faster than measured it would climb, as a share of its speed: -1 where it never gets there."""
    taken_s = climb_s(cook.way, reaches * cook.power_w, loss, steam)
    return cook.heat_s / taken_s - 1 if taken_s > 0 else math.inf


def _unmarked_ends(cook: MeanCook, least: float, most: float) -> tuple[End, ...]:
    """Return the ends of a cook whose come-up is not marked: nothing lost and a long hold, or losses that explain all of it."""

    def split(reaches: float, loss: float) -> End:
        taken_s = min(climb_s(cook.way, reaches * cook.power_w, loss), cook.heat_s)
        taken_wh = min(cook.power_w * taken_s / 3600, cook.heat_wh)
        return End(reaches, loss, 0.0, taken_wh, cook.heat_wh - taken_wh, cook.heat_s - taken_s)

    lossy = (split(reaches, _loss_of_all(cook, reaches)) for reaches in (least, most))
    return replace(split(most, 0.0), holds_as_measured=True), *lossy


def _loss_of_all(cook: MeanCook, reaches: float) -> float:
    """Return the loss with which climbing and holding together take what was measured. [W/K]"""
    up_c, power_w = cook.end_c - cook.ambient_c, cook.power_w

    def too_much(loss: float) -> float:
        taken_s = min(climb_s(cook.way, reaches * power_w, loss), cook.heat_s)
        held_wh = loss * up_c * (cook.heat_s - taken_s) / reaches / 3600
        return (power_w * taken_s / 3600 + held_wh) / cook.heat_wh - 1

    return max(root(too_much, 0.0, reaches * power_w / up_c, nearly=_NEARLY), 0.0)
