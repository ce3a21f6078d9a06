"""What the heat of a measured cook says about another one: heat capacities, temperatures, and what was assumed of them.

Travels inside the energy card's facts; every figure is for the servings that were measured, in one potful.
"""

from __future__ import annotations

from dataclasses import dataclass

from energy.heat.need import HeatedFood
from kitchen.domain.remark import Said


@dataclass(frozen=True)
class CookedAtPower:
    """What the runs at one power took: up to the end and held there, the mean of so many. [Wh, s, Wh, s]"""

    heat_wh: float
    heat_s: float
    hold_wh: float
    hold_s: float
    runs: int


@dataclass(frozen=True)
class HeatModel:
    """The heat balance of one recipe on one appliance.

    Attributes
    ----------
    why_not : Said
        Why no balance can be made; then nothing else says anything.
    phi : float
        What facts of schema 1 and 2 kept, so that they are written as they were; above 0 only there (``unnoted``). [-]
    until : int
        How many of the stages, from the first one on, heat the food to its end temperature; 0 where no come-up is marked.
    heating_w : float
        The watts of the heater where no come-up is marked; 0 where one is, or where they are not known. [W]
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
    assumed : tuple of str
        What nobody noted, and a default stands for: ``food_start``, ``air``, ``gauge_pressure``, ``height``.
    powers : tuple of CookedAtPower
        The runs of two clearly different powers, the higher first; empty where all were cooked alike.
    foods : tuple of HeatedFood
        What the heat is made of, for the table; ``left_out`` names what is not in it, ``rough`` where water alone was known.
    """

    why_not: Said = ""
    phi: float = 0.0
    until: int = 0
    heating_w: float = 0.0
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
    assumed: tuple[str, ...] = ()
    powers: tuple[CookedAtPower, ...] = ()
    foods: tuple[HeatedFood, ...] = ()
    left_out: tuple[Said, ...] = ()
    rough: tuple[str, ...] = ()

    @property
    def usable(self) -> bool:
        """Whether an estimate may be made from it."""
        return not self.why_not

    @property
    def unnoted(self) -> tuple[str, ...]:
        """What a default may stand for: ``assumed``; of facts of schema 1 and 2, which did not keep that, all that it may be.

        Examples
        --------
        >>> HeatModel(assumed=("air",)).unnoted, HeatModel(phi=1.2).unnoted, HeatModel(phi=1.2, pressure_kpa=70).unnoted
        (('air',), ('air', 'height'), ('air', 'height', 'gauge_pressure'))
        """
        if self.phi <= 0:
            return self.assumed
        return ("air", "height", "gauge_pressure") if self.pressure_kpa > 0 else ("air", "height")

    def heats_j_per_k(self, k: float) -> float:
        """Return the heat capacity of k times the food; the part that does not grow is never more than all of it. [J/K]

        Examples
        --------
        >>> HeatModel(food_j_per_k=5000, fixed_j_per_k=1000).heats_j_per_k(2)
        9000
        >>> HeatModel(food_j_per_k=5000, fixed_j_per_k=6000).heats_j_per_k(2)
        5000
        """
        fixed_j_per_k = min(self.fixed_j_per_k, self.food_j_per_k)
        return k * (self.food_j_per_k - fixed_j_per_k) + fixed_j_per_k

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
