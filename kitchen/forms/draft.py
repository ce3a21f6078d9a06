"""The recipe editor's page: what may be typed into its head, its parts and its steps."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, cast

from django import forms
from django.core.exceptions import ValidationError

from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.domain.lines import parse_line
from kitchen.domain.pictures import DRAWINGS
from kitchen.domain.stages import STAGE_KINDS, STAGE_OFFERS
from kitchen.domain.typed import MOST_PASTED_STEPS, Row, TypedDraft, proposed, split_steps
from kitchen.forms.numbers import NumberField
from kitchen.models import Photo

MOST_LINES = 200
MOST_STEPS = 100
MOST_PARTS = 30
LONGEST_LINE = 300
LONGEST_STEP = 4000
MOST_TAGS = 20
LONGEST_TAG = 30

# One line of text runs as its own letters do. Longer text does so line by line (forms.css): there `dir` itself would be
# looked up anew for each line, and ten megabytes pasted would keep a browser busy for minutes.
_OWN_DIRECTION = {"dir": "auto"}


class HeadForm(forms.Form):
    """The recipe's own words."""

    title = forms.CharField(
        max_length=120,
        error_messages={"required": "Give the recipe a title: it can be changed later."},
        widget=forms.TextInput({**_OWN_DIRECTION, "autocomplete": "off"}),
    )
    summary = forms.CharField(
        label="In one line", max_length=300, required=False, widget=forms.TextInput({**_OWN_DIRECTION, "autocomplete": "off"})
    )
    servings = NumberField(
        low=1,
        high=500,
        places=0,
        error_messages={"required": "Type how many servings these amounts make: a number from 1 to 500."},
    )
    serving_g = NumberField(label="Weight of a serving", low=0, high=5000, unit="g", above_low=True, required=False)
    tags = forms.CharField(
        required=False, help_text="Parted by commas.", widget=forms.TextInput({**_OWN_DIRECTION, "autocomplete": "off"})
    )
    drawing = forms.ChoiceField(choices=DRAWINGS, initial="pot", required=False, help_text="Shown where there is no photo.")
    home_url = forms.URLField(
        label="First appeared at",
        required=False,
        assume_scheme="https",
        max_length=200,
        error_messages={"invalid": "Type a whole address, like https://example.org/soup."},
        help_text="The address of its first page, if it stood elsewhere before.",
        widget=forms.TextInput({"inputmode": "url", "autocomplete": "off"}),
    )
    note = forms.CharField(
        label="Why this revision",
        help_text="What you changed, and what for.",
        max_length=300,
        required=False,
        widget=forms.TextInput({**_OWN_DIRECTION, "autocomplete": "off"}),
    )
    pasted_steps = forms.CharField(
        label="Paste steps",
        required=False,
        help_text="One on each line, or with a blank line between. Numbers in front are taken off.",
        widget=forms.Textarea({"rows": 3}),
    )

    @property
    def beside(self) -> list[tuple[forms.BoundField, str]]:
        """The short fields that stand beside each other, with their units."""
        units = {"servings": "", "serving_g": "g", "drawing": "", "tags": "", "home_url": ""}
        return [(self[name], unit) for name, unit in units.items()]

    def clean_pasted_steps(self) -> str:
        """Return the pasted text, unless it makes more steps than a page can show."""
        text = str(self.cleaned_data["pasted_steps"])
        count = len(split_steps(text))
        if count > MOST_PASTED_STEPS:
            raise ValidationError(f"This makes {count:,} steps; {MOST_PASTED_STEPS} can be taken at once. Paste fewer.")
        return text

    def clean_tags(self) -> tuple[str, ...]:
        """Return the tags, each once, in the order typed."""
        tags = tuple(dict.fromkeys(tag for piece in self.cleaned_data["tags"].split(",") if (tag := " ".join(piece.split()))))
        if len(tags) > MOST_TAGS:
            raise ValidationError(f"There are {len(tags)} tags; {MOST_TAGS} fit.")
        for tag in tags:
            if len(tag) > LONGEST_TAG:
                raise ValidationError(f"“{tag[:LONGEST_TAG]}…” is long for a tag: {LONGEST_TAG} letters fit.")
        return tags


