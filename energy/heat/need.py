"""The heat that a wet cook must have taken by the time it boils, from its recipe; and the energy that was measured by then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from energy.heat.empty_fields import AIR, GAUGE, TAP
from energy.heat.heating import FoodMass, heating_efficiency, needed_heat_wh, vessel_heat_wh, vessel_material
from energy.heat.in_the_pot import CookedLine, LeftOut, PotFood, sort_lines
from energy.heat.specific_heat import COLDEST_C, Composition, mean_specific_heat_kj, rough_specific_heat_kj
from energy.heat.water import boiling_point_c
from energy.kinds import appliance_kind
from kitchen.domain.facts import StepFacts
from kitchen.domain.remark import Remark, Said, remark
from kitchen.domain.stages import STAGE_KINDS


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
    why_not : Said
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
    assumed : tuple of str
        What nobody noted, and a default stands for: ``food_start``, ``air``, ``gauge_pressure``, ``height``.
    """

    why_not: Said = ""
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
    assumed: tuple[str, ...] = ()

    @property
    def needed_wh(self) -> float:
        """What food and pot take together. [Wh]"""
        return self.food_wh + self.vessel_wh

    @property
    def at_least(self) -> bool:
        """Whether something that is not counted may have taken heat too."""
        return any(left.unsure for left in self.left_out)

    @property
    def guessed(self) -> bool:
        """Whether it starts from a default, so that it convicts no measurement."""
        return "food_start" in self.assumed


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
        """Whether the share is neither "at least" nor a guess, nor spread over stages that lose heat by design."""
        return self.only_heats and not self.at_most and not self.need.at_least and not self.need.guessed


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
    reason = _why_not(pot, steps, stages)
    if reason:
        return HeatNeed(why_not=reason)
    noted_c = around.ambient_c if around.food_start_c is None else around.food_start_c
    start_c = TAP.value if noted_c is None else noted_c
    end_c = _end_c(steps, pot, around, stages)
    from_c = max(start_c, COLDEST_C)
    if from_c >= end_c:
        return HeatNeed(why_not=remark("starts_hot", start_c=start_c))
    foods, left = sort_lines(
        lines, steps, k, kettle=appliance_kind(pot.kind).water_only, start_noted=around.food_start_c is not None
    )
    if not foods:
        return HeatNeed(why_not=remark("nothing_weighed"), left_out=tuple(left))
    if start_c < COLDEST_C:
        left.append(LeftOut(remark("the_ice"), remark("melting_uncounted"), unsure=True))
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
    need = replace(need, assumed=_assumed(pot, around, stages))
    return _with_pot(need, pot, AIR.value if around.ambient_c is None else around.ambient_c)


def _assumed(pot: Pot, around: Surroundings, stages: Sequence[str]) -> tuple[str, ...]:
    """Return what nobody noted; a height of nothing is one that was left empty."""
    empty = {
        "food_start": around.food_start_c is None and around.ambient_c is None,
        "air": around.ambient_c is None,
        "gauge_pressure": pot.pressure_kpa is None and gauge_kpa(pot.kind, None, stages) > 0,
        "height": around.altitude_m == 0,
    }
    return tuple(code for code, is_empty in empty.items() if is_empty)


def gauge_kpa(kind: str, pressure_kpa: float | None, stages: Sequence[str]) -> float:
    """Return the pressure that a cook ended at above the air; that of the usual pressure cooker where none is noted. [kPa]"""
    pressed = appliance_kind(kind).pressed and ("hold" in stages or not stages)
    return (GAUGE.value if pressure_kpa is None else pressure_kpa) if pressed else 0.0


def _why_not(pot: Pot, steps: Sequence[StepFacts], stages: Sequence[str]) -> Remark | None:
    """Return why nothing boils; a cook without marked stages does by its method, and what is closed holds nothing but boiling."""
    kind = appliance_kind(pot.kind)
    if kind.dry:
        return remark("dry_heat")
    boils = {"come_up", "hold"}
    by_method = not stages and (kind.closed or any(step.stage in boils for step in steps))
    unnamed = any(stage not in STAGE_KINDS for stage in stages)
    return None if boils & set(stages) or by_method or unnamed else remark("no_stage_boils")


def _end_c(steps: Sequence[StepFacts], pot: Pot, around: Surroundings, stages: Sequence[str]) -> float:
    boils_c = boiling_point_c(around.altitude_m, gauge_kpa(pot.kind, pot.pressure_kpa, stages))
    aims_c = [float(step.temp_c) for step in steps if step.stage in ("come_up", "hold") and step.temp_c is not None]
    return min([boils_c, *([max(aims_c)] if aims_c else [])])


def _with_pot(need: HeatNeed, pot: Pot, start_c: float) -> HeatNeed:
    """Return the need with what the pot takes; a pot that is not known is left out and said."""
    material = vessel_material(pot.material)
    if not pot.mass_g or not material:
        unknown = LeftOut(remark("the_pot"), remark("pot_not_noted"), unsure=True)
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
