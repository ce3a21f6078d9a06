"""The editor's page between request and tables: what was typed, what came of saving it, and what the page says about that."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from kitchen.domain.typed import TypedDraft
from kitchen.forms.draft import DraftForm, typed_from
from kitchen.models import Recipe, Revision
from kitchen.operations import DraftClash, Seen, create_recipe, keep_typed, note_clash, save_page
from kitchen.queries import ReadPart, draft_of, newest_revision, photos_of, rows_as_typed, rows_of

_MOVE = re.compile(r"step-([0-9]{1,4})-(up|down|remove)\Z")
_START = {"servings": "4", "drawing": "pot"}


@dataclass(frozen=True)
class DraftState:
    """What the page says about itself.

    ``kind`` is ``new`` (nothing typed), ``shown`` (as saved), ``saved``, ``same`` (nothing to save), ``invalid`` (kept as typed),
    ``unkept`` (too much to keep), ``untitled`` (no recipe yet), ``clash`` (somebody else saved), ``reopened`` (kept from before).
    """

    kind: str
    at: datetime | None = None
    mistakes: Sequence[str] = ()
    opened: bool = False
    clash: Mapping[str, str] | None = None


@dataclass(frozen=True)
class Desk:
    """Everything that the editor's templates show. ``seen`` travels in the form; ``once`` makes a new recipe only once."""

    form: DraftForm
    state: DraftState
    recipe: Recipe | None = None
    revision: Revision | None = None
    seen: Seen | None = None
    once: str = ""
    read: Sequence[ReadPart] = field(default=())

    @property
    def saved(self) -> bool:
        """Whether all that was typed is in the tables now."""
        return self.state.kind in ("saved", "same")


def fresh_desk(once: str) -> Desk:
    """Return the page of a recipe that nobody has begun."""
    typed = TypedDraft(head=_START).with_part().with_step()
    return Desk(DraftForm(typed, fresh=True), DraftState("new"), once=once)


def opened_desk(recipe: Recipe) -> Desk:
    """Return the page of a recipe as it stands: saved, or as typed and kept when it could not be saved."""
    revision = newest_revision(recipe)
    kept = revision.typed.get("fields")
    if kept:
        form = DraftForm(TypedDraft.from_fields(kept), photos_of(recipe))
        state = DraftState("reopened", at=_moment(revision.typed.get("at")), mistakes=form.mistakes())
    else:
        form, state = DraftForm(shown_fields(revision), photos_of(recipe)), DraftState("shown")
    return _desk(recipe, revision, form, state)


def shown_fields(revision: Revision) -> TypedDraft:
    """Return a revision as the editor's fields; the next revision's reason is still to be written."""
    typed = typed_from(draft_of(revision))
    if revision.locked_at is None:
        return typed
    return TypedDraft({**typed.head, "note": ""}, typed.parts, typed.steps)


def arranged(typed: TypedDraft, wish: str) -> TypedDraft:
    """Return the typed page after one of its own buttons: add, move or remove a row, turn pasted text into steps."""
    move = _MOVE.match(wish)
    if move is not None:
        place = int(move[1])
        return typed.without_step(place) if move[2] == "remove" else typed.with_step_moved(place, -1 if move[2] == "up" else 1)
    if wish == "add-step":
        return typed.with_step()
    if wish == "add-part":
        return typed.with_part()
    return typed.with_pasted_steps() if wish in ("paste-steps", "save", "done") else typed


def begun_recipe(person: Any, typed: TypedDraft, once: str, at: datetime) -> Recipe | None:
    """Return the recipe that a first page begins, or None while it has no title."""
    head = DraftForm(typed).head
    if "title" in head.errors:
        return None
    servings = head.cleaned_data.get("servings")
    return create_recipe(owner=person, title=head.cleaned_data["title"], servings=int(servings or 4), once=once, at=at)


def untitled_desk(typed: TypedDraft, once: str) -> Desk:
    """Return the page that cannot be kept yet, because the recipe has no title."""
    form = DraftForm(typed)
    return Desk(form, DraftState("untitled", mistakes=form.mistakes()), once=once, read=_read_as_typed(form))


def taken_desk(person: Any, recipe: Recipe, typed: TypedDraft, seen: Seen | None, at: datetime) -> Desk:
    """Save what was typed, or keep it where it cannot be saved, and return the page with what came of it."""
    form = DraftForm(typed, photos_of(recipe))
    seen = seen if seen is not None else _seen(newest_revision(recipe))
    try:
        state = _save(person, recipe, form, seen, at) if form.is_valid() else _keep(recipe, form, seen, at)
    except DraftClash:
        note_clash(recipe=recipe, who=person.get_username(), at=at)
        newest = newest_revision(recipe)
        return _desk(newest.recipe, newest, form, DraftState("clash", at=newest.recipe.updated_at), seen=seen)
    newest = newest_revision(recipe)
    return _desk(newest.recipe, newest, form, state)


def newest_seen(recipe: Recipe) -> Seen:
    """Return the state of the newest revision: what somebody decides to write over."""
    return _seen(newest_revision(recipe))


def _save(person: Any, recipe: Recipe, form: DraftForm, seen: Seen, at: datetime) -> DraftState:
    saved = save_page(recipe=recipe, by=person, draft=form.draft(), seen=seen, at=at)
    if form.typed.head.get("pasted_steps", "").strip():
        keep_typed(recipe=recipe, fields=form.typed.as_fields(), seen=_seen(saved.revision), at=at)
    return DraftState("saved" if saved.changed else "same", at=at, opened=saved.opened, clash=saved.clash)


def _keep(recipe: Recipe, form: DraftForm, seen: Seen, at: datetime) -> DraftState:
    kept = keep_typed(recipe=recipe, fields=form.typed.as_fields(), seen=seen, at=at)
    return DraftState("invalid" if kept else "unkept", at=at, mistakes=form.mistakes())


def _desk(recipe: Recipe, revision: Revision, form: DraftForm, state: DraftState, *, seen: Seen | None = None) -> Desk:
    saved = state.kind in ("saved", "same", "shown")
    read = rows_of(revision) if saved else _read_as_typed(form)
    return Desk(form, state, recipe, revision, seen or _seen(revision), read=read)


def _read_as_typed(form: DraftForm) -> list[ReadPart]:
    """Return how the typed lines would read, where there are not too many of them."""
    return [] if form.limits else rows_as_typed(form.parts_typed())


def _seen(revision: Revision) -> Seen:
    return Seen(revision.number, revision.draft_version)


def _moment(text: str | None) -> datetime | None:
    return datetime.fromisoformat(text) if text else None
