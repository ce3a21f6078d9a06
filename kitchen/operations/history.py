"""A recipe's past: going back to a revision, taking that back, and saying later why a revision was made."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import F

from kitchen.models import Recipe, Revision
from kitchen.operations.editing import newest_as_seen, open_copy
from kitchen.operations.holding import hold_recipe, newest_held
from kitchen.operations.page_marks import Seen, without_page
from kitchen.queries import newest_revision
from kitchen.queries.history import is_untouched_copy


class NothingToGoBack(ValueError):
    """The revision asked for is the newest already."""


class CannotTakeBack(ValueError):
    """Something was written, cooked or published on the revision since; the message says what can be done."""


@transaction.atomic
def go_back(*, recipe: Recipe, number: int, seen: Seen, by: Any, at: datetime) -> Revision:
    """Open a new revision that is a copy of an older one, with how each of its lines was read.

    The newest revision stays in the history as it is, with what was typed on it and could not be saved.

    Raises
    ------
    NothingToGoBack
        If that revision is the newest.
    DraftClash
        If somebody wrote in the recipe after the person was asked.
    """
    newest = newest_as_seen(recipe, seen)
    if newest.number == number:
        raise NothingToGoBack(f"Revision {number} is the newest already.")
    source = recipe.revisions.get(number=number)
    copy = open_copy(source, after=newest, note=f"As revision {number}.", by=by, at=at)
    Recipe.objects.filter(pk=recipe.pk).update(updated_at=at)
    return copy


@transaction.atomic
def take_back(*, recipe: Recipe, number: int, at: datetime) -> Revision:
    """Take away the revision that going back opened, and return the one that is the newest then.

    Raises
    ------
    CannotTakeBack
        If it is not the newest, or was written, cooked or published on.
    """
    newest = newest_held(recipe)
    if newest.number != number or not is_untouched_copy(newest):
        raise CannotTakeBack(f"Revision {number} stays: something was written or cooked since. Go back to an older one instead.")
    newest.delete()
    Recipe.objects.filter(pk=recipe.pk).update(updated_at=at)
    return newest_revision(recipe)


@transaction.atomic
def say_why(*, revision: Revision, note: str, at: datetime) -> None:
    """Write, or mend, why a revision was made. That changes no figure, so a locked revision takes it too.

    An open page of the revision that is still being written is told at its next save, so that it puts no old note back.
    """
    if revision.note == note:
        return
    hold_recipe(revision.recipe_id)
    revision.refresh_from_db(fields=["typed"])
    Revision.objects.filter(pk=revision.pk).update(note=note)
    open_one = Revision.objects.filter(pk=revision.pk, locked_at__isnull=True)
    open_one.update(draft_version=F("draft_version") + 1, typed=without_page(revision.typed))
    Recipe.objects.filter(pk=revision.recipe_id).update(updated_at=at)
