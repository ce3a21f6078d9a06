"""What a cook does with a collection. A change is the whole new state: what was there before is kept, to be put back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from django.db import transaction

from kitchen.collected import CollectedRecipe, Collection
from kitchen.domain.address_words import address_stem, numbered
from kitchen.models import Recipe

Dishes = Sequence[tuple[int, int | None]]
"""Recipes by their numbers, in their order, each with its servings; None: as it is written."""


class NothingToShow(ValueError):
    """No recipe of the collection is published, so that readers would see an empty page."""


def make_collection(*, owner: Any, title: str, at: datetime) -> Collection:
    """Begin a collection, without recipes and seen by nobody else."""
    return Collection.objects.create(owner=owner, title=title, slug=free_address(title), created_at=at, updated_at=at)


@transaction.atomic
def change_collection(*, collection: Collection, title: str, summary: str, dishes: Dishes, at: datetime) -> None:
    """Let a collection say this; how it stood before is kept."""
    held = Collection.objects.select_for_update().get(pk=collection.pk)
    before = state_of(held)
    if before == _state(title, summary, dishes):
        return
    held.before, held.title, held.summary, held.updated_at = before, title, summary, at
    held.save(update_fields=["before", "title", "summary", "updated_at"])
    known = set(Recipe.objects.filter(pk__in=[number for number, _ in dishes]).values_list("pk", flat=True))
    held.dishes.all().delete()
    CollectedRecipe.objects.bulk_create(
        CollectedRecipe(collection=held, recipe_id=number, position=place, servings=servings)
        for place, (number, servings) in enumerate(dishes)
        if number in known
    )


def undo_change(*, collection: Collection, at: datetime) -> None:
    """Put back how it stood before the last change; doing it twice takes the undoing back."""
    before = collection.before
    if before:
        dishes = [(number, servings) for number, servings in before["dishes"]]
        change_collection(collection=collection, title=before["title"], summary=before["summary"], dishes=dishes, at=at)


def publish_collection(*, collection: Collection, at: datetime) -> None:
    """Let readers see it, first at an address from its title; raises NothingToShow where no recipe of it is published."""
    if not collection.dishes.filter(recipe__current_edition__isnull=False, recipe__withdrawn_at=None).exists():
        raise NothingToShow("None of its recipes is published yet. Publish one of them first.")
    if collection.published_at is None:
        collection.published_at = at
        if not collection.slug.startswith(address_stem(collection.title)):
            collection.slug = free_address(collection.title)
    collection.withdrawn_at, collection.updated_at = None, at
    collection.save(update_fields=["slug", "published_at", "withdrawn_at", "updated_at"])


def withdraw_collection(*, collection: Collection, at: datetime) -> None:
    """Take it back: its address says that it is gone. Its recipes stay where they are."""
    Collection.objects.filter(pk=collection.pk, published_at__isnull=False).update(withdrawn_at=at, updated_at=at)


def delete_collection(*, collection: Collection) -> None:
    """Delete a collection; its recipes stay."""
    Collection.objects.filter(pk=collection.pk).delete()


def state_of(collection: Collection) -> dict[str, Any]:
    """Return what a collection says, as it is kept to be put back."""
    return _state(collection.title, collection.summary, list(collection.dishes.values_list("recipe", "servings")))


def _state(title: str, summary: str, dishes: Dishes) -> dict[str, Any]:
    return {"title": title, "summary": summary, "dishes": [list(dish) for dish in dishes]}


def free_address(title: str) -> str:
    """Return an address for a title that no collection has."""
    stem = address_stem(title)
    return numbered(stem, set(Collection.objects.filter(slug__startswith=stem).values_list("slug", flat=True)))
