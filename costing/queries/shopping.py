"""What is to be bought for some recipes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from costing.domain.electricity import Electricity
from costing.domain.sheet import Sheet, make_sheet
from costing.queries.collecting import cost_facts
from kitchen.models import Food, Recipe
from kitchen.queries import newest_revision


@dataclass(frozen=True)
class Dish:
    """A recipe that may be shopped for, and for how many; 0: not this time."""

    recipe: Recipe
    servings: int
    asked: int


def dishes(person: Any, asked: Mapping[str, int]) -> list[Dish]:
    """Return the recipes of a cook with the servings asked for, those asked for first."""
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person)
    found = [Dish(recipe, newest_revision(recipe).servings, asked.get(recipe.slug, 0)) for recipe in mine.order_by("title")]
    return sorted(found, key=lambda dish: not dish.asked)


def sheets_for(chosen: list[Dish], *, at: datetime) -> list[Sheet]:
    """Return the sheets of some dishes, with their sides, at today's prices."""
    sheets = []
    for dish in chosen:
        facts = cost_facts(newest_revision(dish.recipe), at=at)
        if facts is not None:
            sheets.append(make_sheet(facts, dish.asked, Electricity(needed=False)))
    return sheets


def aisles_of(sheets: list[Sheet]) -> dict[str, str]:
    """Return the aisles of what the sheets buy, by the food's name. One query."""
    names = {one.food for sheet in sheets for one in (*sheet.bought, *sheet.sides_bought)}
    return dict(Food.objects.filter(name__in=names).values_list("name", "aisle"))
