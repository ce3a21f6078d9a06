"""The heat that a wet cook must have taken by the time it boils, from its recipe; and the energy that was measured by then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from energy.domain.heat import FoodMass, heating_efficiency, needed_heat_wh, vessel_heat_wh, vessel_material
from energy.domain.in_the_pot import CookedLine, LeftOut, PotFood, sort_lines
from energy.domain.specific_heat import COLDEST_C, Composition, mean_specific_heat_kj, rough_specific_heat_kj
from energy.domain.water import boiling_point_c
from kitchen.domain.facts import StepFacts

DRY_COOKERS = frozenset({"oven", "air_fryer", "griddle"})
"""Kinds of appliance in which food gives off its water and ends at no one temperature."""


@dataclass(frozen=True)
class Pot:
    """What it was cooked in: the appliance's kind, its pot's mass and material where they are noted, and its pressure."""

    kind: str
    mass_g: float | None = None
    material: str = ""
    pressure_kpa: float | None = None


@dataclass(frozen=True)
class Surroundings:
    """How cold and how high it was. [C, C, m]"""

    food_start_c: float | None = None
    ambient_c: float | None = None
    altitude_m: float = 0.0


@dataclass(frozen=True)
class HeatedFood:
    """One food that took heat: its mass, its mean specific heat on the way, its water, and whether it stays for more servings."""

    name: str
    mass_g: float
    specific_heat_kj: float
    water_g: float = 0.0
    fixed: bool = False
    rough: bool = False

    @property
    def heat_j_per_k(self) -> float:
        """Its heat capacity. [J/K]"""
        return self.mass_g * self.specific_heat_kj


@dataclass(frozen=True)
class HeatNeed:
    """The heat that food and pot take on their way to the end temperature.

    Attributes
    ----------
    why_not : str
        Why there is no such heat; then the figures say nothing.
    food_wh, vessel_wh : float
        What each takes; 0 for a pot that is not known (it stands in ``left_out`` then). [Wh]
    food_g, vessel_g : float
        The masses that take it. [g]
    start_c, vessel_start_c, end_c : float
        From where food and pot start and where both end. [C]
    left_out : tuple of LeftOut
        What is not counted, and why.
    rough : tuple of str
        Foods whose specific heat comes from their water alone.
    foods : tuple of HeatedFood
        What is counted; empty in a record from before it was kept.
    """

    why_not: str = ""
    food_wh: float = 0.0
    vessel_wh: float = 0.0
    food_g: float = 0.0
    vessel_g: float = 0.0
    start_c: float = 0.0
    vessel_start_c: float = 0.0
    end_c: float = 0.0
    left_out: tuple[LeftOut, ...] = ()
    rough: tuple[str, ...] = ()
    foods: tuple[HeatedFood, ...] = ()

    @property
    def needed_wh(self) -> float:
        """What food and pot take together. [Wh]"""
        return self.food_wh + self.vessel_wh

    @property
    def at_least(self) -> bool:
        """Whether something that is not counted may have taken heat too."""
        return any(left.unsure for left in self.left_out)


@dataclass(frozen=True)
class HeatBalance:
    """The heat needed beside the energy measured by then, as it is kept with a run.

    ``until`` is the kind of the stage at whose end the food has its end temperature. ``at_most``: no reading was taken there, so
    that the energy up to the next reading stands for it. ``only_heats``: nothing was held, baked or reduced on the way.
    """

    need: HeatNeed
    measured_wh: float = 0.0
    until: str = ""
    at_most: bool = False
    only_heats: bool = False

    @property
    def efficiency(self) -> float | None:
        """The share of the energy that food and pot took; None where there is nothing to compare. [-]"""
        if self.need.why_not or self.measured_wh <= 0:
            return None
        return heating_efficiency(self.need.needed_wh, self.measured_wh)

    @property
    def exact(self) -> bool:
        """Whether the share is neither "at least" nor spread over stages that lose heat by design."""
        return self.only_heats and not self.at_most and not self.need.at_least


def heat_need(
    lines: Sequence[CookedLine],
    steps: Sequence[StepFacts],
    *,
    k: Fraction,
    pot: Pot,
    around: Surroundings,
    stages: Sequence[str],
) -> HeatNeed:
    """Return the heat that food and pot take until they boil, or why that cannot be said.

    Parameters
    ----------
    lines, steps
        The recipe that was cooked.
    k : Fraction
        Servings cooked over servings written.
    pot : Pot
        What it was cooked in.
    around : Surroundings
        Where the food starts (else the air), and the height above the sea.
    stages : sequence of str
        Kinds of the run's stages; without one that comes up or holds nothing boils.

    Returns
    -------
    HeatNeed
        A lower bound where ``at_least``.

    Notes
    -----
    Sum of m cp (T_end - T_start) with cp from the composition, and m cp (T_end - T_air) of the pot. T_end is the boiling point at
    the height, under a pressure cooker's pressure where a stage holds it, or the method's own temperature where that is lower.
    What is below freezing counts from 0 degrees. Steam that leaves is not counted: the true heat is rather more.

    Examples
    --------
    >>> from kitchen.domain.facts import LineFacts
    >>> water = LineFacts("1 kg water", Fraction(1), Fraction(1), "kg", "water")
    >>> cold = Surroundings(food_start_c=10, ambient_c=10)
    >>> need = heat_need([CookedLine(water, "", Composition(100))], [], k=Fraction(1), pot=Pot("kettle", 500, "steel"),
    ...                  around=cold, stages=["come_up"])
    >>> round(need.food_wh, 1), round(need.vessel_wh, 1), need.at_least
    (104.8, 6.2, False)
    """
    start_c = around.ambient_c if around.food_start_c is None else around.food_start_c
    reason = _why_not(pot, start_c, stages)
    if reason or start_c is None:
        return HeatNeed(why_not=reason)
    end_c = _end_c(steps, pot, around, stages)
    from_c = max(start_c, COLDEST_C)
    if from_c >= end_c:
        return HeatNeed(why_not=f"The food started at {start_c:.0f}\u00a0°C, as hot as it gets here.")
    foods, left = sort_lines(lines, steps, k, kettle=pot.kind == "kettle", start_noted=around.food_start_c is not None)
    if not foods:
        reason = "Of no line in the recipe is it known what it weighs and that it was in the pot."
        return HeatNeed(why_not=reason, left_out=tuple(left))
    if start_c < COLDEST_C:
        left.append(LeftOut("the ice", "It was below freezing at the start: what melting takes is not counted.", unsure=True))
    heated = tuple(_heated(food, from_c, end_c) for food in foods)
    masses = [FoodMass(food.mass_g, food.specific_heat_kj, from_c) for food in heated]
    need = HeatNeed(
        food_wh=needed_heat_wh(masses, end_c),
        food_g=sum(food.mass_g for food in foods),
        start_c=from_c,
        end_c=end_c,
        left_out=tuple(left),
        rough=tuple(food.name for food in heated if food.rough),
        foods=heated,
    )
    return _with_pot(need, pot, start_c if around.ambient_c is None else around.ambient_c)


def _why_not(pot: Pot, start_c: float | None, stages: Sequence[str]) -> str:
    if pot.kind in DRY_COOKERS:
        return (
            "Dry heat: the food gives off water and ends at no one temperature, so there is nothing to compare the energy with."
        )
    if not {"come_up", "hold"} & set(stages):
        return "No stage comes up to the boil or holds it, so there is nothing to compare the energy with."
    if start_c is None:
        return "Neither the food’s temperature at the start nor the air’s was noted, so the heat cannot be worked out."
    return ""


def _end_c(steps: Sequence[StepFacts], pot: Pot, around: Surroundings, stages: Sequence[str]) -> float:
    pressed = pot.kind == "pressure_cooker" and "hold" in stages
    boils_c = boiling_point_c(around.altitude_m, (pot.pressure_kpa or 0.0) if pressed else 0.0)
    aims_c = [float(step.temp_c) for step in steps if step.stage in ("come_up", "hold") and step.temp_c is not None]
    return min([boils_c, *([max(aims_c)] if aims_c else [])])


def _with_pot(need: HeatNeed, pot: Pot, start_c: float) -> HeatNeed:
    """Return the need with what the pot takes; a pot that is not known is left out and said."""
    material = vessel_material(pot.material)
    if not pot.mass_g or not material:
        unknown = LeftOut("the pot", "Its weight or its material is not noted with the appliance.", unsure=True)
        return replace(need, left_out=(*need.left_out, unknown))
    vessel_wh = vessel_heat_wh(pot.mass_g, material, start_c, need.end_c)
    return replace(need, vessel_wh=vessel_wh, vessel_g=pot.mass_g, vessel_start_c=start_c)


def _heated(food: PotFood, start_c: float, end_c: float) -> HeatedFood:
    """Return a food with its specific heat on this way."""
    specific_heat_kj, rough = _specific_heat_kj(food.composition, start_c, end_c)
    water_g = food.mass_g * food.composition.water / 100
    return HeatedFood(food.name, food.mass_g, specific_heat_kj, water_g, food.fixed, rough)


def _specific_heat_kj(composition: Composition, start_c: float, end_c: float) -> tuple[float, bool]:
    try:
        return mean_specific_heat_kj(composition, start_c, end_c), False
    except ValueError:
        return rough_specific_heat_kj(composition.water), True
