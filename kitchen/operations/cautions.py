"""The cook's own word about a recipe's cautions: why one does not hold for a line, and what else to take care of."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.db.models import F

from kitchen.models import Line, Recipe, Revision
from kitchen.operations.editing import DraftClash, open_draft
from kitchen.operations.holding import hold_recipe
from kitchen.operations.page_marks import without_page
from kitchen.queries import newest_revision


@transaction.atomic
def say_cautions(*, recipe: Recipe, answers: Mapping[int, dict[str, str]], own: str, by: Any, at: datetime) -> None:
    """Keep the answers with their lines, by the lines' numbers, and the cook's own cautions with the recipe.

    Answers over a locked revision open the next one. Readers see all of it with the next edition.

    Raises
    ------
    DraftClash
        If a line was rewritten meanwhile, or belongs to a revision that is no longer the newest.
    """
    hold_recipe(recipe.pk)
    rows = Line.objects.filter(part__revision=newest_revision(recipe), pk__in=answers)
    lines = list(rows.select_related("part"))
    if len(lines) != len(answers):
        raise DraftClash
    changed = [line for line in lines if line.answered != answers[line.pk]]
    if changed:
        _answer(open_draft(recipe=recipe, by=by, at=at), changed, answers)
    recipe.own_cautions, recipe.updated_at = own, at
    recipe.save(update_fields=["own_cautions", "updated_at"])


def _answer(draft: Revision, lines: list[Line], answers: Mapping[int, dict[str, str]]) -> None:
    """Write the answers to the lines that stand in these places of the draft."""
    for line in lines:
        there = Line.objects.filter(part__revision=draft, part__position=line.part.position, position=line.position)
        there.update(answered=answers[line.pk])
    Revision.objects.filter(pk=draft.pk).update(draft_version=F("draft_version") + 1, typed=without_page(draft.typed))
