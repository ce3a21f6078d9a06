"""How much of a stage an element was on, from watts that are dense enough to show it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

ON_SHARE = 0.05
"""An element counts as on above this share of the highest watts."""

LONGEST_STEP_S = 30.0
"""Watts further apart than this do not show an element that ticks. [s]"""


def duty(watts: Sequence[tuple[float, float]], start_s: float, end_s: float, highest_w: float | None) -> float | None:
    """Return the share of a stretch in which the element was on, or None where the watts do not tell.

    Parameters
    ----------
    watts : sequence of (moment, watts)
        In the order of time. [s, W]
    start_s, end_s : float
        The stretch. [s]
    highest_w : float or None
        The highest watts of the whole cook. [W]

    Returns
    -------
    float or None
        0 to 1; None where watts are missing for more than a tenth of the stretch, or lie more than 30 s apart.

    Examples
    --------
    >>> ticks = [(at_s, 1000.0 if at_s % 60 < 20 else 0.0) for at_s in range(0, 601, 5)]
    >>> round(duty(ticks, 0, 600, 1000.0), 2), duty([(0, 900.0), (600, 0.0)], 0, 600, 900.0)
    (0.33, None)
    """
    if not highest_w or end_s <= start_s:
        return None
    on_s = seen_s = 0.0
    for (before_s, before_w), (after_s, _) in pairwise(watts):
        low, high = max(before_s, start_s), min(after_s, end_s)
        if high <= low or after_s - before_s > LONGEST_STEP_S:
            continue
        seen_s += high - low
        on_s += high - low if before_w > ON_SHARE * highest_w else 0.0
    return on_s / seen_s if seen_s >= 0.9 * (end_s - start_s) else None
