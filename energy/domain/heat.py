"""The heat that a cook needs: what food and vessel take, what steam and the air carry off, and how long heating takes."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass

from energy.domain.water import latent_heat_kj

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


class CannotGetThere(ValueError):
    """The losses eat all of the power before the temperature is reached; the message says where it stops."""


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


def boiled_off_g(power_w: float, span_s: float, temp_c: float) -> float:
    """Return the water that a net power drives off in a time. [g]

    Examples
    --------
    >>> round(boiled_off_g(500, 1128, 100))
    250
    """
    return power_w * span_s / latent_heat_kj(temp_c)


def temp_after_c(
    span_s: float, *, heat_j_per_k: float, power_w: float, start_c: float, ambient_c: float, loss_w_per_k: float = 0.0
) -> float:
    """Return the temperature after a time of heating at constant power, with losses to the air.

    Parameters
    ----------
    span_s : float, >= 0
        How long it was heated. [s]
    heat_j_per_k : float, > 0
        Heat capacity of food and vessel together. [J/K]
    power_w : float, >= 0
        Power into food and vessel. [W]
    start_c, ambient_c : float
        The temperature at the start, and around the vessel. [C]
    loss_w_per_k : float, >= 0
        What the vessel loses for each degree above the air (UA). [W/K]

    Returns
    -------
    float
        Temperature; nothing boils. [C]

    Examples
    --------
    >>> round(temp_after_c(120, heat_j_per_k=4200, power_w=500, start_c=20, ambient_c=20), 2)
    34.29
    """
    if loss_w_per_k == 0:
        return start_c + power_w * span_s / heat_j_per_k
    final_c = ambient_c + power_w / loss_w_per_k
    return final_c + (start_c - final_c) * math.exp(-loss_w_per_k * span_s / heat_j_per_k)


def heat_up_s(
    end_c: float, *, heat_j_per_k: float, power_w: float, start_c: float, ambient_c: float, loss_w_per_k: float = 0.0
) -> float:
    """Return how long heating to a temperature takes at constant power, with losses to the air.

    Parameters
    ----------
    end_c : float
        The temperature to reach. [C]
    heat_j_per_k, power_w, start_c, ambient_c, loss_w_per_k
        As for ``temp_after_c``.

    Returns
    -------
    float
        Time; 0 where the food is there already. [s]

    Raises
    ------
    CannotGetThere
        If the losses hold the temperature below ``end_c``.

    Notes
    -----
    t = C/UA ln((T_inf - T0) / (T_inf - T1)) with T_inf = T_air + P/UA; without losses C (T1 - T0) / P.

    Examples
    --------
    >>> round(heat_up_s(100, heat_j_per_k=4200, power_w=500, start_c=20, ambient_c=20))
    672
    >>> round(heat_up_s(100, heat_j_per_k=4200, power_w=500, start_c=20, ambient_c=20, loss_w_per_k=2))
    810
    """
    if end_c <= start_c:
        return 0.0
    if power_w <= 0:
        raise CannotGetThere(f"without power it stays at {start_c:.0f} °C")
    if loss_w_per_k == 0:
        return heat_j_per_k * (end_c - start_c) / power_w
    final_c = ambient_c + power_w / loss_w_per_k
    if final_c <= end_c:
        raise CannotGetThere(
            f"this cooker cannot get there: at {power_w:.0f} W it stops at {final_c:.0f} °C, short of {end_c:.0f} °C"
        )
    # The same logarithm as a factor on the lossless time, which stays exact where the losses are next to nothing.
    first_w = power_w - loss_w_per_k * (start_c - ambient_c)
    eaten = loss_w_per_k * (end_c - start_c) / first_w
    slower = -math.log1p(-eaten) / eaten if eaten > 1e-12 else 1.0
    return heat_j_per_k * (end_c - start_c) / first_w * slower


def holding_wh(loss_w_per_k: float, temp_c: float, ambient_c: float, span_s: float) -> float:
    """Return the energy that holding a temperature takes: UA (T - T_air) t. [Wh]

    Examples
    --------
    >>> holding_wh(1.5, 95, 15, 1800)
    60.0
    """
    return loss_w_per_k * (temp_c - ambient_c) * span_s / 3600


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
