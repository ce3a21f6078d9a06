"""What plain numbers are: a counter's or those of intervals, in large units or small ones."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from energy.meters.files.columns.shape import INTERVAL, TOTAL

_MOST_KW = 25.0
_MOST_W = 60_000.0
_FEW = 8


def energy_role(said: str, values: Sequence[float]) -> str:
    """Return whether energies are a counter's or those of intervals, by what the name says and by whether they climb.

    Examples
    --------
    >>> energy_role("", [1.0, 1.1, 1.1, 1.3, 1.4]), energy_role("", [0.2, 0.1, 0.3, 0.1]), energy_role("", [0.2, 0.2, 0.2])
    ('energy_total', 'energy_interval', 'energy_interval')
    """
    if len(values) < 2:
        return said or TOTAL
    steps = [later - earlier for earlier, later in itertools.pairwise(values)]
    falls = sum(step < 0 for step in steps)
    low = 0.1 * max(values)
    restarts = falls > 0 and all(later < low for earlier, later in itertools.pairwise(values) if later < earlier)
    gained = values[-1] - values[0] > 0.5 * (max(values) - min(values))
    climbs = max(values) > 0 and (gained or (restarts and len(values) > 3 * falls + 2))
    monotone = falls <= (max(1, 0.03 * len(steps)) if len(values) >= _FEW else 0)
    if monotone and climbs:
        spread = max(values) - min(values)
        if said == INTERVAL and (falls or (spread < 0.5 * max(values) and len(values) < 12)):
            return INTERVAL
        return TOTAL if said != INTERVAL or len(values) >= 12 else INTERVAL
    if falls and said == TOTAL and _resets(values):
        return TOTAL
    return INTERVAL if falls > 0.03 * len(steps) or said != TOTAL else TOTAL


def _resets(values: Sequence[float]) -> bool:
    """Return whether the falls of a counter all end near zero or happen rarely."""
    falls = [later for earlier, later in itertools.pairwise(values) if later < earlier]
    return len(falls) <= max(2, len(values) // 20) or all(low < 0.05 * max(values) for low in falls)


def power_unit(values: Sequence[float]) -> str:
    """Return W; kW where the watts would be those of a lamp and have decimals, mW where no supply gives as many."""
    highest = max(values, default=0.0)
    if highest > _MOST_W:
        return "mW"
    return "kW" if 0 < highest <= _MOST_KW and any(value != int(value) for value in values) else "W"


def sure_power_unit(values: Sequence[float]) -> str:
    """Return W where the first rows tell it, else nothing: a cooker that is still idle in them tells nothing.

    Examples
    --------
    >>> sure_power_unit([0, 1180.5]), sure_power_unit([0.0, 1.2])
    ('W', '')
    """
    return "W" if _MOST_KW < max(values, default=0.0) <= _MOST_W else ""
