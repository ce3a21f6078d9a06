"""The editor's page between request and tables: what was typed, what came of saving it, and what the page says about that."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from kitchen.domain.address_words import says_nothing
from kitchen.domain.arranging import Undo
from kitchen.domain.typed import TypedDraft
from kitchen.forms.draft import DraftForm, typed_from
from kitchen.models import Recipe, Revision
from kitchen.operations import DraftClash, Overtaken, Seen, create_recipe, keep_typed, note_clash, save_page
from kitchen.queries import ReadPart, draft_of, newest_revision, photos_of, rows_as_typed, rows_of

_START = {"servings": "4", "drawing": "pot"}


@dataclass(frozen=True)
class DraftState:
    """What the page says about itself.

    ``kind`` is ``new`` (nothing typed), ``shown`` (as saved), ``saved``, ``same`` (nothing to save), ``invalid`` (kept as typed),
    ``unkept`` (too much to keep), ``untitled`` (no recipe yet), ``clash`` (somebody else saved), ``reopened`` (kept from before),
    ``put-back`` (set aside before).
    """

    kind: str
    at: datetime | None = None
    mistakes: Sequence[str] = ()
    opened: bool = False
    clash: Mapping[str, str] | None = None


@dataclass(frozen=True)
class Aside:
    """A page that was set aside when another had saved in between."""

    who: str
    at: datetime | None


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
    page: str = ""
    undo: Undo | None = None
    aside: Sequence[Aside] = ()

    @property
    def saved(self) -> bool:
        """Whether all that was typed is in the tables now."""
        return self.state.kind in ("saved", "same")

    @property
    def plain_address(self) -> bool:
        """Whether the title gave no words for an address, so that the cook had better choose one."""
        return self.recipe is not None and says_nothing(self.recipe.slug, self.recipe.title)


def fresh_desk(once: str) -> Desk:
    """Return the page of a recipe that nobody has begun."""
    typed = TypedDraft(head=_START).with_part().with_step()
    return Desk(DraftForm(typed, fresh=True), DraftState("new"), once=once, page=once)


def opened_desk(recipe: Recipe, page: str, aside: int | None = None) -> Desk:
    """Return the page of a recipe as it stands: saved, or as typed and kept when it could not be saved.

    ``aside`` is the place of a page that was set aside and is put back now; it is saved once somebody saves it.
    """
    revision = newest_revision(recipe)
    kept = revision.typed.get("fields")
    put_back = _aside_at(revision, aside)
    if put_back is not None:
        form = DraftForm(TypedDraft.from_fields(put_back["fields"]), photos_of(recipe))
        state = DraftState("put-back", at=_moment(put_back["at"]), mistakes=form.mistakes())
    elif kept:
        form = DraftForm(TypedDraft.from_fields(kept), photos_of(recipe))
        state = DraftState("reopened", at=_moment(revision.typed.get("at")), mistakes=form.mistakes())
    else:
        form, state = DraftForm(shown_fields(revision), photos_of(recipe)), DraftState("shown")
    return _desk(recipe, revision, form, state, page=page)


def _aside_at(revision: Revision, place: int | None) -> Mapping[str, Any] | None:
    held = revision.typed.get("aside", [])
    return held[place] if place is not None and 0 <= place < len(held) else None


def shown_fields(revision: Revision) -> TypedDraft:
    """Return a revision as the editor's fields; the next revision's reason is still to be written."""
    typed = typed_from(draft_of(revision))
    if revision.locked_at is None:
        return typed
    return TypedDraft({**typed.head, "note": ""}, typed.parts, typed.steps)


def begun_recipe(person: Any, typed: TypedDraft, once: str, at: datetime) -> Recipe | None:
    """Return the recipe that a first page begins, or None while it has no title."""
    head = DraftForm(typed).head
    if "title" in head.errors:
        return None
    servings = head.cleaned_data.get("servings")
    return create_recipe(owner=person, title=head.cleaned_data["title"], servings=int(servings or 4), once=once, at=at)


def untitled_desk(typed: TypedDraft, once: str, page: str, undo: Undo | None) -> Desk:
    """Return the page that cannot be kept yet, because the recipe has no title."""
    form = DraftForm(typed)
    state = DraftState("untitled", mistakes=form.mistakes())
    return Desk(form, state, once=once, read=_read_as_typed(form), page=page, undo=undo)


@dataclass(frozen=True)
class Sent:
    """What a page sent: its fields, what it had seen, how its last change of rows is undone, whether mine goes on top."""

    typed: TypedDraft
    seen: Seen | None
    page: str
    undo: Undo | None = None
    on_top: bool = False


def taken_desk(person: Any, recipe: Recipe, sent: Sent, at: datetime) -> Desk:
    """Save what was typed, or keep it where it cannot be saved, and return the page with what came of it."""
    form = DraftForm(sent.typed, photos_of(recipe))
    seen = sent.seen
    if seen is None or sent.on_top:
        seen = _seen(newest_revision(recipe), page=sent.page, turn=seen.turn if seen else 0)
    try:
        state = _save(person, recipe, form, seen, at, beside=sent.on_top) if form.is_valid() else _keep(recipe, form, seen, at)
    except Overtaken:
        state = DraftState("same", at=at)
    except DraftClash:
        note_clash(recipe=recipe, who=person.get_username(), at=at)
        newest = newest_revision(recipe)
        state = DraftState("clash", at=newest.recipe.updated_at)
        return _desk(newest.recipe, newest, form, state, seen=seen, page=sent.page, undo=sent.undo)
    newest = newest_revision(recipe)
    return _desk(newest.recipe, newest, form, state, page=sent.page, undo=sent.undo)


def _save(person: Any, recipe: Recipe, form: DraftForm, seen: Seen, at: datetime, *, beside: bool) -> DraftState:
    saved = save_page(recipe=recipe, by=person, draft=form.draft(), seen=seen, at=at, beside=beside)
    if form.typed.head.get("pasted_steps", "").strip():
        keep_typed(recipe=recipe, fields=form.typed.as_fields(), seen=_seen(saved.revision, page=seen.page), at=at)
    return DraftState("saved" if saved.changed else "same", at=at, opened=saved.opened, clash=saved.clash)


def _keep(recipe: Recipe, form: DraftForm, seen: Seen, at: datetime) -> DraftState:
    kept = keep_typed(recipe=recipe, fields=form.typed.as_fields(), seen=seen, at=at)
    return DraftState("invalid" if kept else "unkept", at=at, mistakes=form.mistakes())


def _desk(
    recipe: Recipe,
    revision: Revision,
    form: DraftForm,
    state: DraftState,
    *,
    seen: Seen | None = None,
    page: str = "",
    undo: Undo | None = None,
) -> Desk:
    saved = state.kind in ("saved", "same", "shown")
    read = rows_of(revision) if saved else _read_as_typed(form)
    aside = tuple(Aside(held["who"], _moment(held["at"])) for held in revision.typed.get("aside", []))
    return Desk(form, state, recipe, revision, seen or _seen(revision), read=read, page=page, undo=undo, aside=aside)


def _read_as_typed(form: DraftForm) -> list[ReadPart]:
    """Return how the typed lines would read, where there are not too many of them."""
    return [] if form.limits else rows_as_typed(form.parts_typed())


def _seen(revision: Revision, *, page: str = "", turn: int = 0) -> Seen:
    return Seen(revision.number, revision.draft_version, page, turn)


def _moment(text: str | None) -> datetime | None:
    return datetime.fromisoformat(text) if text else None
