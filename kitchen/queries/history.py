"""A recipe's history: each revision with its runs and editions, any two beside each other, and what going back means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitchen.cards import BenchLink, registered
from kitchen.domain.changes import what_changed
from kitchen.domain.compare import Comparison, compare
from kitchen.domain.remark import Remark
from kitchen.models import Edition, Recipe, Revision
from kitchen.queries.bench import revision_stories
from kitchen.queries.collecting import with_facts

_MOST = 2**31 - 1  # what a database counts to


@dataclass(frozen=True)
class HistoryRow:
    """One revision as the history tells it.

    ``state`` is ``locked`` (cooked or published), ``written`` (the newest, still open) or ``aside`` (open, but no longer the
    newest). ``copied_from`` is the number of an older revision that it went back to, None where it simply follows.
    """

    revision: Revision
    changes: tuple[Remark, ...]
    editions: tuple[Edition, ...]
    links: tuple[BenchLink, ...]
    state: str
    copied_from: int | None
    may_be_undone: bool


@dataclass(frozen=True)
class Beside:
    """Two revisions of one recipe beside each other."""

    before: Revision
    after: Revision
    comparison: Comparison
    changes: tuple[Remark, ...]


def recipe_history(recipe: Recipe) -> list[HistoryRow]:
    """Return the recipe's revisions, the newest first. The number of queries does not grow with revisions, runs or editions."""
    links = _links(recipe)
    stories = revision_stories(recipe)
    newest = stories[0].revision
    return [
        HistoryRow(
            revision=story.revision,
            changes=story.changes,
            editions=story.editions,
            links=tuple(links.get(story.revision.number, ())),
            state=state_of(story.revision, newest),
            copied_from=went_back_to(story.revision),
            may_be_undone=story.revision.pk == newest.pk and is_untouched_copy(newest),
        )
        for story in stories
    ]


def _links(recipe: Recipe) -> dict[int, list[BenchLink]]:
    found: dict[int, list[BenchLink]] = {}
    for card in registered():
        for number, links in card.revision_links(recipe).items():
            found.setdefault(number, []).extend(links)
    return found


def state_of(revision: Revision, newest: Revision) -> str:
    """Return where a revision stands: ``locked``, ``written`` or ``aside``."""
    if revision.locked_at is not None:
        return "locked"
    return "written" if revision.pk == newest.pk else "aside"


def went_back_to(revision: Revision) -> int | None:
    """Return the number of the older revision that this one is a copy of; None where it follows the one before."""
    copied = revision.copied_from
    return copied if copied is not None and copied < revision.number - 1 else None


def is_untouched_copy(revision: Revision) -> bool:
    """Whether a revision only goes back to an older one, and nothing was written, cooked or published on it since."""
    fresh = revision.locked_at is None and revision.draft_version == 1 and not revision.typed.get("fields")
    return fresh and went_back_to(revision) is not None


def revisions_beside(recipe: Recipe, numbers: tuple[int, int]) -> Beside | None:
    """Return two of the recipe's revisions beside each other, or None where one of them is not there. Constant queries."""
    if max(numbers) > _MOST:
        return None
    asked = recipe.revisions.select_related("created_by").filter(number__in=numbers)
    told = {revision.number: (revision, facts) for revision, facts in with_facts(asked)}
    if not all(number in told for number in numbers):
        return None
    (before, old), (after, new) = (told[number] for number in numbers)
    return Beside(before, after, compare(old, new), what_changed(old, new))


def revision_numbers(recipe: Recipe) -> Sequence[int]:
    """Return the numbers of the recipe's revisions, the newest first. One query."""
    return list(recipe.revisions.order_by("-number").values_list("number", flat=True))