class PartForm(forms.Form):
    """One group of ingredient lines."""

    title = forms.CharField(
        label="Heading", max_length=80, required=False, widget=forms.TextInput({**_OWN_DIRECTION, "autocomplete": "off"})
    )
    lines = forms.CharField(
        label="Lines",
        required=False,
        help_text="One ingredient on each line. A line that ends with a colon opens a new part.",
        widget=forms.Textarea({"rows": 8, "spellcheck": "true"}),
    )

    def clean_lines(self) -> tuple[str, ...]:
        """Return the lines that hold something; name the first that is too long."""
        lines = tuple(self.cleaned_data["lines"].splitlines())
        for number, line in enumerate(lines, 1):
            if len(line.strip()) > LONGEST_LINE:
                raise ValidationError(
                    f"Line {number}, “{line.strip()[:40]}…”, has {len(line.strip()):,} characters; {LONGEST_LINE} fit."
                    " Break it in two, or move words into a step."
                )
        return tuple(line.strip() for line in lines if line.strip())


class StepForm(forms.Form):
    """One step of the method."""

    text = forms.CharField(
        label="What to do",
        max_length=LONGEST_STEP,
        error_messages={"required": "Write what to do, or remove this step."},
        widget=forms.Textarea({"rows": 2}),
    )
    stage = forms.ChoiceField(choices=[("", "no stage"), *STAGE_OFFERS], required=False)
    minutes = NumberField(low=0, high=9999, unit="min", required=False)
    temp_c = NumberField(label="Temperature", low=-60, high=600, unit="°C", required=False)
    photo = forms.TypedChoiceField(coerce=int, empty_value=None, required=False)
    read = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, photos: Sequence[Photo] = (), **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.photos = {str(photo.pk): photo for photo in photos}
        if photos:
            cast(forms.ChoiceField, self.fields["photo"]).choices = [
                ("", "no photo"),
                *((photo.pk, photo.alt) for photo in photos),
            ]
        else:
            del self.fields["photo"]

    @property
    def picture(self) -> Photo | None:
        """The photo that is chosen for the step."""
        return self.photos.get(str(self["photo"].value() or "")) if self.photos else None

    @property
    def proposal(self) -> str:
        """What the step's words say for its empty fields, like "hold, 9 min"; empty where they say nothing more."""
        return _marks_words(proposed(self._row))

    @property
    def from_words(self) -> str:
        """What stands in its fields just as its words say; empty where the cook chose otherwise or the words say nothing."""
        row = self._row
        said = proposed({**dict.fromkeys(row, ""), "text": row["text"]})
        return _marks_words({name: value for name, value in said.items() if value == row[name].strip()})

    @property
    def _row(self) -> dict[str, str]:
        return {name: str(self[name].value() or "") for name in ("text", "stage", "minutes", "temp_c")}


def _marks_words(said: Mapping[str, str]) -> str:
    stage = [STAGE_KINDS[said["stage"]].label] if "stage" in said else []
    units = (("minutes", "min"), ("temp_c", "°C"))
    return ", ".join([*stage, *(f"{said[name]}\u00a0{unit}" for name, unit in units if name in said)])


