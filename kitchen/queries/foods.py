"""Foods on the bench: choosing one for a line, the list with its filters, and what uses a food."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitchen.models import Food, Line
from kitchen.queries.bench import foods_found, known_foods

MOST_CHOICES = 8
WHOSE = ("all", "own", "changed", "reference")


def foods_to_choose(words: str) -> list[Food]:
    """Return the foods that somebody may mean who has typed this much, the likeliest first, whole rows. Two queries."""
    found = [food.pk for food, _ in known_foods().search(words, most=MOST_CHOICES)]
    rows = Food.objects.in_bulk(found)
    return [rows[number] for number in found]


def foods_listed(words: str, whose: str) -> list[Food]:
    """Return the foods whose names hold every word: all, the cooks' own, the table's rows that a cook changed, or its others.

    Each has ``line_count``, the number of lines that use it. One query.
    """
    return [food for food in foods_found(words) if whose not in WHOSE[1:] or whose_is(food) == whose]


def whose_is(food: Food) -> str:
    """Return whose a food is: ``own`` (a cook's), ``changed`` (the table's, changed by a cook) or ``reference``."""
    if food.sr_number is None:
        return "own"
    return "changed" if food.kept_by_cook else "reference"


def is_bare(food: Food) -> bool:
    """Return whether a food of the cook's own has a name only: no weight of a measure, nothing of what it holds."""
    said = (food.g_per_ml, food.g_per_each, food.energy_kcal, food.water_g, food.weights or None, food.allergens or None)
    return food.sr_number is None and all(value is None for value in said)


@dataclass(frozen=True)
class FoodUse:
    """What uses a food: how many lines, and in words what else keeps it from being removed."""

    lines: int
    others: Sequence[str] = ()

    @property
    def free(self) -> bool:
        """Whether nothing uses it."""
        return not self.lines and not self.others


def food_use(food: Food) -> FoodUse:
    """Return what uses a food: lines, and rows of other apps that name it (prices, yields)."""
    others = []
    for relation in Food._meta.related_objects:
        if relation.related_model is Line:
            continue
        count = relation.related_model._default_manager.filter(**{relation.field.name: food}).count()
        if count:
            meta = relation.related_model._meta
            others.append(f"{count} {meta.verbose_name if count == 1 else meta.verbose_name_plural}")
    return FoodUse(food.lines.count(), others)
