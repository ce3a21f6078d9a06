"""A figure over time, and what the name of its sensor says of it: which quantity, of which device."""

from __future__ import annotations

import math
from array import array
from dataclasses import dataclass, field

from energy.meters.files.columns.names import named, plain, unit_in
from energy.meters.files.columns.roles import energy_role, sure_power_unit
from energy.meters.files.columns.shape import CHARGE, INTERVAL, POWER, TOTAL, UNITS, VALUE, in_base

_NEITHER = ("VA", "A", "V", "PF", "Hz", "other")
_QUANTITIES = frozenset(
    [
        "power",
        "energy",
        "total",
        "consumption",
        "current",
        "voltage",
        "watt",
        "watts",
        "w",
        "kwh",
        "wh",
        "kw",
        "apparent",
        "reactive",
        "factor",
        "state",
        "value",
        "leistung",
        "energie",
        "verbrauch",
        "gesamt",
        "today",
        "daily",
        "sum",
        "summation",
        "delivered",
        "active",
        "va",
        "v",
        "a",
        "hz",
        "battery",
        "charge",
        "soc",
        "instantaneous",
        "demand",
    ]
)
"""Words of a sensor's name that say what it measures, not of what."""


@dataclass
class Series:
    """One figure over time: its role, what its values are multiplied by, and the device that it belongs to.

    ``values`` are as written; not-a-number where nothing was read. ``unit`` is empty where a name says none.
    """

    role: str
    unit: str
    name: str
    device: str = ""
    times_s: array[float] = field(default_factory=lambda: array("d"))
    values: array[float] = field(default_factory=lambda: array("d"))

    @property
    def factor(self) -> float:
        """What its values are multiplied by to become W, Wh or %."""
        return in_base(self.role, self.unit)


def series_of(role: str, unit: str, who: str, what: str, column: str) -> Series | None:
    """Return an empty series for a device's figure, or None where its name says that it is neither power nor energy."""
    if role != VALUE:
        told = unit_in(what)
        return Series(role, unit or (told if told in UNITS.get(role, ()) else ""), column, group_of(who))
    said = named(who)
    told = unit_in(what) or said.unit
    if said.export or told in ("VA", "A", "V", "PF", "Hz", "other"):
        return None
    if told in UNITS[POWER]:
        return Series(POWER, told, who, group_of(who))
    if told in UNITS[INTERVAL]:
        return Series(said.role if said.role in (TOTAL, INTERVAL) else "", told, who, group_of(who))
    if told == "%" or said.role == CHARGE:
        return Series(CHARGE, "%", who, group_of(who)) if said.role == CHARGE else None
    if said.role in (POWER, TOTAL, INTERVAL):
        return Series(said.role, "", who, group_of(who))
    if what or said.role:
        return None if what else Series(VALUE, "", who, group_of(who))
    return Series(VALUE, "", who, group_of(who))


def roles_told(found: list[Series]) -> list[Series]:
    """Give a role to the series whose names said none: a counter climbs, watts go up and down."""
    for series in found:
        values = [value for value in series.values if not math.isnan(value)]
        if series.role == "":
            series.role = energy_role("", values)
        elif series.role == VALUE:
            climbing = energy_role("", values) == TOTAL and len(set(values[:2000])) > 2
            series.role, series.unit = (TOTAL, "") if climbing else (POWER, sure_power_unit(values))
    return found


def group_of(device: str) -> str:
    """Return what is left of a sensor's name without the words for its quantity: the device that it belongs to.

    Examples
    --------
    >>> group_of("sensor.kitchen_plug_power"), group_of("sensor.kitchen_plug_energy_total"), group_of("Kettle")
    ('sensor kitchen plug', 'sensor kitchen plug', 'kettle')
    """
    words = plain(device).split(" ")
    kept = [word for word in words if word not in _QUANTITIES]
    return " ".join(kept)