class DraftForm:
    """The whole page: one head, some parts, some steps, all bound to what was typed."""

    def __init__(self, typed: TypedDraft, photos: Sequence[Photo] = (), *, fresh: bool = False) -> None:
        """Read what was typed; a ``fresh`` page was not typed by anybody yet, so nothing on it is a mistake."""
        self.typed = typed
        written = typed.written_steps()
        self.head = HeadForm(None if fresh else dict(typed.head), initial=dict(typed.head))
        if fresh:
            self.head.fields["title"].widget.attrs["autofocus"] = True
        self.parts = [PartForm(_named(row, f"part-{place}"), prefix=f"part-{place}") for place, row in enumerate(typed.parts)]
        self.steps = [
            StepForm(
                _named(row, f"step-{place}") if row in written else None,
                prefix=f"step-{place}",
                initial=dict(row),
                photos=photos,
            )
            for place, row in enumerate(typed.steps)
        ]
        self.limits = self._limits()

    def _limits(self) -> list[str]:
        """Return what is too much of the whole page."""
        typed = self.typed
        lines = sum(1 for part in typed.parts for line in part["lines"].splitlines() if line.strip())
        found = []
        if lines > MOST_LINES:
            found.append(f"There are {lines:,} ingredient lines; {MOST_LINES} fit. Move some into a recipe of their own.")
        if len(typed.parts) > MOST_PARTS:
            found.append(f"There are {len(typed.parts)} parts; {MOST_PARTS} fit. Join some.")
        if len(typed.written_steps()) > MOST_STEPS:
            found.append(f"There are {len(typed.written_steps()):,} steps; {MOST_STEPS} fit. Join some.")
        return found

    def is_valid(self) -> bool:
        """Whether the page can be saved as it is typed; an empty step is nobody's mistake."""
        return not self.limits and not any(form.errors for form in (self.head, *self.parts, *self._filled_steps()))

    def _filled_steps(self) -> list[StepForm]:
        return [form for form in self.steps if form.is_bound]

    def parts_typed(self) -> list[DraftPart]:
        """Return the parts that can be read already, although the page may not be valid as a whole."""
        return [part for form in self.parts if form.is_bound and form.is_valid() for part in _split(form.cleaned_data)]

    def mistakes(self) -> list[str]:
        """Return what is wrong on the whole page, each with the name of its field."""
        found = list(self.limits)
        found += _errors_with_places("", self.head)
        for number, part in enumerate(self.parts, 1):
            found += _errors_with_places(f"Part {number}, " if len(self.parts) > 1 else "", part)
        for number, step in enumerate(self.steps, 1):
            found += _errors_with_places(f"Step {number}, ", step)
        return found

    def draft(self) -> DraftContent:
        """Return the draft of a valid page. Lines that read as headings open parts of their own."""
        head = self.head.cleaned_data
        return DraftContent(
            title=head["title"],
            servings=int(head["servings"]),
            summary=head["summary"],
            tags=head["tags"],
            drawing=head["drawing"] or "pot",
            home_url=head["home_url"],
            serving_g=None if head["serving_g"] is None else float(head["serving_g"]),
            note=head["note"],
            parts=tuple(self.parts_typed()),
            steps=tuple(_step(form.cleaned_data) for form in self._filled_steps()),
        )


def _errors_with_places(place: str, form: forms.Form) -> list[str]:
    said = []
    for name, errors in form.errors.items():
        label = str(form[name].label).lower()
        said += [f"{place}{label}: {error}" if place else f"{label.capitalize()}: {error}" for error in errors]
    return said


def _named(row: Row, prefix: str) -> dict[str, str]:
    return {f"{prefix}-{name}": value for name, value in row.items()}


def _split(cleaned: Mapping[str, Any]) -> list[DraftPart]:
    """Return the parts in one textarea, without those that hold nothing."""
    parts = [DraftPart(title=cleaned["title"])]
    for line in cleaned["lines"]:
        read = parse_line(line)
        if read.heading:
            parts.append(DraftPart(title=read.name[:80]))
        else:
            parts[-1] = DraftPart(parts[-1].title, (*parts[-1].lines, line))
    return [part for part in parts if part.title or part.lines]


def _step(cleaned: Mapping[str, Any]) -> DraftStep:
    return DraftStep(cleaned["text"], cleaned["stage"], cleaned["minutes"], cleaned["temp_c"], cleaned.get("photo"))


def typed_from(draft: DraftContent) -> TypedDraft:
    """Return a draft as it stands in the editor's fields, with one empty part or step where there is none yet."""
    head = {
        "title": draft.title,
        "summary": draft.summary,
        "servings": str(draft.servings),
        "serving_g": "" if draft.serving_g is None else f"{draft.serving_g:g}",
        "tags": ", ".join(draft.tags),
        "drawing": draft.drawing,
        "home_url": draft.home_url,
        "note": draft.note,
        "pasted_steps": "",
    }
    parts = [{"title": part.title, "lines": "\n".join(part.lines)} for part in draft.parts]
    typed = TypedDraft(head, tuple(parts), tuple(_typed_step(step) for step in draft.steps))
    typed = typed if typed.parts else typed.with_part()
    return typed if typed.steps else typed.with_step()


def _typed_step(step: DraftStep) -> Row:
    return {
        "text": step.text,
        "stage": step.stage,
        "minutes": "" if step.minutes is None else f"{step.minutes.normalize():f}",
        "temp_c": "" if step.temp_c is None else f"{step.temp_c.normalize():f}",
        "photo": "" if step.photo is None else str(step.photo),
        "read": "1",
    }
