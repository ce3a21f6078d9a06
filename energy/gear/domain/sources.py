"""From the socket to the battery, to the wall, and back: what a source gives, and whether it runs a cooker."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from energy.gear.domain.ranges import above_zero, not_negative, share
from kitchen.domain.remark import Remark, Said, remark

TIGHT_PCT = 90.0
"""From this share of a rating on, a source runs a cooker only just. [%]"""

PLUG_SHARE = 0.80
"""What one plug-in appliance may take of a branch circuit under the North American code (NEC 210.23(A)(1))."""


INVERTER_SPREAD = 0.035
"""How far an inverter's efficiency may be from what is written for it: half of the usual 85 to 92 of every 100 Wh."""

CAPACITY_SPREAD = 0.05
"""How far what a battery holds may be from its label, as a share of it: common practice; an old one may hold less still."""


def unsure(spread: float) -> float:
    """Return what lies evenly within +- ``spread``, as half of the range that holds it in 95 of 100 cases: 2 spread / sqrt(3).

    References
    ----------
    JCGM 100:2008, 4.3.7.

    Examples
    --------
    >>> round(unsure(0.05), 4)
    0.0577
    """
    return 2 * spread / math.sqrt(3)


def inverter_unsure(efficiency: float, idle_w: float) -> float:
    """Return how unsure an inverter's efficiency is, as a share of it (95 %); nothing where there is no inverter. [-]

    Examples
    --------
    >>> round(inverter_unsure(0.88, 9), 4), inverter_unsure(1, 0)
    (0.0459, 0.0)
    """
    return unsure(INVERTER_SPREAD) / efficiency if efficiency < 1 or idle_w > 0 else 0.0


def charge_unsure(wh_per_pct: float | None, wh_per_pct_uncertainty: float) -> float:
    """Return how unsure it is what one per cent of a charge holds, as a share of that (95 %): by cooks, else by the label. [-]

    Examples
    --------
    >>> round(charge_unsure(8.0, 0.2), 4), round(charge_unsure(None, 0), 4)
    (0.025, 0.0577)
    """
    return wh_per_pct_uncertainty / wh_per_pct if wh_per_pct else unsure(CAPACITY_SPREAD)


@dataclass(frozen=True)
class Verdict:
    """Whether a source runs a cooker.

    ``word`` is ``runs``, ``tight``, ``no`` or ``unknown``; ``said`` why, of the source ``name``; ``share_pct`` the cooker's watts
    in per cent of the source's rating; None when unknown.
    ``turned_up_w`` is the cooker's own rating, where that would be too much for a source that runs it as it was used.
    """

    word: str
    said: Remark
    name: Said = ""
    share_pct: float | None = None
    turned_up_w: float | None = None


@dataclass(frozen=True)
class PathEfficiency:
    """What reaches the socket of what leaves the battery, with its expanded uncertainty, and what left the battery. [-, -, Wh]"""

    value: float
    uncertainty: float
    battery_wh: float


def draw_from_battery_wh(load_wh: float, span_s: float, *, inverter_efficiency: float, idle_w: float) -> float:
    """Return the energy that a load at the socket takes out of the battery.

    Parameters
    ----------
    load_wh : float, >= 0
        Energy delivered at the socket. [Wh]
    span_s : float, >= 0
        How long the inverter was switched on. [s]
    inverter_efficiency : float, 0 < x <= 1
        AC out over DC in under load. [-]
    idle_w : float, >= 0
        What the inverter draws for itself. [W]

    Returns
    -------
    float
        Energy out of the battery. [Wh]

    Raises
    ------
    ValueError
        If an argument is outside its range; the message names it.

    Notes
    -----
    load / efficiency + idle x span / 3600.

    Examples
    --------
    >>> round(draw_from_battery_wh(180, 1800, inverter_efficiency=0.9, idle_w=10), 1)
    205.0
    """
    not_negative(load_wh=load_wh, span_s=span_s, idle_w=idle_w)
    share("inverter_efficiency", inverter_efficiency)
    return load_wh / inverter_efficiency + idle_w * span_s / 3600


def load_from_battery_wh(battery_wh: float, span_s: float, *, inverter_efficiency: float, idle_w: float) -> float:
    """Return what reached the socket of an energy measured at the battery; never below zero.

    The inverse of ``draw_from_battery_wh``, with the same arguments and errors.

    Examples
    --------
    >>> round(load_from_battery_wh(205, 1800, inverter_efficiency=0.9, idle_w=10), 1)
    180.0
    """
    not_negative(battery_wh=battery_wh, span_s=span_s, idle_w=idle_w)
    share("inverter_efficiency", inverter_efficiency)
    return max((battery_wh - idle_w * span_s / 3600) * inverter_efficiency, 0.0)


