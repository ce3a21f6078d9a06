"""What the heat balance of a measured cook says about another one: heat capacities, temperatures, and one number that calibrates.

Travels inside the energy card's facts; every figure is for the servings that were measured, in one potful.
"""

from __future__ import annotations

from dataclasses import dataclass

from energy.domain.heat_need import HeatedFood


@dataclass(frozen=True)
class HeatModel:
    """The calibrated balance of one recipe on one appliance.

    Attributes
    ----------
    why_not : str
        Why no balance can be made; then nothing else says anything.
    phi : float
        Measured energy up to the boil over the heat that food and vessel took; one number for appliance and recipe. [-]
    until : int
        How many of the stages, from the first one on, heat the food to its end temperature.
    food_j_per_k, fixed_j_per_k, vessel_j_per_k : float
        Heat capacity of all the food, of the part of it that does not grow with the servings, and of the vessel. [J/K]
    water_g : float
        Water in the food, for the ice that a frozen start would have to melt. [g]
    food_start_c, vessel_start_c, end_c, altitude_m, pressure_kpa
        Where it started and ended, how high it was, and the gauge pressure (0 without). [C, C, C, m, kPa]
    ambient_c : float
        The air; the start of the vessel where it was not noted. [C]
    start_noted : bool
        Whether the food's temperature at the start was noted, or taken from the air's.
    boils : bool
        Whether the end is the boiling point (it then moves with the altitude), or the method's own temperature.
    foods : tuple of HeatedFood
        What the heat is made of, for the table; ``left_out`` names what is not in it, ``rough`` where water alone was known.
    """

    why_not: str = ""
    phi: float = 0.0
    until: int = 0
    food_j_per_k: float = 0.0
    fixed_j_per_k: float = 0.0
    vessel_j_per_k: float = 0.0
    water_g: float = 0.0
    food_start_c: float = 0.0
    vessel_start_c: float = 0.0
    end_c: float = 0.0
    ambient_c: float = 0.0
    altitude_m: float = 0.0
    pressure_kpa: float = 0.0
    start_noted: bool = False
    boils: bool = True
    foods: tuple[HeatedFood, ...] = ()
    left_out: tuple[str, ...] = ()
    rough: tuple[str, ...] = ()

    @property
    def usable(self) -> bool:
        """Whether an estimate may be made from it."""
        return not self.why_not

    @property
    def food_wh(self) -> float:
        """The heat that the food took. [Wh]

        Examples
        --------
        >>> round(HeatModel(food_j_per_k=4190, food_start_c=20, end_c=100).food_wh, 1)
        93.1
        """
        return self.food_j_per_k * (self.end_c - self.food_start_c) / 3600

    @property
    def vessel_wh(self) -> float:
        """The heat that the vessel took. [Wh]"""
        return self.vessel_j_per_k * (self.end_c - self.vessel_start_c) / 3600

    @property
    def needed_wh(self) -> float:
        """Food and vessel together. [Wh]"""
        return self.food_wh + self.vessel_wh
