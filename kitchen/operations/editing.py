"""Writing recipes: new ones, drafts, corrections, and the lock that keeps what was cooked as it was."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import F

from kitchen.domain.address_words import address_stem, numbered
from kitchen.domain.draft import RECIPE_WORDS, DraftContent
from kitchen.domain.reading import LineReading, read_line
from kitchen.models import Line, PastSlug, Recipe, Revision
from kitchen.operations.holding import hold_recipe, newest_held
from kitchen.operations.making import MadeBy, make_line_by
from kitchen.operations.page_marks import (
    Seen,
    carried_on,
    is_overtaken,
    is_own_continuation,
    lasting,
    marked,
    with_aside,
    without_page,
)
from kitchen.operations.rows import copy_rows, write_parts, write_steps
from kitchen.queries import draft_of, known_foods, newest_revision, revision_with_rows, take_reading, the_site

MOST_TYPED = 1_000_000
RESERVED_SLUGS = frozenset({"new", "import"})


class DraftClash(Exception):
    """Somebody else saved in between. Nothing was written."""


class Overtaken(Exception):
    """A later save of the same page was there first. Nothing was written, and nothing is missing."""


class RevisionLocked(Exception):
    """The revision was cooked or published, so that its rows never change again."""


@dataclass(frozen=True)
class Saved:
    """What saving the editor's page came to.

    ``changed`` is false where everything was saved already, ``opened`` true where a new revision was begun, and ``clash`` tells
    of somebody whose own saving was held back meanwhile.
    """

    revision: Revision
    changed: bool = False
    opened: bool = False
    clash: Mapping[str, str] | None = None


@transaction.atomic
def create_recipe(
    *,
    owner: Any,
    title: str,
    servings: int = 4,
    once: str = "",
    at: datetime,
) -> Recipe:
    """Begin a recipe: its row and an empty first revision.

    ``once`` names the attempt, so that sending it twice makes one recipe.
    """
    list(User.objects.select_for_update().filter(pk=owner.pk))
    if once:
        begun = Recipe.objects.filter(owner=owner, revisions__number=1, revisions__typed__born=once).first()
        if begun is not None:
            return begun
    recipe = Recipe.objects.create(
        slug=free_slug(title),
        title=title,
        owner=owner,
        created_at=at,
        updated_at=at,
    )
    born = {"born": once} if once else {}
    Revision.objects.create(recipe=recipe, number=1, servings=servings, typed=born, created_by=owner, created_at=at)
    return recipe


def free_slug(title: str) -> str:
    """Return an address for a title that no recipe has or had: "soup", else "soup-2", "soup-3" ..."""
    stem = address_stem(title)
    taken = {*Recipe.objects.filter(slug__startswith=stem).values_list("slug", flat=True), *RESERVED_SLUGS}
    taken.update(PastSlug.objects.filter(slug__startswith=stem).values_list("slug", flat=True))
    return numbered(stem, taken)


@transaction.atomic
def open_draft(*, recipe: Recipe, by: Any, at: datetime) -> Revision:
    """Return the newest revision if it may still be written, else a copy of it with the next number."""
    newest = newest_held(recipe)
    return newest if newest.locked_at is None else _open_next(newest, by=by, at=at)


def _open_next(newest: Revision, *, by: Any, at: datetime) -> Revision:
    """Open the next revision as a copy; what was set aside goes along."""
    copy = open_copy(newest, after=newest, by=by, at=at)
    stays = ("born",) if newest.locked_at is not None else ("born", "fields", "at")
    newest.typed = {name: newest.typed[name] for name in stays if name in newest.typed}
    newest.save(update_fields=["typed"])
    return copy


def open_copy(source: Revision, *, after: Revision, by: Any, at: datetime, note: str = "") -> Revision:
    """Open the revision that follows ``after``, the newest, as a copy of ``source`` with how each of its lines was read."""
    copy = Revision.objects.create(
        recipe=after.recipe,
        number=after.number + 1,
        servings=source.servings,
        serving_g=source.serving_g,
        note=note,
        copied_from=source.number,
        typed=carried_on(after.typed),
        created_by=by,
        created_at=at,
    )
    copy_rows(source, copy)
    return copy


@transaction.atomic
def save_draft(*, revision: Revision, draft: DraftContent, expected_version: int, at: datetime) -> Revision:
    """Write a draft into its revision and the recipe's own words, and return the revision as it stands then.

    A line whose text did not change keeps how it was read, corrections included.

    Raises
    ------
    DraftClash
        If the revision is no longer at ``expected_version``.
    RevisionLocked
        If the revision is locked and the draft would change it.
    """
    current = revision_with_rows(revision.pk)
    if current.draft_version != expected_version:
        raise DraftClash
    before = draft_of(current)
    if current.locked_at is not None:
        if rows_differ(before, draft):
            raise RevisionLocked
        draft = replace(draft, note=before.note)
    if before == draft:
        _forget(current)
        return current
    _claim(current, expected_version, draft)
    _write_words(current.recipe, draft, at=at)
    if before.parts != draft.parts:
        write_parts(current, draft.parts)
    if before.steps != draft.steps:
        write_steps(current, draft.steps)
    return revision_with_rows(current.pk)


def rows_differ(before: DraftContent, after: DraftContent) -> bool:
    """Whether two drafts differ in what belongs to a revision (the recipe's own words and the note left aside)."""
    return _rows(before) != _rows(after)


def _rows(draft: DraftContent) -> tuple[Any, ...]:
    return draft.servings, draft.serving_g, draft.parts, draft.steps


def _claim(revision: Revision, expected_version: int, draft: DraftContent) -> None:
    """Move the revision on to its next version, or find that somebody else just did."""
    still = Revision.objects.filter(pk=revision.pk, draft_version=expected_version)
    moved = still.update(
        draft_version=F("draft_version") + 1,
        servings=draft.servings,
        serving_g=draft.serving_g,
        note=draft.note,
        typed=lasting(revision.typed),
    )
    if not moved:
        raise DraftClash


def _write_words(recipe: Recipe, draft: DraftContent, *, at: datetime) -> None:
    for name in RECIPE_WORDS:
        setattr(recipe, name, getattr(draft, name))
    recipe.tags, recipe.updated_at = list(draft.tags), at
    recipe.save(update_fields=[*RECIPE_WORDS, "updated_at"])


@transaction.atomic
def save_page(*, recipe: Recipe, by: Any, draft: DraftContent, seen: Seen, at: datetime, beside: bool = False) -> Saved:
    """Save what was typed on the editor's page; over a locked revision that opens the next one as a copy first.

    ``beside`` opens the next one in any case where the rows differ, so that what another saved stays in the history.

    Raises
    ------
    DraftClash
        If the recipe moved on since the page was shown; whoever moved it is told at their next save.
    Overtaken
        If a later save of the same page was there first.
    """
    newest = newest_as_seen(recipe, seen)
    clash, marks = newest.typed.get("clash"), marked(newest, seen)
    opened = (beside or newest.locked_at is not None) and rows_differ(draft_of(newest), draft)
    target = _open_next(newest, by=by, at=at) if opened else newest
    version = target.draft_version
    saved = save_draft(revision=target, draft=draft, expected_version=version, at=at)
    if marks:
        _keep_marks(saved, marks)
    return Saved(saved, changed=opened or saved.draft_version != version, opened=opened, clash=clash)


def newest_as_seen(recipe: Recipe, seen: Seen) -> Revision:
    """Hold the recipe and return its newest revision; raises DraftClash or Overtaken where it is not what the person saw."""
    newest = newest_held(recipe)
    if is_overtaken(newest, seen):
        raise Overtaken
    same = (newest.number, newest.draft_version) == (seen.number, seen.version)
    if not same and not is_own_continuation(newest, seen):
        raise DraftClash
    return newest


def _keep_marks(revision: Revision, marks: Mapping[str, Any]) -> None:
    if {**revision.typed, **marks} != revision.typed:
        revision.typed = {**revision.typed, **marks}
        revision.save(update_fields=["typed"])


@transaction.atomic
def keep_typed(*, recipe: Recipe, fields: Mapping[str, str], seen: Seen, at: datetime) -> bool:
    """Keep the page as typed while it cannot be saved; the revision itself stays as it is.

    Returns False, and keeps nothing, where more than a million characters were typed. Raises DraftClash as ``save_page`` does.
    """
    newest = newest_as_seen(recipe, seen)
    if _is_too_much(fields):
        return False
    newest.typed = {**newest.typed, **marked(newest, seen), "fields": dict(fields), "at": at.isoformat()}
    newest.save(update_fields=["typed"])
    return True


def _is_too_much(fields: Mapping[str, str]) -> bool:
    return sum(len(value) for value in fields.values()) > MOST_TYPED


@transaction.atomic
def note_clash(*, recipe: Recipe, who: str, at: datetime) -> None:
    """Leave word for whoever has the newest version open that somebody else's saving was held back."""
    newest = newest_held(recipe)
    newest.typed = {**newest.typed, "clash": {"who": who, "at": at.isoformat()}}
    newest.save(update_fields=["typed"])


def forget_typed(*, recipe: Recipe) -> None:
    """Throw away what was typed and never saved."""
    _forget(newest_revision(recipe))


@transaction.atomic
def set_aside(*, recipe: Recipe, fields: Mapping[str, str], who: str, at: datetime) -> bool:
    """Keep a page as typed beside what is saved, the newest five of them.

    Returns False, and keeps nothing, where more than a million characters were typed.
    """
    newest = newest_held(recipe)
    if _is_too_much(fields):
        return False
    newest.typed = with_aside(newest.typed, fields, who, at.isoformat())
    newest.save(update_fields=["typed"])
    return True


@transaction.atomic
def forget_aside(*, recipe: Recipe, place: int) -> None:
    """Throw away one of the pages that were set aside; one that is not there is gone already."""
    newest = newest_held(recipe)
    kept = [held for number, held in enumerate(newest.typed.get("aside", [])) if number != place]
    newest.typed = {**newest.typed, "aside": kept} if kept else {k: v for k, v in newest.typed.items() if k != "aside"}
    newest.save(update_fields=["typed"])


def _forget(revision: Revision) -> None:
    if revision.typed != lasting(revision.typed):
        revision.typed = lasting(revision.typed)
        revision.save(update_fields=["typed"])


def lock_revision(*, revision: Revision, at: datetime) -> None:
    """Lock a revision because it was cooked; locking it again changes nothing."""
    Revision.objects.filter(pk=revision.pk, locked_at__isnull=True).update(locked_at=at)


@transaction.atomic
def correct_line(*, line: Line, reading: LineReading, made: MadeBy | None = None, by: Any, at: datetime) -> Line:
    """Set how a line is read, for as long as its text stays the same. Over a locked revision that opens the next one first.

    ``made`` is the recipe that it is made by; None leaves that as it is where the line has no food.

    Raises
    ------
    DraftClash
        If the line was rewritten meanwhile, or belongs to a revision that is no longer the newest.
    MadeOfItself
        If the recipe would be made of itself.
    """
    line = _line_in_draft(line, by=by, at=at)
    take_reading(line, reading).corrected = True
    if made is not None or line.food is not None:
        make_line_by(line, made or MadeBy())
    return _keep_line(line, at=at)


@transaction.atomic
def read_line_again(*, line: Line, by: Any, at: datetime) -> Line:
    """Take a correction back: the line is read from its text again."""
    line = _line_in_draft(line, by=by, at=at)
    take_reading(line, read_line(line.text, known_foods(), the_site().measures)).corrected = False
    make_line_by(line, MadeBy())
    return _keep_line(line, at=at)


def _line_in_draft(line: Line, *, by: Any, at: datetime) -> Line:
    """Return the line as it stands now, or its copy in the draft that had to be opened.

    Whoever saves the page waits at the same lock, so that the line cannot move away between being found and being written.
    """
    recipe = line.part.revision.recipe
    hold_recipe(recipe.pk)
    rows = Line.objects.select_related("part__revision__recipe", "food", "made_of__recipe")
    now = rows.filter(pk=line.pk, text=line.text).first()
    newest = newest_revision(recipe)
    if now is None or newest.pk != now.part.revision_id:
        raise DraftClash
    if newest.locked_at is None:
        return now
    draft = open_draft(recipe=recipe, by=by, at=at)
    return rows.get(part__revision=draft, part__position=now.part.position, position=now.position)


def _keep_line(line: Line, *, at: datetime) -> Line:
    line.save()
    revision = line.part.revision
    revision.refresh_from_db(fields=["typed"])
    Revision.objects.filter(pk=revision.pk).update(draft_version=F("draft_version") + 1, typed=without_page(revision.typed))
    Recipe.objects.filter(pk=line.part.revision.recipe_id).update(updated_at=at)
    line.part.revision.refresh_from_db(fields=["draft_version"])
    return line
