"""Bringing in a recipe that was read elsewhere: its row and its first draft in one go."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

from django.db import transaction

from kitchen.domain.draft import DraftContent
from kitchen.models import Recipe
from kitchen.operations.editing import create_recipe, save_draft
from kitchen.queries import draft_of, newest_revision


@transaction.atomic
def duplicate_recipe(*, recipe: Recipe, owner: Any, at: datetime) -> Recipe:
    """Begin a recipe of this person's that says what the newest revision of another says; photos and cooks stay with that one."""
    draft = draft_of(newest_revision(recipe))
    steps = tuple(replace(step, photo=None) for step in draft.steps)
    title = f"{draft.title[:110]}, again"
    return bring_in_recipe(owner=owner, draft=replace(draft, title=title, steps=steps, note="", home_url=""), at=at)


def bring_in_recipe(*, owner: Any, draft: DraftContent, once: str = "", at: datetime) -> Recipe:
    """Begin a recipe with everything that a draft holds. ``once`` names the attempt: sent twice, it makes one recipe."""
    recipe = create_recipe(owner=owner, title=draft.title, servings=draft.servings, once=once, at=at)
    revision = newest_revision(recipe)
    if revision.number == 1 and revision.draft_version == 1:
        save_draft(revision=revision, draft=draft, expected_version=1, at=at)
        recipe.refresh_from_db()
    return recipe
