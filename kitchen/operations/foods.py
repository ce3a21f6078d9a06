"""Foods: the reference table's rows, and what a cook adds or changes.

Loading the reference table again is safe at any time: rows that are missing are added, rows that nobody touched are brought up
to date, and a row that a cook changed (``kept_by_cook``) or named first stays exactly as the cook left it.
"""

from __future__ import annotations

from dataclasses import asdict, fields
from datetime import datetime
from typing import Any

from django.db import transaction
from django.urls import reverse

from kitchen.domain.archive import FoodDocument
from kitchen.domain.lines import parse_line
from kitchen.domain.matching import same_name
from kitchen.domain.reading import LineReading
from kitchen.domain.reference import ReferenceFood
from kitchen.domain.rules import default_rule
from kitchen.models import Food, Line
from kitchen.operations.editing import correct_line
from kitchen.operations.journal import Hand, noted
from kitchen.queries import food_use
from kitchen.queries.reading import READ_FIELDS
from kitchen.reference import load_reference
from kitchen.shared import SharedKind

FOOD_FIELDS = tuple(field.name for field in fields(FoodDocument) if field.name != "sr_number")


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


@transaction.atomic
def add_food(*, values: dict[str, Any], by: Hand | None = None) -> Food:
    """Add a cook's own food."""
    return _save(Food(kept_by_cook=True, **values), by)


@transaction.atomic
def change_food(*, food: Food, values: dict[str, Any], by: Hand | None = None) -> Food:
    """Change a food; from then on loading the reference table leaves it alone. Unchanged values change nothing."""
    if _take(food, values):
        food.kept_by_cook = True
        _save(food, by)
    return food


def weigh_food(*, food: Food, unit: str, g: float, by: Hand | None = None) -> Food:
    """Say what one of a unit of a food weighs ("" for a whole one), instead of what was said of that unit before. [g]"""
    others = [weight for weight in food.weights if (weight["unit"], weight["words"]) != (unit, "")]
    return change_food(food=food, values={"weights": [*others, {"unit": unit, "words": "", "g": g}]}, by=by)


def _save(food: Food, by: Hand | None) -> Food:
    with noted(food, by):
        food.save()
    return food


class FoodInUse(Exception):
    """A line, a price or a yield names the food, so that it cannot be removed; the message says what."""


class NotInTable(Exception):
    """The food is the cook's own: the reference table has no row for it."""


@transaction.atomic
def remove_food(*, food: Food, by: Hand | None = None) -> None:
    """Remove a food of the cook's own that nothing uses.

    Raises
    ------
    FoodInUse
        If something uses it, or if it is a row of the reference table, which would come back anyway.
    """
    food = Food.objects.select_for_update().get(pk=food.pk)
    use = food_use(food)
    if food.sr_number is not None:
        raise FoodInUse("It is a row of the reference table: it would come back when the table is loaded.")
    if not use.free:
        lines = [f"{use.lines} ingredient line{'' if use.lines == 1 else 's'}"] if use.lines else []
        raise FoodInUse(f"It is used by {', '.join([*lines, *use.others])}.")
    with noted(food, by):
        food.delete()


@transaction.atomic
def reset_food(*, food: Food, by: Hand | None = None) -> Food:
    """Undo what cooks changed in a row of the reference table: the table's values again, and loading it keeps them up to date.

    Raises
    ------
    NotInTable
        If the table has no such row, or another food has the row's name by now.
    """
    row = _row_of(food)
    if row is None or Food.objects.filter(name__iexact=row.name).exclude(pk=food.pk).exists():
        raise NotInTable
    _take(food, _values(row))
    food.kept_by_cook = False
    return _save(food, by)


def _row_of(food: Food) -> ReferenceFood | None:
    return next((row for row in load_reference() if row.sr_number == food.sr_number), None)


def link_line(*, line: Line, food: Food | None, by: Any, at: datetime) -> Line:
    """Link a line to the food that the cook chose, or to none; the rest of how it is read stays. Raises as ``correct_line``."""
    read: dict[str, Any] = {name: getattr(line, name) for name in READ_FIELDS}
    if not line.corrected:
        read["rule"] = default_rule(parse_line(line.text), None if food is None else food.aisle)
    read |= {"food": food, "sure": None, "also": tuple(line.also)}
    return correct_line(line=line, reading=LineReading(**read), by=by, at=at)


@transaction.atomic
def remember_name(*, food: Food, name: str, by: Hand | None = None) -> Food:
    """Keep a name as another name of the food, so that lines with it link to it at once; the food is the cook's from then on.

    Another food that a cook gave the same name loses it: a name means one food.
    """
    for other in Food.objects.filter(kept_by_cook=True).exclude(pk=food.pk):
        if any(same_name(name, alias) for alias in other.aliases):
            forget_name(food=other, name=name, by=by)
    aliases = [*(alias for alias in food.aliases if not same_name(name, alias)), " ".join(name.split())]
    return change_food(food=food, values={"aliases": aliases}, by=by)


@transaction.atomic
def forget_name(*, food: Food, name: str, by: Hand | None = None) -> Food:
    """Take another name off the food; a row of the table that has its own values again is the table's again."""
    food.aliases = [alias for alias in food.aliases if not same_name(name, alias)]
    row = _row_of(food) if food.sr_number is not None else None
    food.kept_by_cook = row is None or any(getattr(food, key) != value for key, value in _values(row).items())
    return _save(food, by)


def shared_foods() -> SharedKind:
    """Return the kitchen's own sort of shared things."""
    return SharedKind("foods", Food, "food", lambda number: reverse("kitchen:food-edit", args=[number]), lambda food: food.save())
