"""Cells whose units change from one to the next, such as 980 W and 1.18 kW."""

from __future__ import annotations

import math

from energy.meters.files.columns.cells import number, unit_behind
from energy.meters.files.columns.names import unit_in
from energy.meters.files.columns.shape import INTERVAL, POWER, UNITS, in_base


def as_written(cell: str, decimal: str) -> float:
    """Return a cell in W or Wh by the unit behind its own number; not-a-number where it holds none.

    Examples
    --------
    >>> as_written("980 W", "."), as_written("1,18 kW", ","), as_written("2 Wh", "."), as_written("off", ".")
    (980.0, 1180.0, 2.0, nan)
    """
    value = number(cell, decimal)
    if value is None:
        return math.nan
    unit = unit_in(unit_behind(cell))
    return value * in_base(POWER if unit in UNITS[POWER] else INTERVAL, unit)
