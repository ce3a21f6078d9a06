"""A published collection as plain JSON for programs."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from kitchen.gathering import Gathered, Gathering
from kitchen.models import Recipe

COLLECTION_SCHEMA = 1


def open_collection(found: Gathering, *, title: str, summary: str, address: str, root: str) -> dict[str, Any]:
    """Return the recipes in their order with the sums of their figures; ``root`` is the whole address of the site.

    A sum has a ``low`` and a ``high``; where it is the least of more, ``at_least`` says so, ``high`` is null and ``lacks`` tells
    what is missing; ``about`` says that nobody knows how far it may be off. Units end the names.
    """
    return {
        "schema": COLLECTION_SCHEMA,
        "url": address,
        "name": title,
        "summary": summary,
        "recipes": [recipe_entry(dish, root) for dish in found.dishes],
        "figures": {name: dict(figure) for name, figure in found.figures.items()},
        "lacks": list(found.lacks),
        "charges": list(found.answer.words) if found.answer else [],
        "allergens": [one.key for one in found.contains],
        "allergens_on_labels": [one.key for one in found.may_contain],
        "allergens_unknown": found.not_known,
    }


def recipe_entry(dish: Gathered, root: str) -> dict[str, Any]:
    """Return where a recipe stands, as a page and as data, and its edition."""
    slug = dish.page.recipe.slug
    return {
        "name": dish.page.recipe.title,
        "servings": dish.page.request.servings,
        "url": dish.frame.address,
        "path": dish.frame.path,
        "json": root + reverse("kitchen:recipe-json", args=[slug]),
        "edition": dish.frame.edition_number,
        "published": dish.frame.published_at.isoformat() if dish.frame.published_at else None,
    }


def listed(recipe: Recipe, root: str) -> dict[str, Any]:
    """Return the same of a recipe whose page is not made, as far as it is known without it."""
    edition, path = recipe.current_edition, reverse("kitchen:recipe", args=[recipe.slug])
    return {
        "name": edition.plate.get("title", recipe.title) if edition else recipe.title,
        "url": root + path,
        "path": path,
        "json": root + reverse("kitchen:recipe-json", args=[recipe.slug]),
        "edition": edition.number if edition else None,
        "published": edition.published_at.isoformat() if edition else None,
    }
