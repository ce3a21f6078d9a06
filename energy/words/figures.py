"""Figures with their units: watt-hours with their uncertainty, watts, minutes. Spaces inside a figure do not break."""

from __future__ import annotations

import math
from collections.abc import Sequence

_SPACE = "\u00a0"

NOTHING_WH = 0.05
"""Below this a stage drew nothing. [Wh]"""

_WHOLE_FROM, _WHOLE_THIRD = 10.0, 0.5
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


def range_step(low: float, high: float) -> float:
    """Return the step that the ends of a range are rounded to: 1, 2 or 5 of a place, at most a third of its half width.

    From ten on they are whole as soon as the range is three wide.

    Examples
    --------
    >>> range_step(492, 560), range_step(44.8, 50.9), range_step(221.6, 250.2), range_step(13.6, 15.7), range_step(1.2, 4.4)
    (10.0, 1.0, 2.0, 0.2, 0.5)
    """
    third = (high - low) / 6
    place = 10.0 ** math.floor(math.log10(third))
    step = next(step * place for step in (5, 2, 1) if step * place <= third * (1 + 1e-9))
    return 1.0 if step < 1 and low >= _WHOLE_FROM and third >= _WHOLE_THIRD else round(step, 12)


def printed_step(energy_wh: float, uncertainty_wh: float) -> float:
    """Return the place that ``format_wh`` rounds an energy to.

    Examples
    --------
    >>> printed_step(236.4, 7.2), printed_step(41.66, 0.84), printed_step(236.4, 0), printed_step(6.2, 0)
    (1.0, 0.1, 1.0, 0.1)
    """
    if uncertainty_wh > 0:
        return uncertainty_step(uncertainty_wh)
    return 1.0 if energy_wh >= 9.95 else 0.1


def each_step(totals: Sequence[float], step: float, servings: int, own_step: float, *, down: bool = False) -> float:
    """Return the place at which one serving's figure, times the servings, is the total as it is printed: its own or one finer.

    Parameters
    ----------
    totals : sequence of float
        Figures for all servings, printed to ``step``; ``down`` says that they are rounded down.
    own_step : float
        The place that one serving is sure of.

    Examples
    --------
    Six times 39 are 234, six times 39.3 are 236 again; eleven times 41 and 53 are the printed 450 and 580.

    >>> each_step([236.4], 1.0, 6, 1.0), each_step([452.0, 583.0], 10.0, 11, 1.0)
    (0.1, 1.0)
    """

    def places(value: float, place: float) -> int:
        return math.floor(value / place + 1e-9) if down else round(value / place)

    def holds(place: float) -> bool:
        return all(places(places(one / servings, place) * place * servings, step) == places(one, step) for one in totals)

    return own_step if holds(own_step) else round(own_step / 10, 12)


def each_wh(total_wh: float, uncertainty_wh: float, servings: int) -> str:
    """Return one serving's part of a measured energy, without its ±: as fine as it takes for all to make the printed total.

    Examples
    --------
    >>> each_wh(236.4, 7.2, 6).replace(chr(160), " "), each_wh(240, 7.2, 6).replace(chr(160), " ")
    ('39.4 Wh', '40 Wh')
    """
    each_u = uncertainty_wh / servings
    own = max(printed_step(total_wh / servings, each_u), printed_step(total_wh / servings, 0.0))
    return at_step(total_wh / servings, each_step([total_wh], printed_step(total_wh, uncertainty_wh), servings, own))


def at_step(energy_wh: float, step: float) -> str:
    """Return watt-hours rounded to a step."""
    return f"{to_step(energy_wh, step)}{_SPACE}Wh"


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
    return f"{to_step(energy_wh, step)}{_SPACE}±{_SPACE}{to_step(uncertainty_wh, step)}{_SPACE}Wh"


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
    return f"{to_step(energy_wh, step)}{_SPACE}Wh"


def rounded_down(value: float, step: float = 0.0) -> float:
    """Return a lower bound rounded down: to a step that it holds, to whole ones from ten on, to a tenth below.

    Examples
    --------
    >>> rounded_down(246.0, 10.0), rounded_down(29.7), rounded_down(6.19)
    (240.0, 29.0, 6.1)
    """
    return down_to(value, place_down(value, step))