def share_of_charge(battery_wh: float, capacity_wh: float) -> float:
    """Return an energy out of the battery in per cent of its full charge.

    Parameters
    ----------
    battery_wh : float, >= 0
        Energy out of the battery. [Wh]
    capacity_wh : float, > 0
        What the full battery holds. [Wh]

    Returns
    -------
    float
        Share of a charge; above 100 where one charge does not suffice. [%]

    Raises
    ------
    ValueError
        If an argument is outside its range.

    Examples
    --------
    >>> round(share_of_charge(205, 1024), 1)
    20.0
    """
    not_negative(battery_wh=battery_wh)
    above_zero(capacity_wh=capacity_wh)
    return battery_wh / capacity_wh * 100


def meals_per_charge(battery_wh: float, capacity_wh: float, reserve_pct: float = 0.0) -> int:
    """Return how many whole meals one charge cooks and leaves its reserve.

    Parameters
    ----------
    battery_wh : float, > 0
        What one meal takes out of the battery. [Wh]
    capacity_wh : float, > 0
        What the full battery holds. [Wh]
    reserve_pct : float, 0 <= x < 100
        What should stay in it. [%]

    Returns
    -------
    int

    Raises
    ------
    ValueError
        If an argument is outside its range.

    Notes
    -----
    floor(capacity x (1 - reserve) / energy of one meal).

    Examples
    --------
    >>> meals_per_charge(297, 1024, reserve_pct=10)
    3
    """
    above_zero(battery_wh=battery_wh, capacity_wh=capacity_wh)
    if not 0 <= reserve_pct < 100:
        raise ValueError("reserve_pct should lie between 0 and 100")
    return math.floor(capacity_wh * (100 - reserve_pct) / 100 / battery_wh + 1e-9)


def path_efficiency(
    load_wh: float,
    load_uncertainty_wh: float,
    fall_pct: float,
    capacity_wh: float,
    step_pct: float = 1.0,
    *,
    capacity_spread: float = 0.0,
) -> PathEfficiency:
    """Return the efficiency from battery to socket of a cook that was measured at both ends.

    Parameters
    ----------
    load_wh : float, >= 0
        Energy at the socket. [Wh]
    load_uncertainty_wh : float, >= 0
        Its expanded uncertainty. [Wh]
    fall_pct : float, > 0
        By how much the charge display fell. [%]
    capacity_wh : float, > 0
        What the full battery holds. [Wh]
    step_pct : float, >= 0
        The smallest step of the charge display. [%]
    capacity_spread : float, >= 0
        How far the capacity may be off, as a share of it. [-]

    Returns
    -------
    PathEfficiency

    Raises
    ------
    ValueError
        If an argument is outside its range.

    Notes
    -----
    E / (dS x capacity); the fall is a difference of two readings of the display, so its standard uncertainty is step / sqrt(6);
    relative uncertainties add in quadrature and are doubled. The inverter's own draw is in it: this is the path, not the
    inverter alone.

    References
    ----------
    JCGM 100:2008, 5.1.6 (clause from memory).

    Examples
    --------
    >>> path = path_efficiency(213, 5, 38, 768)
    >>> round(path.value, 3), round(path.uncertainty, 3), round(path.battery_wh, 1)
    (0.73, 0.023, 291.8)
    """
    not_negative(load_wh=load_wh, load_uncertainty_wh=load_uncertainty_wh, step_pct=step_pct)
    above_zero(fall_pct=fall_pct, capacity_wh=capacity_wh)
    battery_wh = fall_pct / 100 * capacity_wh
    u_load_wh, u_battery_wh = load_uncertainty_wh / 2, charge_display_wh(capacity_wh, step_pct)
    value = load_wh / battery_wh
    relative = math.hypot(u_battery_wh / battery_wh, unsure(capacity_spread) / 2)
    return PathEfficiency(value, 2 * math.hypot(u_load_wh / battery_wh, value * relative), battery_wh)


def charge_display_wh(capacity_wh: float, step_pct: float = 1.0) -> float:
    """Return the standard uncertainty that a charge display leaves in the energy of a fall: step x capacity / sqrt(6). [Wh]

    Examples
    --------
    >>> round(charge_display_wh(1024), 2)
    4.18
    """
    return step_pct / 100 * capacity_wh / math.sqrt(6)


