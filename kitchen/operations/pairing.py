"""What stands beside a recipe: its sides, its address, and its end."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

from django.db import transaction
from django.db.models import ProtectedError

from kitchen.models import PastSlug, Recipe
from kitchen.operations.editing import RESERVED_SLUGS
from kitchen.operations.photos import files_of, remove_files_after_commit


class SlugTaken(ValueError):
    """Another recipe stands, or stood, at this address."""


class CannotDelete(ValueError):
    """The recipe has a past that is kept; the message says what can be done instead."""


def pair_side(*, main: Recipe, side: Recipe, portions: Decimal, at: datetime) -> None:
    """Serve a side with a recipe; pairing it again changes how much of it goes with one serving."""
    main.sides.update_or_create(side=side, defaults={"portions": portions})
    Recipe.objects.filter(pk=main.pk).update(updated_at=at)


def unpair_side(*, main: Recipe, side: Recipe, at: datetime) -> None:
    """Serve a side with a recipe no longer."""
    main.sides.filter(side=side).delete()
    Recipe.objects.filter(pk=main.pk).update(updated_at=at)


@transaction.atomic
def rename_slug(*, recipe: Recipe, slug: str, at: datetime) -> Recipe:
    """Move a recipe to another address; the one it had answers with the new one from then on.

    Raises
    ------
    SlugTaken
        If another recipe has the address, or had it once.
    """
    if slug == recipe.slug:
        return recipe
    others = PastSlug.objects.filter(slug=slug).exclude(recipe=recipe)
    if slug in RESERVED_SLUGS or others.exists() or Recipe.objects.filter(slug=slug).exists():
        raise SlugTaken(f"“{slug}” is another recipe’s address, now or earlier. Choose a different one.")
    recipe.past_slugs.filter(slug=slug).delete()
    PastSlug.objects.create(slug=recipe.slug, recipe=recipe)
    recipe.slug, recipe.updated_at = slug, at
    recipe.save(update_fields=["slug", "updated_at"])
    return recipe


@transaction.atomic
def delete_recipe(*, recipe: Recipe) -> None:
    """Delete a recipe that was never published and never cooked, with its drafts and photos.

    Raises
    ------
    CannotDelete
        If it was published or cooked: editions and runs are kept for ever.
    """
    if recipe.editions.exists():
        raise CannotDelete("This recipe was published, and what was published is kept. Withdraw it instead.")
    files = [name for photo in recipe.photos.all() for name in files_of(photo)]
    try:
        with transaction.atomic():
            recipe.delete()
    except ProtectedError:
        raise CannotDelete("This recipe was cooked, and runs are kept. It stays on the bench, unpublished.") from None
    remove_files_after_commit(files)


def bring_back_recipe(*, recipe: Recipe, at: datetime) -> None:
    """Show a withdrawn recipe to the world again, as it was last published."""
    withdrawn = Recipe.objects.filter(pk=recipe.pk, current_edition__isnull=False, withdrawn_at__isnull=False)
    withdrawn.update(withdrawn_at=None, updated_at=at)
