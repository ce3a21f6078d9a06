"""Foods: the reference table's rows, and what a cook adds or changes.

Loading the reference table again is safe at any time: rows that are missing are added, rows that nobody touched are brought up
to date, and a row that a cook changed (``kept_by_cook``) or named first stays exactly as the cook left it.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django.db import transaction

from kitchen.domain.reference import load_reference
from kitchen.models import Food

FOOD_FIELDS = (
    "name",
    "aliases",
    "aisle",
    "g_per_ml",
    "g_per_each",
    "each_name",
    "weights",
    "refuse_pct",
    "refuse_words",
    "water_g",
    "protein_g",
    "fat_g",
    "carbohydrate_g",
    "fibre_g",
    "ash_g",
    "energy_kcal",
    "sodium_mg",
    "sugars_g",
    "saturated_fat_g",
    "allergens",
)


@transaction.atomic
def load_reference_foods() -> int:
    """Bring the reference table's rows into the foods, and return how many were added or brought up to date."""
    here = {food.sr_number: food for food in Food.objects.filter(sr_number__isnull=False)}
    taken = set(Food.objects.filter(sr_number__isnull=True).values_list("name", flat=True))
    taken |= {food.name for food in here.values() if food.kept_by_cook}
    new, changed = [], []
    for row in load_reference():
        values = _values(row)
        food = here.get(row.sr_number)
        if food is None and values["name"] not in taken:
            new.append(Food(sr_number=row.sr_number, **values))
        elif food is not None and not food.kept_by_cook and values["name"] not in taken and _take(food, values):
            changed.append(food)
    Food.objects.bulk_update(changed, FOOD_FIELDS, batch_size=40)
    Food.objects.bulk_create(new, batch_size=40)
    return len(new) + len(changed)


def _values(row: Any) -> dict[str, Any]:
    known = asdict(row)
    return {name: list(value) if isinstance(value, tuple) else value for name, value in known.items() if name in FOOD_FIELDS}


def _take(food: Food, values: dict[str, Any]) -> bool:
    """Set the values that differ; return whether any did."""
    differing = {name: value for name, value in values.items() if getattr(food, name) != value}
    for name, value in differing.items():
        setattr(food, name, value)
    return bool(differing)


def add_food(*, values: dict[str, Any]) -> Food:
    """Add a cook's own food."""
    return Food.objects.create(kept_by_cook=True, **values)


def change_food(*, food: Food, values: dict[str, Any]) -> Food:
    """Change a food; from then on loading the reference table leaves it alone. Unchanged values change nothing."""
    if _take(food, values):
        food.kept_by_cook = True
        food.save()
    return food