def will_it_run(
    steady_w: float | None,
    continuous_w: float | None,
    *,
    peak_w: float | None = None,
    surge_w: float | None = None,
    name: Said = "",
) -> Verdict:
    """Return whether a source runs a cooker, with a margin.

    Parameters
    ----------
    steady_w : float or None
        The highest power that the cooker draws for longer than seconds. [W]
    continuous_w : float or None
        What the source gives without end. [W]
    peak_w : float, optional
        The highest power of a moment, where that is more. [W]
    surge_w : float, optional
        What the source gives for seconds. [W]
    name : Said
        What the source is called.

    Returns
    -------
    Verdict
        ``tight`` from 90 % of the rating on, and where only the surge rating covers the peak; ``no`` above the rating.

    Examples
    --------
    >>> verdict = will_it_run(700, 800, name="the small station")
    >>> verdict.word, verdict.share_pct
    ('runs', 87.5)
    >>> verdict.said
    Remark(code='runs', values={'asked_w': 700.0, 'share_pct': 87.5, 'limit_w': 800.0})
    >>> will_it_run(690, 600).said
    Remark(code='above_rating', values={'asked_w': 690.0, 'limit_w': 600.0})
    >>> will_it_run(790, 800, peak_w=820, surge_w=1600).said
    Remark(code='only_by_surge', values={'peak_w': 820.0})
    """
    if steady_w is None or not continuous_w:
        return Verdict("unknown", remark("watts_unread" if steady_w is None else "rating_unknown"), name)
    brief_w = max(peak_w or 0.0, steady_w)
    asked_w = brief_w if brief_w <= continuous_w else steady_w
    share_pct = asked_w / continuous_w * 100
    figures = {"asked_w": asked_w, "share_pct": share_pct, "limit_w": continuous_w}
    if share_pct > 100:
        word, said = "no", remark("above_rating", asked_w=asked_w, limit_w=continuous_w)
    elif brief_w > max(continuous_w, surge_w or 0.0):
        word, said = "no", remark("above_surge", peak_w=brief_w)
    elif brief_w > continuous_w:
        word, said = "tight", remark("only_by_surge", peak_w=brief_w)
    elif share_pct >= TIGHT_PCT:
        word, said = "tight", remark("near_rating", **figures)
    else:
        word, said = "runs", remark("runs", **figures)
    return Verdict(word, said, name, share_pct)


def hook_up_w(volts: float, amps: float) -> float:
    """Return what a hook-up gives: volts x amps. [W]

    Examples
    --------
    >>> hook_up_w(230, 16), hook_up_w(120, 15)
    (3680, 1800)
    """
    above_zero(volts=volts, amps=amps)
    return volts * amps


def hook_up_verdict(steady_w: float | None, volts: float, amps: float, name: Said = "") -> Verdict:
    """Return whether a hook-up runs a cooker.

    Notes
    -----
    At 100 to 130 V the North American code is taken to apply: one plug-in appliance takes at most 80 % of the branch's rating;
    above that the verdict is ``tight`` at best. A cook under three hours is not a continuous load in that code.

    References
    ----------
    NFPA 70 (National Electrical Code), 210.23(A)(1).

    Examples
    --------
    >>> hook_up_verdict(1300, 230, 6).word, hook_up_verdict(1500, 120, 15).word, hook_up_verdict(1400, 120, 15).word
    ('tight', 'tight', 'runs')
    >>> hook_up_verdict(1800, 125, 16).said
    Remark(code='above_plug_share', values={'asked_w': 1800.0, 'share_pct': 90.0, 'limit_w': 2000.0})
    """
    limit_w = hook_up_w(volts, amps)
    verdict = will_it_run(steady_w, limit_w, name=name)
    if (
        verdict.share_pct is None
        or steady_w is None
        or not 100 <= volts <= 130
        or not PLUG_SHARE * 100 < verdict.share_pct <= 100
    ):
        return verdict
    said = remark("above_plug_share", asked_w=steady_w, share_pct=verdict.share_pct, limit_w=limit_w)
    return replace(verdict, word="tight", said=said)


def hours_of(energy_wh: float, device_w: float) -> float:
    """Return how long an energy feeds a device of so many watts. [h]

    Examples
    --------
    >>> hours_of(213, 100)
    2.13
    """
    not_negative(energy_wh=energy_wh)
    above_zero(device_w=device_w)
    return energy_wh / device_w
