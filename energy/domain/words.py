"""Figures in words: watt-hours with their uncertainty, watts, minutes, counts of runs. Spaces inside a figure do not break."""

from __future__ import annotations

import math

_SPACE = "\u00a0"

NOTHING_WH = 0.05
"""Below this a stage drew nothing. [Wh]"""

_ABOUT_MIN = ((60, 1), (180, 5), (600, 10))
"""Up to how many minutes an estimated time is rounded to how many; longer ones to the hour."""


def uncertainty_step(uncertainty: float) -> float:
    """Return the place that a value is rounded to: one or two significant digits of its uncertainty.

    Notes
    -----
    Two digits where the uncertainty begins with 10 to 35, one digit from 36 on: two digits at most, and never a digit that says
    more than it knows. The same rule as in the Particle Data Group's reviews.

    Examples
    --------
    >>> uncertainty_step(24.3), uncertainty_step(7.2), uncertainty_step(0.82)
    (1.0, 1.0, 0.1)
    """
    place = math.floor(math.log10(uncertainty))
    leading = uncertainty / 10.0**place
    return round(10.0 ** (place - 1 if leading < 3.55 else place), 12)


def format_wh(energy_wh: float, uncertainty_wh: float = 0.0) -> str:
    """Return watt-hours with their expanded uncertainty, rounded to match it.

    Examples
    --------
    >>> format_wh(236.4, 7.2).replace(chr(160), " ")
    '236 ± 7 Wh'
    >>> format_wh(1251.2, 61).replace(chr(160), " "), format_wh(41.66, 0.84).replace(chr(160), " ")
    ('1,250 ± 60 Wh', '41.7 ± 0.8 Wh')
    >>> format_wh(213).replace(chr(160), " ")
    '213 Wh'
    """
    if uncertainty_wh <= 0:
        return f"{_plain(energy_wh)}{_SPACE}Wh"
    step = uncertainty_step(uncertainty_wh)
    return f"{_to_step(energy_wh, step)}{_SPACE}±{_SPACE}{_to_step(uncertainty_wh, step)}{_SPACE}Wh"


def about_wh(energy_wh: float, uncertainty_wh: float) -> str:
    """Return watt-hours without their uncertainty, rounded to match it, to whole ones from ten on.

    For figures that follow from one with its ± beside it, so that one serving's 62 ± 100 reads as that 60 ± 100 does.

    Examples
    --------
    >>> about_wh(621.7, 68).replace(chr(160), " "), about_wh(62.0, 104).replace(chr(160), " ")
    ('620 Wh', '60 Wh')
    """
    if uncertainty_wh <= 0:
        return format_wh(energy_wh)
    step = uncertainty_step(uncertainty_wh)
    if step < 1 <= energy_wh / 10 or energy_wh < step / 2:
        return format_wh(energy_wh)
    return f"{_to_step(energy_wh, step)}{_SPACE}Wh"


def drawn_wh(energy_wh: float, uncertainty_wh: float) -> str:
    """Return the energy of one stage; ``nothing`` for one whose counter did not move.

    Examples
    --------
    >>> drawn_wh(0.0, 0.8), drawn_wh(1.7, 1.4).replace(chr(160), " ")
    ('nothing', '1.7 ± 1.4 Wh')
    """
    return format_wh(energy_wh, uncertainty_wh) if energy_wh >= NOTHING_WH else "nothing"


def format_range_wh(low_wh: float, high_wh: float) -> str:
    """Return a range of watt-hours, rounded to the place that its half width is sure of.

    Examples
    --------
    >>> format_range_wh(221.6, 250.2).replace(chr(160), " "), format_range_wh(0, 431).replace(chr(160), " ")
    ('222 to 250 Wh', 'up to 430 Wh')
    """
    half = (high_wh - low_wh) / 2
    if half <= 0:
        return format_wh(low_wh)
    step = uncertainty_step(half)
    if low_wh < step / 2:
        return f"up to {_to_step(high_wh, step)}{_SPACE}Wh"
    return f"{_to_step(low_wh, step)} to {_to_step(high_wh, step)}{_SPACE}Wh"


def format_watts(power_w: float) -> str:
    """Return watts: whole ones, a tenth below ten.

    Examples
    --------
    >>> format_watts(690.4).replace(chr(160), " "), format_watts(1500).replace(chr(160), " ")
    ('690 W', '1,500 W')
    """
    return f"{_plain(power_w)}{_SPACE}W"


def format_peak(peak_w: float | None, seen: bool) -> str:
    """Return the highest watts: at least so much where no display showed them; empty where nothing tells them.

    Examples
    --------
    >>> format_peak(690, True).replace(chr(160), " "), format_peak(660, False).replace(chr(160), " "), format_peak(None, False)
    ('690 W', 'at least 660 W', '')
    """
    if peak_w is None:
        return ""
    return format_watts(peak_w) if seen else f"at least {format_watts(peak_w)}"


def format_minutes(span_s: float) -> str:
    """Return a span in whole minutes, in hours and minutes from an hour on, in seconds below one minute.

    Examples
    --------
    >>> [format_minutes(span).replace(chr(160), " ") for span in (38, 540, 3600, 29880)]
    ['38 s', '9 min', '1 h', '8 h 18 min']
    """
    if 0 < span_s < 59.5:
        return f"{span_s:.0f}{_SPACE}s"
    hours, minutes = divmod(math.floor(span_s / 60 + 0.5), 60)
    if hours == 0:
        return f"{minutes}{_SPACE}min"
    return f"{hours}{_SPACE}h" + (f"{_SPACE}{minutes}{_SPACE}min" if minutes else "")


def about_minutes(span_s: float) -> str:
    """Return an estimated span, rounded so that it does not look as if somebody had timed it.

    Examples
    --------
    >>> [about_minutes(span).replace(chr(160), " ") for span in (38, 2640, 3900, 26940, 128580)]
    ['38 s', '44 min', '1 h 5 min', '7 h 30 min', '36 h']
    """
    step_min = next((step for limit, step in _ABOUT_MIN if span_s <= 60 * limit), 60)
    return format_minutes(span_s if step_min == 1 else math.floor(span_s / 60 / step_min + 0.5) * step_min * 60)


def format_moment(at_s: float) -> str:
    """Return a moment of a run by its minute.

    Examples
    --------
    >>> format_moment(720), format_moment(750)
    ('minute 12', 'minute 12.5')
    """
    return f"minute {round(at_s / 60, 1):g}"


def format_percent(share_pct: float) -> str:
    """Return a percentage: whole from ten on, a tenth below.

    Examples
    --------
    >>> format_percent(28.6).replace(chr(160), " "), format_percent(3.14).replace(chr(160), " ")
    ('29 %', '3.1 %')
    """
    return f"{_plain(share_pct)}{_SPACE}%"


def measured_words(runs: int) -> str:
    """Return how often something was measured.

    Examples
    --------
    >>> measured_words(1), measured_words(2), measured_words(3)
    ('measured, one run', 'measured twice', 'measured 3 times')
    """
    return {1: "measured, one run", 2: "measured twice"}.get(runs, f"measured {runs} times")


def _plain(value: float) -> str:
    """Whole numbers from ten on (grouped in thousands), one decimal below where it says something."""
    if abs(value) >= 9.95:
        return f"{math.floor(value + 0.5):,}"
    return f"{round(value, 1):g}"


def _to_step(value: float, step: float) -> str:
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{round(value / step) * step:,.{decimals}f}"
