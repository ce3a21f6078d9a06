"""What is to be bought for some recipes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from typing import Any

from costing.domain.electricity import UNCOOKED
from costing.domain.sheet import Sheet, make_sheet
from costing.models import SheetRules
from costing.queries.collecting import SheetAsk, cost_facts
from costing.queries.sheets import sides_of
from kitchen.models import Food, Recipe, Revision
from kitchen.queries import newest_revision, recipes_seen, revision_with_rows


@dataclass(frozen=True)
class Dish:
    """A recipe that may be shopped for, as its cook has it or as readers see it, and for how many; 0: not this time."""

    recipe: Recipe
    revision: Revision
    asked: int


def dishes(person: Any, asked: Mapping[str, int]) -> list[Dish]:
    """Return the recipes of a cook, and of other cooks' what readers see and is asked for; those asked for come first."""
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person)
    found = [Dish(recipe, newest_revision(recipe), asked.get(recipe.slug, 0)) for recipe in mine.order_by("title")]
    of_others = recipes_seen().filter(slug__in=asked).exclude(pk__in=mine)
    for recipe in of_others.select_related("current_edition").order_by("title"):
        if recipe.current_edition is not None:
            found.append(Dish(recipe, revision_with_rows(recipe.current_edition.revision_id), asked[recipe.slug]))
    return sorted(found, key=lambda dish: not dish.asked)


def sheets_for(chosen: list[Dish], *, at: datetime, rules: SheetRules | None = None) -> list[Sheet]:
    """Return the sheets of some dishes and of what is served with them, all at today's prices, so that they share their packs."""
    sheets = []
    for dish in chosen:
        sides = [(side.revision, Fraction(side.portions) * dish.asked) for side in sides_of(dish.recipe)]
        for revision, portions in [(dish.revision, Fraction(dish.asked)), *sides]:
            facts = cost_facts(revision, at=at, asked=SheetAsk(rules=rules, alone=True))
            if facts is not None and portions:
                sheets.append(make_sheet(facts, 1, UNCOOKED, portion=portions))
    return sheets


def aisles_of(sheets: list[Sheet]) -> dict[str, str]:
    """Return the aisles of what the sheets buy, by the food's name. One query."""
    names = {one.food for sheet in sheets for one in (*sheet.bought, *sheet.sides_bought)}
    return dict(Food.objects.filter(name__in=names).values_list("name", "aisle"))
