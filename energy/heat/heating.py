"""The heat that a cook needs: what food and vessel take, and what steam carries off."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from energy.heat.water import latent_heat_kj

VESSEL_SPECIFIC_HEAT_KJ: dict[str, float] = {
    "aluminium": 0.90,
    "stainless steel": 0.50,
    "enamelled steel": 0.49,
    "cast iron": 0.46,
    "copper": 0.39,
    "glass": 0.84,
    "ceramic": 0.85,
}
"""Specific heat of what vessels are made of, from memory of handbook values. [kJ/(kg K)]"""

_ALSO_CALLED = {
    "aluminum": "aluminium",
    "enamel": "enamelled steel",
    "steel": "stainless steel",
    "iron": "cast iron",
    "stoneware": "ceramic",
    "earthenware": "ceramic",
    "clay": "ceramic",
}


@dataclass(frozen=True)
class FoodMass:
    """A mass of food, its mean specific heat on its way, and its start. [g, kJ/(kg K), C]"""

    mass_g: float
    specific_heat_kj: float
    start_c: float


def needed_heat_wh(foods: Iterable[FoodMass], end_c: float) -> float:
    """Return the heat that foods take on their way to one temperature.

    Parameters
    ----------
    foods : iterable of FoodMass
        What goes into the vessel.
    end_c : float
        Where all of it ends. [C]

    Returns
    -------
    float
        Heat. [Wh]

    Notes
    -----
    The sum of m cp (T_end - T_start). Nothing melts or boils.

    Examples
    --------
    >>> round(needed_heat_wh([FoodMass(1000, 4.193, 20)], 100), 1)
    93.2
    """
    return sum(food.mass_g / 1000 * food.specific_heat_kj * (end_c - food.start_c) for food in foods) / 3.6


def vessel_heat_wh(mass_g: float, material: str, start_c: float, end_c: float) -> float:
    """Return the heat that a vessel takes from one temperature to another. [Wh]

    Raises
    ------
    ValueError
        If the material is unknown; the message lists the known ones.

    Examples
    --------
    >>> round(vessel_heat_wh(1200, "stainless steel", 20, 100), 1)
    13.3
    """
    if material not in VESSEL_SPECIFIC_HEAT_KJ:
        raise ValueError(f"“{material}” is not a known material: {', '.join(VESSEL_SPECIFIC_HEAT_KJ)}")
    return mass_g / 1000 * VESSEL_SPECIFIC_HEAT_KJ[material] * (end_c - start_c) / 3.6


def vessel_material(words: str) -> str:
    """Return the material that an owner's words name, or nothing; of two, the one that takes less heat.

    Examples
    --------
    >>> [vessel_material(words) for words in ("Steel", "stoneware pot", "steel, aluminium base", "wood")]
    ['stainless steel', 'ceramic', 'stainless steel', '']
    """
    said = words.lower()
    named = [material for material in VESSEL_SPECIFIC_HEAT_KJ if material in said]
    named += [material for word, material in _ALSO_CALLED.items() if re.search(rf"\b{word}", said)]
    return min(named, key=VESSEL_SPECIFIC_HEAT_KJ.__getitem__, default="")


def steam_heat_wh(mass_g: float, temp_c: float) -> float:
    """Return the heat that driven-off water carries away at the temperature it boils at. [Wh]

    Examples
    --------
    >>> round(steam_heat_wh(60, 100), 1)
    37.6
    """
    return mass_g / 1000 * latent_heat_kj(temp_c) / 3.6


def heating_efficiency(needed_wh: float, measured_wh: float) -> float:
    """Return the share of a measured energy that food and vessel took. [-]

    Raises
    ------
    ValueError
        If nothing was measured.

    Examples
    --------
    >>> round(heating_efficiency(93.2, 110), 2)
    0.85
    """
    if measured_wh <= 0:
        raise ValueError("an efficiency needs a measured energy above zero")
    return needed_wh / measured_wh
