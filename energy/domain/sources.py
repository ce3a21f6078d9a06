"""From the socket to the battery, to the wall, and back: what a source gives, and whether it runs a cooker."""

from __future__ import annotations

import math
from dataclasses import dataclass

from energy.domain.ranges import above_zero, not_negative, share
from energy.domain.words import format_percent, format_watts

TIGHT_PCT = 90.0
"""From this share of a rating on, a source runs a cooker only just. [%]"""

PLUG_SHARE = 0.80
"""What one plug-in appliance may take of a branch circuit under the North American code (NEC 210.23(A)(1))."""


@dataclass(frozen=True)
class Verdict:
    """Whether a source runs a cooker.

    ``word`` is ``runs``, ``tight``, ``no`` or ``unknown``; ``words`` a sentence for a person; ``share_pct`` the cooker's watts
    in per cent of the source's rating and ``headroom_pct`` what is left of it (negative when there is none); None when unknown.
    """

    word: str
    words: str
    share_pct: float | None = None
    headroom_pct: float | None = None


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


def wall_wh(battery_wh: float, charge_efficiency: float) -> float:
    """Return what charging takes at the wall to put an energy back into the battery. [Wh]

    Examples
    --------
    >>> round(wall_wh(297, 0.9), 6)
    330.0
    """
    not_negative(battery_wh=battery_wh)
    share("charge_efficiency", charge_efficiency)
    return battery_wh / charge_efficiency


def path_efficiency(
    load_wh: float, load_uncertainty_wh: float, fall_pct: float, capacity_wh: float, step_pct: float = 1.0
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
        What the full battery holds, taken as exact. [Wh]
    step_pct : float, >= 0
        The smallest step of the charge display. [%]

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
    return PathEfficiency(value, 2 * math.hypot(u_load_wh / battery_wh, value * u_battery_wh / battery_wh), battery_wh)


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
    name: str = "the source",
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
    name : str
        How a sentence calls the source.

    Returns
    -------
    Verdict
        ``tight`` from 90 % of the rating on, and where only the surge rating covers the peak; ``no`` above the rating.

    Examples
    --------
    >>> verdict = will_it_run(700, 800, name="the small station")
    >>> verdict.word, verdict.share_pct, verdict.headroom_pct
    ('runs', 87.5, 12.5)
    >>> verdict.words.replace(chr(160), " ")
    'It runs: 700 W is 88 % of the 800 W that the small station gives.'
    >>> will_it_run(690, 600).words.replace(chr(160), " ")
    'It will not run: 690 W is more than the 600 W that the source gives.'
    >>> will_it_run(790, 800, peak_w=820, surge_w=1600).words.replace(chr(160), " ")
    'Tight: its peak of 820 W is covered only by the surge rating of the source.'
    """
    if steady_w is None or not continuous_w:
        missing = "the cooker's watts were not read" if steady_w is None else f"no rating in watts is known for {name}"
        return Verdict("unknown", f"Whether it runs is not known: {missing}.")
    brief_w = max(peak_w or 0.0, steady_w)
    asked_w = brief_w if brief_w <= continuous_w else steady_w
    share_pct = asked_w / continuous_w * 100
    if share_pct > 100:
        more = f"{format_watts(asked_w)} is more than the {format_watts(continuous_w)} that {name} gives"
        return Verdict("no", f"It will not run: {more}.", share_pct, 100 - share_pct)
    if brief_w > max(continuous_w, surge_w or 0.0):
        more = f"its peak of {format_watts(brief_w)} is more than {name} gives even for seconds"
        return Verdict("no", f"It will not run: {more}.", share_pct, 100 - share_pct)
    if brief_w > continuous_w:
        words = f"Tight: its peak of {format_watts(brief_w)} is covered only by the surge rating of {name}."
        return Verdict("tight", words, share_pct, 100 - share_pct)
    of = f"{format_watts(asked_w)} is {_share_words(share_pct)} of the {format_watts(continuous_w)} that {name} gives"
    if share_pct >= TIGHT_PCT:
        return Verdict("tight", f"Tight: {of}. Nothing else may run beside it.", share_pct, 100 - share_pct)
    return Verdict("runs", f"It runs: {of}.", share_pct, 100 - share_pct)


def _share_words(share_pct: float) -> str:
    """Return a share; one just below the limit keeps a tenth, so that nobody reads "it runs" beside 90 %."""
    just_below = share_pct < TIGHT_PCT <= share_pct + 0.5
    return f"{math.floor(share_pct * 10) / 10:g}\u00a0%" if just_below else format_percent(share_pct)


def hook_up_w(volts: float, amps: float) -> float:
    """Return what a hook-up gives: volts x amps. [W]

    Examples
    --------
    >>> hook_up_w(230, 16), hook_up_w(120, 15)
    (3680, 1800)
    """
    above_zero(volts=volts, amps=amps)
    return volts * amps


def hook_up_verdict(steady_w: float | None, volts: float, amps: float, name: str = "the hook-up") -> Verdict:
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
    >>> hook_up_verdict(1500, 120, 15).words.replace(chr(160), " ")
    'Tight: 1,500 W is 83 % of the 1,800 W that the hook-up gives; where the 80 % rule of the North American code applies, that is too much for one plug.'
    """  # noqa: E501
    limit_w = hook_up_w(volts, amps)
    verdict = will_it_run(steady_w, limit_w, name=name)
    if (
        verdict.share_pct is None
        or steady_w is None
        or not 100 <= volts <= 130
        or not PLUG_SHARE * 100 < verdict.share_pct <= 100
    ):
        return verdict
    words = (
        f"Tight: {format_watts(steady_w)} is {format_percent(verdict.share_pct)} of the {format_watts(limit_w)} "
        f"that {name} gives; where the 80\u00a0% rule of the North American code applies, that is too much for one plug."
    )
    return Verdict("tight", words, verdict.share_pct, verdict.headroom_pct)


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
