"""How sure a measured energy is, after the Guide to the expression of uncertainty in measurement (JCGM 100:2008).

The clause numbers in the references are from memory.
"""

from __future__ import annotations

import math

COVERAGE_FACTOR = 2.0
"""Standard to expanded uncertainty: about 95 % of a normal distribution."""


def display_wh(step_wh: float) -> float:
    """Return the standard uncertainty of the difference of two readings of a display.

    Parameters
    ----------
    step_wh : float, >= 0
        The smallest step that the display shows. [Wh]

    Returns
    -------
    float
        Standard uncertainty. [Wh]

    Raises
    ------
    ValueError
        If the step is negative.

    Notes
    -----
    Each reading is off by up to half a step, evenly spread: step / sqrt(12); two of them in quadrature make step / sqrt(6).

    References
    ----------
    JCGM 100:2008, 4.3.7 and F.2.2.1.

    Examples
    --------
    >>> round(display_wh(10), 3)
    4.082
    """
    if step_wh < 0:
        raise ValueError("a display's step should not be negative")
    return step_wh / math.sqrt(6)


def accuracy_wh(class_pct: float, energy_wh: float) -> float:
    """Return the standard uncertainty that a meter's accuracy class leaves: class x energy / sqrt(3).

    Parameters
    ----------
    class_pct : float, >= 0
        The accuracy class: the reading is right within plus or minus this share. [%]
    energy_wh : float, >= 0
        What was measured. [Wh]

    Returns
    -------
    float
        Standard uncertainty. [Wh]

    Raises
    ------
    ValueError
        If an argument is negative.

    References
    ----------
    JCGM 100:2008, 4.3.7 (even spread between limits).

    Examples
    --------
    >>> round(accuracy_wh(1, 210), 3)
    1.212
    """
    if class_pct < 0 or energy_wh < 0:
        raise ValueError("an accuracy class and an energy should not be negative")
    return class_pct / 100 * energy_wh / math.sqrt(3)


def split_wh(step_wh: float) -> float:
    """Return the standard uncertainty of cutting inside one step between two readings: step / sqrt(12). [Wh]

    Examples
    --------
    >>> round(split_wh(12), 3)
    3.464
    """
    return step_wh / math.sqrt(12)


def together(*parts: float) -> float:
    """Return independent standard uncertainties combined: the square root of the sum of their squares.

    References
    ----------
    JCGM 100:2008, 5.1.2.

    Examples
    --------
    >>> round(together(4.082, 1.212), 3)
    4.258
    """
    return math.hypot(*parts)


def expanded(standard: float) -> float:
    """Return the expanded uncertainty U = 2u.

    References
    ----------
    JCGM 100:2008, 6.2.1.

    Examples
    --------
    >>> expanded(4.25)
    8.5
    """
    return COVERAGE_FACTOR * standard