def down_to(value: float, place: float) -> float:
    """Return a lower bound rounded down to a place.

    Examples
    --------
    >>> down_to(352.6, 1.0), down_to(58.77, 0.1)
    (352.0, 58.7)
    """
    return round(math.floor(value / place + 1e-9) * place, 12)


def rounded_up(value: float) -> float:
    """Return an upper bound rounded up: to whole ones from ten on, to a tenth below.

    Examples
    --------
    >>> rounded_up(29.2), rounded_up(6.11), rounded_up(30.0)
    (30.0, 6.2, 30.0)
    """
    return -rounded_down(-value) if value < 10 else float(math.ceil(value - 1e-9))


def place_down(value: float, step: float = 0.0) -> float:
    """Return the place that a lower bound is rounded down to."""
    finest = 1.0 if value >= 10 else 0.1
    return step if finest < step <= value else finest


def format_watts(power_w: float) -> str:
    """Return watts: whole ones, a tenth below ten.

    Examples
    --------
    >>> format_watts(690.4).replace(chr(160), " "), format_watts(1500).replace(chr(160), " ")
    ('690 W', '1,500 W')
    """
    return f"{_plain(power_w)}{_SPACE}W"


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


def about_s(span_s: float, *, at_least: bool = False) -> float:
    """Return an estimated span, rounded so that it does not look as if it were timed; the least of it is rounded down. [s]

    Examples
    --------
    >>> [about_s(span) for span in (38, 2645, 3900, 26940)], about_s(26940, at_least=True)
    ([38, 2640, 3900, 27000], 26400)
    """
    step_min = next((step for limit, step in _ABOUT_MIN if span_s <= 60 * limit), 60)
    whole = math.floor(span_s / 60 / step_min + (0.0 if at_least else 0.5)) * step_min * 60
    return whole if span_s >= 60 else span_s


def about_minutes(span_s: float, *, at_least: bool = False) -> str:
    """Return an estimated span in words, rounded as ``about_s`` does.

    Examples
    --------
    >>> [about_minutes(span).replace(chr(160), " ") for span in (38, 2640, 3900, 26940, 128580)]
    ['38 s', '44 min', '1 h 5 min', '7 h 30 min', '36 h']
    >>> about_minutes(26940, at_least=True).replace(chr(160), " ")
    '7 h 20 min'
    """
    return format_minutes(about_s(span_s, at_least=at_least))


def format_minute(at_s: float) -> str:
    """Return a moment of a run by its minute, without the word.

    Examples
    --------
    >>> format_minute(720), format_minute(750)
    ('12', '12.5')
    """
    return f"{round(at_s / 60, 1):g}"


def format_celsius(temp_c: float) -> str:
    """Return a temperature in whole degrees.

    Examples
    --------
    >>> format_celsius(-4.6).replace(chr(160), " ")
    '−5 °C'
    """
    return f"{temp_c:.0f}{_SPACE}°C".replace("-", "−")


def format_percent(share_pct: float) -> str:
    """Return a percentage: whole from ten on, a tenth below.

    Examples
    --------
    >>> format_percent(28.6).replace(chr(160), " "), format_percent(3.14).replace(chr(160), " ")
    ('29 %', '3.1 %')
    """
    return f"{_plain(share_pct)}{_SPACE}%"


def _plain(value: float) -> str:
    """Whole numbers from ten on (grouped in thousands), one decimal below where it says something."""
    if abs(value) >= 9.95:
        return f"{math.floor(value + 0.5):,}"
    return f"{round(value, 1):g}"


def to_step(value: float, step: float) -> str:
    """Return a value rounded to a step, with as many decimals as the step has, its thousands grouped.

    Examples
    --------
    >>> to_step(236.4, 10), to_step(41.66, 0.1), to_step(23820, 1000)
    ('240', '41.7', '24,000')
    """
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return f"{round(value / step) * step:,.{decimals}f}"
