"""What the buttons of the editor's page do to what is typed on it, and how the last of them is undone."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from kitchen.domain.remark import Remark, remark
from kitchen.domain.typed import Row, TypedDraft, proposed, split_steps

_BUTTON = re.compile(r"(step|part)-([0-9]{1,4})-(up|down|remove|join|read|to-[0-9]{1,4})\Z")
_FIELDS = ("does", "kind", "place", "target", "row")
_LONGEST = 1_000_000
_MOST_PLACES = 10_000


@dataclass(frozen=True)
class Undo:
    """How the last change of rows is taken back.

    ``does``: ``put`` the row back at ``place``; ``move`` the row at ``place`` to ``target``; ``split`` the row off the end of the
    part at ``place``; ``unpaste`` the last ``target`` steps into the paste field. It travels in the page as text, so that it
    works without script and for a recipe that is not saved yet.
    """

    does: str
    kind: str
    place: int
    target: int = 0
    row: Row = field(default_factory=dict)

    def as_text(self) -> str:
        """Return the text that travels in the page."""
        return json.dumps([self.does, self.kind, self.place, self.target, dict(self.row)], ensure_ascii=False)

    @property
    def said(self) -> Remark:
        """What was done."""
        if self.does == "move":
            return remark(f"{self.kind}_moved", was=self.target + 1, now=self.place + 1)
        if self.does == "put":
            return remark(f"{self.kind}_removed", number=self.place + 1)
        if self.does == "split":
            return remark("parts_joined", below=self.place + 2, above=self.place + 1)
        return remark("one_step_made" if self.target == 1 else "steps_made", steps=self.target)


def read_undo(text: str) -> Undo | None:
    """Return what a page sent as its undo, or None for anything that no page of ours sends.

    Examples
    --------
    >>> step = Undo("put", "step", 2, row={"text": "Stir."})
    >>> read_undo(step.as_text()) == step, read_undo("[1, 2]"), read_undo("")
    (True, None, None)
    """
    try:
        held = json.loads(text) if len(text) <= _LONGEST else None
    except (ValueError, RecursionError):
        return None
    if not isinstance(held, list) or len(held) != len(_FIELDS):
        return None
    does, kind, place, target, row = held
    known = does in ("put", "move", "split", "unpaste") and kind in ("step", "part")
    places = all(type(number) is int and 0 <= number < _MOST_PLACES for number in (place, target))
    texts = isinstance(row, dict) and all(isinstance(value, str) and "\x00" not in value for value in row.values())
    return Undo(does, kind, place, target, row) if known and places and texts else None


def arranged(typed: TypedDraft, wish: str, undo: Undo | None = None) -> tuple[TypedDraft, Undo | None]:
    """Return the page after one of its own buttons, and how to take that back.

    Parameters
    ----------
    typed : TypedDraft
        The page as typed.
    wish : str
        The button: ``step-3-up``, ``step-3-to-0``, ``part-1-join``, ``add-step``, ``paste-steps``, ``undo`` ...; anything else
        changes nothing.
    undo : Undo or None
        How the change before can be taken back; it stays so until another change of rows.

    Examples
    --------
    >>> page = TypedDraft(steps=({"text": "Chop."}, {"text": "Fry."}))
    >>> gone, undo = arranged(page, "step-0-remove")
    >>> [step["text"] for step in gone.steps], undo.said
    (['Fry.'], Remark(code='step_removed', values={'number': 1.0}))
    >>> [step["text"] for step in arranged(gone, "undo", undo)[0].steps]
    ['Chop.', 'Fry.']
    >>> [step["text"] for step in arranged(page, "step-1-to-0")[0].steps]
    ['Fry.', 'Chop.']
    """
    button = _BUTTON.match(wish)
    if button is not None:
        return _pressed(typed, button[1], int(button[2]), button[3], undo)
    if wish == "undo":
        return (typed, None) if undo is None else (_undone(typed, undo), None)
    if wish in ("add-step", "add-part"):
        return (typed.with_step() if wish == "add-step" else typed.with_part()), undo
    if wish not in ("paste-steps", "save", "done"):
        return typed, undo
    made, undo = _pasted(typed, undo)
    return made.with_readings(), undo


def _pressed(typed: TypedDraft, kind: str, place: int, does: str, undo: Undo | None) -> tuple[TypedDraft, Undo | None]:
    rows = typed.rows(kind)
    if place >= len(rows):
        return typed, undo
    if does == "remove":
        return typed.without_row(kind, place), Undo("put", kind, place, row=rows[place])
    if does == "read":
        return (typed.with_reading(place) if kind == "step" else typed), undo
    if does == "join":
        return _joined(typed, place, undo) if kind == "part" and place > 0 else (typed, undo)
    target = int(does[3:]) if does.startswith("to-") else place + (-1 if does == "up" else 1)
    if not 0 <= target < len(rows) or target == place:
        return typed, undo
    return typed.with_row_moved(kind, place, target), Undo("move", kind, target, place)


def _joined(typed: TypedDraft, place: int, undo: Undo | None) -> tuple[TypedDraft, Undo | None]:
    above, below = typed.parts[place - 1], typed.parts[place]
    lines = "\n".join(text for text in (above["lines"].rstrip("\n"), below["lines"]) if text)
    heading = above["title"] or below["title"]
    parts = (*typed.parts[: place - 1], {**above, "title": heading, "lines": lines}, *typed.parts[place + 1 :])
    row = {**below, "above": above["title"]}
    return replace(typed, parts=parts), Undo("split", "part", place - 1, row=row)


def _pasted(typed: TypedDraft, undo: Undo | None) -> tuple[TypedDraft, Undo | None]:
    made = typed.with_pasted_steps()
    text = typed.head.get("pasted_steps", "")
    count = len(split_steps(text))
    if made is typed:
        return typed, undo
    return made, Undo("unpaste", "step", 0, min(count, _MOST_PLACES - 1), {"text": text})


def _undone(typed: TypedDraft, undo: Undo) -> TypedDraft:
    if undo.does == "move":
        return typed.with_row_moved(undo.kind, undo.place, undo.target)
    if undo.does == "put":
        return typed.with_row(undo.kind, undo.place, undo.row)
    return _split_again(typed, undo) if undo.does == "split" else _unpasted(typed, undo)


def _split_again(typed: TypedDraft, undo: Undo) -> TypedDraft:
    """Take the lower part's lines off the joined one; where they were changed since, both keep theirs: nothing is lost."""
    if undo.place >= len(typed.parts):
        return typed
    joined, lines = typed.parts[undo.place], undo.row.get("lines", "")
    rest = joined["lines"]
    if lines and rest.endswith(lines):
        rest = rest[: -len(lines)].rstrip("\n")
    title = undo.row.get("above", "") if joined["title"] == undo.row.get("title") else joined["title"]
    parts = (*typed.parts[: undo.place], {**joined, "title": title, "lines": rest}, *typed.parts[undo.place + 1 :])
    return replace(typed, parts=parts).with_row("part", undo.place + 1, undo.row)


def _unpasted(typed: TypedDraft, undo: Undo) -> TypedDraft:
    """Take the pasted steps away again and put their text back; a step that was worked on since stays a step."""
    texts = split_steps(undo.row.get("text", ""))
    first = max(0, len(typed.steps) - undo.target)
    untouched = [step for step in typed.steps[first:] if step["text"] in texts and _bare(step)]
    kept = tuple(step for step in typed.steps if not any(step is other for other in untouched))
    whole = len(untouched) == len(texts)
    text = undo.row.get("text", "") if whole else "\n\n".join(step["text"] for step in untouched)
    waiting = typed.head.get("pasted_steps", "")
    head = {**typed.head, "pasted_steps": "\n\n".join(filter(None, [text, waiting]))}
    return replace(typed, head=head, steps=kept)


def _bare(step: Mapping[str, str]) -> bool:
    """Whether nobody worked on a step: it says no more than its own words."""
    bare = {"text": step["text"], **dict.fromkeys(("minutes", "temp_c"), "")}
    said = {**bare, "stage": "", **proposed({**bare, "stage": ""})}
    return not step.get("photo", "").strip() and all(step.get(name, "") in ("", said[name]) for name in ("minutes", "temp_c"))
