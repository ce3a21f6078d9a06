"""The way to the first published recipe: its few steps, and where one goes on after each of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.urls import reverse

from kitchen.cards import FirstThing, registered
from kitchen.queries import recipes_on_bench


def first_things(recipes: Sequence[Any]) -> list[FirstThing]:
    """Return the steps to the first published recipe, in their order; none once a recipe was published."""
    if any(recipe.edition_number for recipe in recipes):
        return []
    newest = recipes[0] if recipes else None
    publish = reverse("kitchen:recipe-publish", args=[newest.slug]) if newest else ""
    written = newest is not None and newest.has_lines and newest.has_steps
    write = reverse("kitchen:recipe-edit", args=[newest.slug]) if newest else reverse("kitchen:recipe-new")
    things = [
        FirstThing("Write a recipe", "Paste its lines and its steps: amounts, stages and minutes are read.", write, written, 20),
        FirstThing("Check and publish", "See what readers will see, then let them.", publish, done=False, order=50),
        *(thing for card in registered() for thing in card.first_things(newest)),
    ]
    return sorted(things, key=lambda thing: thing.order)


def undone(things: Sequence[FirstThing]) -> FirstThing | None:
    """Return the first step that can be taken and is not done yet."""
    return next((thing for thing in things if not thing.done and thing.url), None)


def onward(person: Any) -> str:
    """Return where this person had better go on: the next step to the first published recipe, else the bench. Few queries."""
    step = undone(first_things(list(recipes_on_bench(person))))
    return step.url if step else reverse("kitchen:bench")
