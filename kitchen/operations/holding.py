"""Holding a recipe while something of it is written: whoever else wants to write it waits until the transaction is done."""

from __future__ import annotations

from kitchen.models import Recipe, Revision
from kitchen.queries import newest_revision


def hold_recipe(number: int) -> None:
    """Hold the recipe of this primary key until the transaction ends."""
    list(Recipe.objects.select_for_update().filter(pk=number))


def newest_held(recipe: Recipe) -> Revision:
    """Hold the recipe, and return its newest revision as it stands then, with its rows."""
    hold_recipe(recipe.pk)
    return newest_revision(recipe)
