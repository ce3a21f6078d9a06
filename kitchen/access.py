"""Fetch and check in one call: what may be read is returned, everything else is refused here."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib.auth.models import User
from django.http import Http404
from django.shortcuts import get_object_or_404

from kitchen.collected import Collection
from kitchen.models import Change, Edition, Food, Line, Photo, Recipe, Revision
from kitchen.queries import is_shown_in_public, recipe_at, recipes_with_photo, slug_now
from kitchen.queries.roles import helps, is_helper

if TYPE_CHECKING:
    from django.contrib.auth.models import AbstractUser, AnonymousUser

    Person = AbstractUser | AnonymousUser


class Moved(Exception):
    """The recipe has another address now."""

    def __init__(self, slug: str) -> None:
        super().__init__(slug)
        self.slug = slug


class Gone(Exception):
    """The recipe was published once and then withdrawn."""


def published(slug: str) -> Recipe:
    """Return the published recipe at an address, with ``current_edition`` and ``first_published_at``.

    Raises
    ------
    Moved
        If the address is one that a recipe had before (answered 301).
    Gone
        If the recipe was withdrawn (answered 410).
    Http404
        If there is no such recipe, or it was never published.
    """
    recipe = recipe_at(slug)
    if recipe is None:
        now = slug_now(slug)
        if now is None:
            raise Http404("There is no recipe at this address.")
        raise Moved(now)
    if recipe.current_edition is None:
        raise Http404("There is no recipe at this address.")
    if recipe.withdrawn_at is not None:
        raise Gone(slug)
    return recipe


def edition_of(recipe: Recipe, number: int) -> Edition:
    """Return one of a published recipe's editions, or 404."""
    return get_object_or_404(Edition, recipe=recipe, number=number)


def is_out(recipe: Recipe) -> bool:
    """Whether readers can see the recipe now."""
    return recipe.current_edition_id is not None and recipe.withdrawn_at is None


def may_edit(person: Person, recipe: Recipe) -> bool:
    """Whether this person may write in the recipe: its owner may, and whoever runs the site."""
    return person.is_superuser or (person.is_authenticated and recipe.owner_id == person.pk)


def recipe_for_bench(person: Person, slug: str) -> Recipe:
    """Return the recipe for the person who may edit it; an address that it had before finds it too, so that no open page breaks.

    Raises
    ------
    Http404
        If there is no such recipe, or it belongs to another cook.
    """
    recipe = _recipe_at_bench(slug)
    if recipe is None or not may_edit(person, recipe):
        raise Http404("There is no recipe at this address.")
    return recipe


def recipe_to_record(person: Person, slug: str) -> Recipe:
    """Return the recipe for whoever may record a cook of it: those who may edit it, and helpers; else 404."""
    recipe = _recipe_at_bench(slug)
    if recipe is None or not _may_record(person, recipe):
        raise Http404("There is no recipe at this address.")
    return recipe


def _may_record(person: Person, recipe: Recipe) -> bool:
    return may_edit(person, recipe) or is_helper(person)


def _recipe_at_bench(slug: str) -> Recipe | None:
    known = Recipe.objects.select_related("owner", "current_edition__revision")
    return known.filter(slug=slug).first() or known.filter(past_slugs__slug=slug).first()


def revision_for_bench(recipe: Recipe, number: int) -> Revision:
    """Return one of the recipe's revisions by its number, or 404."""
    return get_object_or_404(recipe.revisions.select_related("recipe", "created_by"), number=number)


def collection_for_bench(person: Person, slug: str) -> Collection:
    """Return a collection for whoever may change it: its owner, and whoever runs the site; else 404."""
    collection = get_object_or_404(Collection.objects.select_related("owner"), slug=slug)
    if not (person.is_superuser or collection.owner_id == person.pk):
        raise Http404("There is no collection at this address.")
    return collection


def published_collection(slug: str) -> Collection:
    """Return the collection that readers see at an address.

    Raises
    ------
    Gone
        If it was taken back (answered 410).
    Http404
        If there is none, or it is its cook's alone.
    """
    collection = get_object_or_404(Collection, slug=slug, published_at__isnull=False)
    if collection.withdrawn_at is not None:
        raise Gone(slug)
    return collection


def line_for_bench(recipe: Recipe, number: int) -> Line:
    """Return one of the recipe's ingredient lines, of whichever revision, or 404."""
    lines = Line.objects.select_related("part__revision__recipe", "food", "made_of__recipe")
    return get_object_or_404(lines, pk=number, part__revision__recipe=recipe)


def photo_for_bench(recipe: Recipe, number: int) -> Photo:
    """Return one of the recipe's photos, or 404."""
    return get_object_or_404(Photo, pk=number, recipe=recipe)


def photo_is_public(person: Person, name: str) -> bool:
    """Whether a public page shows the picture of this file; else it is for those who may record a cook of a recipe that has it.

    Raises
    ------
    Http404
        If neither is so.
    """
    if is_shown_in_public(name):
        return True
    if not any(_may_record(person, recipe) for recipe in recipes_with_photo(name)):
        raise Http404("There is no photo of this name.")
    return False


def side_for_bench(recipe: Recipe, number: int) -> Recipe:
    """Return the side that one of the recipe's pairings serves, or 404."""
    return get_object_or_404(recipe.sides.select_related("side"), pk=number).side


def food_for_bench(number: int) -> Food:
    """Return a food, or 404; every cook of the kitchen may look after the foods."""
    return get_object_or_404(Food, pk=number)


def change_of_shared(number: int) -> Change:
    """Return what was done to a shared thing, or 404; every cook may put it back."""
    return get_object_or_404(Change.objects.exclude(before={}), pk=number)


def cook_for_owner(number: int) -> User:
    """Return the account of a cook who may sign in, or 404; the owner's own is none."""
    return get_object_or_404(User, pk=number, is_superuser=False, is_active=True)


def account_for_owner(number: int) -> User:
    """Return the account of a cook, also a closed one, or 404; the owner's own is none."""
    return get_object_or_404(User.objects.annotate(helps=helps()), pk=number, is_superuser=False)


def refuse_all_but_owner(person: Person) -> None:
    """Answer 404 unless this person runs the site (its settings, its cooks)."""
    if not person.is_superuser:
        raise Http404("There is nothing at this address.")
