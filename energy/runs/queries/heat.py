"""What a heat balance needs to know about a run: its recipe's lines with what each food is made of, and its method."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from django.db.models import Sum

from energy.heat.in_the_pot import CookedLine
from energy.heat.need import HeatNeed, Pot, Surroundings, heat_need
from energy.heat.specific_heat import Composition
from energy.models import Appliance, Run
from kitchen.domain.facts import StepFacts
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Food, Line, Revision
from kitchen.queries import line_facts


def heat_need_of(run: Run, stages: Sequence[str]) -> HeatNeed:
    """Return the heat that a run's food and pot must have taken, by the kinds of its stages. At most three queries."""
    return heat_need(
        cooked_lines(run.revision_id),
        [StepFacts(step.text, step.stage, temp_c=step.temp_c) for step in run.revision.steps.order_by("position")],
        k=Fraction(run.servings, run.revision.servings),
        pot=_pot(run.appliance),
        around=Surroundings(run.food_start_c, run.ambient_c, run.altitude_m),
        stages=stages,
    )


def cooking_minutes(revision: Revision) -> float:
    """Return the minutes that a method gives its cooking steps, as far as it gives any. One query."""
    steps = revision.steps.filter(stage__in=[kind for kind, stage in STAGE_KINDS.items() if stage.cooks])
    return float(steps.aggregate(together=Sum("minutes"))["together"] or 0)


def cooked_lines(revision_pk: int) -> list[CookedLine]:
    """Return the lines of a revision in their order, each with what its food is made of. One query."""
    lines = Line.objects.filter(part__revision=revision_pk).select_related("part", "food")
    return [_cooked_line(line) for line in lines.order_by("part__position", "position")]


def _cooked_line(line: Line) -> CookedLine:
    return CookedLine(line_facts(line), line.part.title, None if line.food is None else composition_of(line.food))


def composition_of(food: Food) -> Composition | None:
    """Return what a food is made of, or None where not even its water is known."""
    if food.water_g is None or not 0 <= food.water_g <= 100:
        return None
    return Composition(
        water=food.water_g,
        protein=food.protein_g or 0.0,
        fat=food.fat_g or 0.0,
        carbohydrate=food.carbohydrate_g or 0.0,
        fibre=food.fibre_g or 0.0,
        ash=food.ash_g or 0.0,
    )


def _pot(appliance: Appliance) -> Pot:
    mass_g = None if appliance.vessel_kg is None else appliance.vessel_kg * 1000
    return Pot(appliance.kind, mass_g, appliance.vessel_material, appliance.pressure_kpa)
