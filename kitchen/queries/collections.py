"""Collections: those of a cook on the bench, and what readers see of one."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import Count, OuterRef, QuerySet, Subquery

from kitchen.collected import CollectedRecipe, Collection
from kitchen.models import Edition, Recipe, Revision
from kitchen.queries.published import recipes_seen


def collections_on_bench(person: Any) -> QuerySet[Collection]:
    """Return the collections that this person may change, the last changed first, with ``count`` recipes each. One query."""
    mine = Collection.objects.all() if person.is_superuser else Collection.objects.filter(owner=person)
    return mine.select_related("owner").annotate(count=Count("dishes")).order_by("-updated_at", "title")


def collections_shown() -> QuerySet[Collection]:
    """Return the collections that readers see, by title."""
    return Collection.objects.filter(published_at__isnull=False, withdrawn_at=None).order_by("title", "pk")


def recipes_to_collect(person: Any) -> QuerySet[Recipe]:
    """Return what this person may put into a collection: their own recipes, and whatever readers see."""
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person) | recipes_seen()
    return mine.order_by("title", "pk")


def dishes_on_bench(collection: Collection) -> list[Any]:
    """Return the recipes of a collection in their order, each with the servings for which it is ``written``. One query."""
    newest = Revision.objects.filter(recipe=OuterRef("recipe")).order_by("-number").values("servings")
    return list(collection.dishes.select_related("recipe").annotate(written=Subquery(newest[:1])))


def dishes_shown(collection: Collection) -> list[CollectedRecipe]:
    """Return those of a collection's recipes that readers see, in their order, each with its edition. One query."""
    seen = collection.dishes.filter(recipe__current_edition__isnull=False, recipe__withdrawn_at=None)
    return list(seen.select_related("recipe__current_edition"))


def recipes_shown(slugs: Iterable[str]) -> list[Recipe]:
    """Return those of the recipes of these addresses that readers see, in this order, with their editions. One query."""
    wanted = list(dict.fromkeys(slugs))
    found = recipes_seen().filter(slug__in=wanted)
    by_slug = {recipe.slug: recipe for recipe in found.select_related("current_edition")}
    return [by_slug[slug] for slug in wanted if slug in by_slug]


def every_recipe_shown() -> list[Recipe]:
    """Return every recipe that readers see, by title, with what an edition says in short. One query."""
    found = recipes_seen().select_related("current_edition")
    return list(found.defer("current_edition__facts").order_by("shelf_title", "pk"))


def collected_editions(collection: Collection, most: int) -> list[Edition]:
    """Return the last editions of a collection's recipes that readers see, the newest first, with their recipes. One query."""
    seen = recipes_seen().filter(collected__collection=collection)
    return list(Edition.objects.filter(recipe__in=seen).select_related("recipe").order_by("-published_at", "-pk")[:most])
