"""The heat that warms a food by one degree, from what the food is made of."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

# cp = a + b t + c t2, kJ/(kg K), t in degrees Celsius.
_COMPONENTS: Mapping[str, tuple[float, float, float]] = {
    "water": (4.1762, -9.0864e-5, 5.4731e-6),
    "protein": (2.0082, 1.2089e-3, -1.3129e-6),
    "fat": (1.9842, 1.4733e-3, -4.8008e-6),
    "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6),
    "fibre": (1.8459, 1.8306e-3, -4.6509e-6),
    "ash": (1.0926, 1.8896e-3, -3.6817e-6),
}

COLDEST_C, HOTTEST_C = 0.0, 150.0


@dataclass(frozen=True)
class Composition:
    """What 100 g of a food hold, in grams. ``carbohydrate`` is the total, as food tables give it, with the fibre inside it."""

    water: float
    protein: float = 0.0
    fat: float = 0.0
    carbohydrate: float = 0.0
    fibre: float = 0.0
    ash: float = 0.0

    def shares(self) -> dict[str, float]:
        """Return the mass share of each component, fibre counted once.

        Raises
        ------
        ValueError
            If an amount is negative, or together they are more than 5 g from 100 g (alcohol, or a row with gaps).
        """
        grams = {
            "water": self.water,
            "protein": self.protein,
            "fat": self.fat,
            "carbohydrate": max(self.carbohydrate - self.fibre, 0.0),
            "fibre": self.fibre,
            "ash": self.ash,
        }
        total = sum(grams.values())
        if min(grams.values()) < 0 or not 95 <= total <= 105:
            raise ValueError(f"the components should be grams in 100 g of food; together they are {total:.1f} g")
        return {name: amount / 100 for name, amount in grams.items()}


def component_specific_heat_kj(component: str, temp_c: float) -> float:
    """Return the specific heat of one component of foods. [kJ/(kg K)]

    Raises
    ------
    ValueError
        If the component is unknown or the temperature is outside 0 to 150 degrees.

    References
    ----------
    Choi and Okos 1986, as tabulated in the ASHRAE Handbook, Refrigeration, "Thermal Properties of Foods"; the fat's slope from
    memory.

    Examples
    --------
    >>> round(component_specific_heat_kj("water", 20), 4), round(component_specific_heat_kj("water", 100), 4)
    (4.1766, 4.2218)
    """
    if component not in _COMPONENTS:
        raise ValueError(f"{component} is not one of {', '.join(_COMPONENTS)}")
    _within(temp_c)
    a, b, c = _COMPONENTS[component]
    return a + b * temp_c + c * temp_c**2


def specific_heat_kj(food: Composition, temp_c: float) -> float:
    """Return the specific heat of a food at one temperature.

    Parameters
    ----------
    food : Composition
        What it is made of.
    temp_c : float, 0 to 150
        Its temperature; the food is not frozen. [C]

    Returns
    -------
    float
        Specific heat. [kJ/(kg K)]

    Raises
    ------
    ValueError
        If the composition is impossible or the temperature is outside its range.

    Notes
    -----
    The sum of mass share x specific heat of each component. Fibre is part of the total carbohydrate and counted once. Dry starch
    and fatty meat may differ by 10 %.

    References
    ----------
    Choi and Okos 1986, as tabulated in the ASHRAE Handbook, Refrigeration, "Thermal Properties of Foods".

    Examples
    --------
    >>> round(specific_heat_kj(Composition(94.64, 0.75, 0.14, 3.65, 1.70, 0.82), 20), 3)
    4.043
    """
    return sum(share * component_specific_heat_kj(name, temp_c) for name, share in food.shares().items())


def mean_specific_heat_kj(food: Composition, start_c: float, end_c: float) -> float:
    """Return the mean specific heat of a food between two temperatures, exact for the polynomials. [kJ/(kg K)]

    Examples
    --------
    >>> round(mean_specific_heat_kj(Composition(100), 20, 100), 4)
    4.1934
    """
    _within(start_c)
    _within(end_c)
    mean_t = (start_c + end_c) / 2
    mean_t2 = (start_c**2 + start_c * end_c + end_c**2) / 3
    return sum(
        share * (a + b * mean_t + c * mean_t2)
        for (a, b, c), share in ((_COMPONENTS[name], share) for name, share in food.shares().items())
    )


def rough_specific_heat_kj(water_pct: float) -> float:
    """Return a rough specific heat where only the water content is known. [kJ/(kg K)]

    Notes
    -----
    0.837 + 3.349 x water share, for unfrozen food. Rough: some 10 %.

    References
    ----------
    Siebel 1892, as quoted in food engineering textbooks (from memory).

    Examples
    --------
    >>> round(rough_specific_heat_kj(75), 2)
    3.35
    """
    if not 0 <= water_pct <= 100:
        raise ValueError("water_pct should lie between 0 and 100")
    return 0.837 + 3.349 * water_pct / 100


def _within(temp_c: float) -> None:
    if not COLDEST_C <= temp_c <= HOTTEST_C:
        raise ValueError(f"the specific heats hold from {COLDEST_C:g} to {HOTTEST_C:g} °C, not at {temp_c:g} °C")
