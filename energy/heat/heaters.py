"""How much of what a heater draws reaches the pot: one table. The pot's own losses to the air are not in it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Heater:
    """The least and the most of its energy that a heater brings into the pot. [-]"""

    low: float
    high: float


HEATERS: dict[str, Heater] = {
    # Wrapped into a cooker that holds pressure, with its electronics: common practice.
    "pressure": Heater(0.80, 0.97),
    # The same without pressure: GB 12021.6 grades rice cookers from 0.76 to 0.89 with their losses (from memory).
    "rice": Heater(0.78, 0.95),
    # A coil below the pot: GB 21456 grades induction cookers from 0.82 to 0.90 (from memory), and poor pots do worse.
    "induction": Heater(0.74, 0.92),
    # A plate that is heated first: 0.74 in the tests of 10 CFR 430, appendix I (from memory); its ends are common practice.
    "plate": Heater(0.68, 0.87),
    # In the water or under its floor: 0.79 to 0.90 in household tests with the kettle's losses; its ends are common practice.
    "immersed": Heater(0.86, 0.98),
    # Of no kind that is told: the widest of the others.
    "untold": Heater(0.68, 0.97),
}


def heater(key: str) -> Heater:
    """Return a heater's band; one that this program does not know has the widest.

    Examples
    --------
    >>> heater("induction").low, heater("anything").high
    (0.74, 0.97)
    """
    return HEATERS.get(key) or HEATERS["untold"]
