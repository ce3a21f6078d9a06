"""Bringing in a recipe: the file or the text, and the preview in which it is corrected before it becomes a draft."""

from __future__ import annotations

import json
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.draft import DraftContent
from kitchen.domain.typed import STEP_FIELDS, TypedDraft, split_steps
from kitchen.forms.draft import DraftForm, HeadForm
from kitchen.importers import MOST_BYTES, ReadPage, UnreadableRecipe, read_file, read_typed

MOST_KEPT = 2_000_000
MOST_OTHERS = 10


class ImportForm(forms.Form):
    """A saved page, or pasted text."""

    page = forms.FileField(
        label="A saved page",
        required=False,
        help_text="HTML or JSON, up to 10 MB: in the browser, “Save page as”, “HTML only”.",
        error_messages={"empty": "This file is empty. Choose another, or paste the recipe's text."},
        widget=forms.FileInput({"accept": ".html,.htm,.json,.txt,text/html,application/json,application/ld+json,text/plain"}),
    )
    text = forms.CharField(
        label="Or the recipe’s text",
        required=False,
        strip=False,
        help_text="Title, ingredients line by line, steps. The source of a page or recipe data can be pasted too.",
        widget=forms.Textarea({"rows": 10}),
    )

    read: ReadPage

    def clean(self) -> dict[str, Any]:
        """Read what was given; what cannot be read is said beside its field."""
        data = super().clean() or {}
        picked, text = data.get("page"), data.get("text") or ""
        if self.errors:
            return data
        if picked and text.strip():
            raise ValidationError("A file and a text were both given. Keep one of them; the file has to be chosen again.")
        if not picked and not text.strip():
            raise ValidationError("Choose a saved page, or paste the recipe's text.")
        try:
            self.read = _read_picked(picked) if picked else read_typed(text)
        except UnreadableRecipe as reason:
            self.add_error("page" if picked else "text", str(reason))
        return data


def _read_picked(picked: Any) -> ReadPage:
    if picked.size > MOST_BYTES:
        raise UnreadableRecipe(f"This file has {picked.size / 1024 / 1024:.0f} MB; 10 MB fit. Paste the recipe's text instead.")
    return read_file(picked.read())


class PreviewForm(HeadForm):
    """What was read, to be corrected: the recipe's own words, its lines and its steps."""

    serving_g = None  # type: ignore[assignment]  # None takes a base's field away
    pasted_steps = None  # type: ignore[assignment]  # as above
    ingredients = forms.CharField(
        required=False,
        help_text="One on each line. A line that ends with a colon opens a new part.",
        widget=forms.Textarea({"rows": 12}),
    )
    method = forms.CharField(
        required=False,
        help_text="A blank line between steps. Each becomes a step of the draft.",
        widget=forms.Textarea({"rows": 12}),
    )
    field_order = ("title", "summary", "servings", "tags", "drawing", "home_url", "ingredients", "method", "note")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["note"].label = "Where it came from"
        self.fields["note"].help_text = "Saved as the note of the first revision."

    def clean(self) -> dict[str, Any]:
        """Check lines and steps by the editor's own rules."""
        data = super().clean() or {}
        self.draft_form = DraftForm(self._typed())
        self.draft_form.is_valid()
        for part in self.draft_form.parts:
            for error in part.errors.get("lines", ()):
                self.add_error("ingredients", error)
        for number, step in enumerate(self.draft_form.steps, 1):
            for error in step.errors.get("text", ()):
                self.add_error("method", f"Step {number}: {error}")
        for limit in self.draft_form.limits:
            self.add_error("method" if "steps" in limit else "ingredients", limit)
        return data

    def _typed(self) -> TypedDraft:
        """Return the preview as the editor's page."""
        head = {name: str(self.data.get(name, "")) for name in self.fields if name not in ("ingredients", "method")}
        steps = [{**dict.fromkeys(STEP_FIELDS, ""), "text": text} for text in split_steps(str(self.data.get("method", "")))]
        part = {"title": "", "lines": str(self.data.get("ingredients", ""))}
        fields = {**head, **{f"part-0-{name}": value for name, value in part.items()}}
        return TypedDraft(TypedDraft.from_fields(fields).head, (part,), tuple(steps)).with_readings()

    def draft(self) -> DraftContent:
        """Return the draft of a valid preview."""
        return self.draft_form.draft()


def pack(kept: dict[str, Any]) -> str:
    """Return what the preview has to remember between two requests, as the text of a hidden field."""
    return json.dumps(kept, ensure_ascii=False, separators=(",", ":"))


def unpack(text: str) -> dict[str, Any]:
    """Return what a preview remembered: ``doubts``, ``facts`` and ``others``. What was tampered with is forgotten."""
    try:
        kept = json.loads(text[:MOST_KEPT])
    except (ValueError, RecursionError):
        kept = {}
    kept = kept if isinstance(kept, dict) else {}
    return {
        "doubts": [words for words in _list(kept, "doubts") if isinstance(words, str)],
        "facts": [tuple(map(str, pair)) for pair in _list(kept, "facts") if isinstance(pair, list) and len(pair) == 2],
        "others": [other for other in _list(kept, "others") if _is_other(other)][:MOST_OTHERS],
    }


def _list(kept: dict[str, Any], name: str) -> list[Any]:
    found = kept.get(name)
    return found if isinstance(found, list) else []


def _is_other(other: Any) -> bool:
    """Say whether a remembered recipe has what a preview shows of one."""
    fields = other.get("fields") if isinstance(other, dict) else None
    return isinstance(fields, dict) and all(isinstance(value, str) for value in fields.values()) and "title" in fields
