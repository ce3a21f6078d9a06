"""The unit of figures whose names tell none: what makes the cooker's power possible, and agrees with watts beside."""

from __future__ import annotations

import math
from array import array
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import count, pairwise
from math import gcd

from energy.meters.files.columns.roles import power_unit, sure_power_unit
from energy.meters.files.columns.sensors import Series
from energy.meters.files.columns.shape import INTERVAL, POWER, TOTAL, in_base
from energy.meters.files.series.choice import Chosen
from energy.meters.files.series.settling import Track, energy_of, energy_of_watts, settled, usual_step_s
from kitchen.domain.remark import Remark, remark

MOST_W = 60_000.0
"""A supply of a house or a camp gives no more than this. [W]"""

_NEAR = 0.3
_ENOUGH = 50_000
"""So many values tell a usual power."""

_TRIED = ("kWh", "Wh", "W min", "kJ", "J", "MWh", "mWh")


@dataclass(frozen=True)
class Guessed:
    """A unit that no name told: of which column, the unit that its size says, and the one that it might be as well.

    ``factor`` is what the energy is multiplied by if it is the other one.
    """

    column: str
    unit: str
    other: str
    factor: float

    def doubt(self, read_wh: float) -> Remark:
        """Return the remark that asks for a yes."""
        figures = {"read_wh": read_wh, "other_wh": read_wh * self.factor}
        return remark("unit_guessed", column=self.column or "—", unit=self.unit, other=self.other, **figures)


_OTHERS = {"W": "kW", "kW": "W", "mW": "W", "kWh": "Wh"}


def _guessed(series: Series, unit: str) -> Guessed:
    other = _OTHERS.get(unit, "kWh")
    return Guessed(series.name, unit, other, in_base(series.role, other) / in_base(series.role, unit))


def with_units(chosen: Chosen, notes: list[str], guesses: dict[str, Guessed]) -> Chosen:
    """Return the chosen series with units for those whose names told none; ``guesses`` takes each by its role.

    Notes
    -----
    Power is in kW where it never passes 25 and has decimals. Energy takes the unit in which it agrees with the watts beside it
    within 30 %; without watts it is in kWh where that asks for no more than 60 kW, else in Wh. Energies of intervals that would
    ask for twice that even in Wh are readings of a counter that stood still.
    """
    power = chosen.power
    if power is not None and not power.unit:
        values = array("d", (value for value in power.values if not math.isnan(value)))
        unit = power_unit(values)
        if not sure_power_unit(values):
            guesses[POWER] = _guessed(power, unit)
        power = replace(power, unit=unit)
    total, interval = chosen.total, chosen.interval
    if interval is not None and _is_standing(interval):
        notes.append("The energies are too large for single intervals: they are read as a counter.")
        total, interval = total or replace(interval, role=TOTAL), None
    reference = _watts_wh(power)
    total = _named(total, reference, guesses)
    interval = _named(interval, reference, guesses)
    return replace(chosen, power=power, total=total, interval=interval)


def _named(series: Series | None, reference_wh: float, guesses: dict[str, Guessed]) -> Series | None:
    if series is None or series.unit:
        return series
    unit = _fitting(series, reference_wh)
    guesses[series.role] = _guessed(series, unit)
    return replace(series, unit=unit)


def _fitting(series: Series, reference_wh: float) -> str:
    plain = settled(replace(series, unit="Wh"), [])
    amount = energy_of(plain) if series.role == TOTAL else sum(max(value, 0.0) for value in plain.values)
    if reference_wh > 1 and amount > 0:
        off = {unit: abs(amount * in_base(INTERVAL, unit) / reference_wh - 1) for unit in _TRIED}
        best = min(off, key=lambda unit: off[unit])
        if off[best] <= _NEAR:
            return best
    whole = all(value == int(value) for value in plain.values)
    if whole and max(plain.values, default=0.0) > 20 and series.role == INTERVAL:
        return "Wh"
    return "kWh" if _highest_w(series.role, plain) * 1000 <= MOST_W else "Wh"


def _highest_w(role: str, plain: Track) -> float:
    """Return the usual highest power that energies ask for if they are in Wh: the rare glitch is left out. [W]"""
    step_s = usual_step_s(plain.times_s)
    if role == INTERVAL:
        powers = sorted(value * 3600 / step_s for value in _some(plain.values)) if math.isfinite(step_s) and step_s > 0 else []
    else:
        rows = zip(pairwise(plain.times_s), pairwise(plain.values), strict=True)
        powers = sorted(_some(array("d", ((v1 - v0) * 3600 / (t1 - t0) for (t0, t1), (v0, v1) in rows if t1 > t0 and v1 > v0))))
    return powers[min(int(len(powers) * 0.8), len(powers) - 1)] if powers else 0.0


def _some(values: Sequence[float]) -> Sequence[float]:
    """Return values of a long log at even distances that fall into step with no day and no week; all of a short one."""
    return values[:: next(step for step in count(len(values) // _ENOUGH + 1) if gcd(step, 42) == 1)]


def _is_standing(series: Series) -> bool:
    """Return whether intervals would ask for an impossible power, as a counter's readings do."""
    told = settled(replace(series, unit=series.unit or "Wh"), [])
    values = _some(array("d", (value for value in told.values if value > 0)))
    step_s = usual_step_s(told.times_s)
    if len(values) < 3 or not math.isfinite(step_s) or step_s <= 0:
        return False
    return sorted(values)[len(values) // 2] * 3600 / step_s > MOST_W * 2


def _watts_wh(power: Series | None) -> float:
    """Return what the watts beside an energy add up to, roughly. [Wh]"""
    if power is None:
        return 0.0
    track = settled(power, [])
    return energy_of_watts(track, held=True) if len(track.times_s) > 1 else 0.0
