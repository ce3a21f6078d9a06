"""Meters' files: sending one, saying where its readings belong, the cooks of a longer log, and the names of kept shapes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from energy.form_fields import MinuteField, NumberField
from energy.meters.operations.files import CookOfLog
from energy.meters.queries.files import FoundCook
from energy.models import FileShape
from energy.runs.domain.log_columns import LONGEST_S
from energy.runs.operations.typed import RunDetails
from kitchen.domain.stages import STAGE_OFFERS

LARGEST_MB = 200
_LONGEST_TEXT = 4_000_000
_LONGEST_LOG_S = 400 * 24 * 3600
MOST_COOKS = 30

_TYPES = ".csv,.txt,.tsv,.json,.log,text/csv,text/plain,text/tab-separated-values"


class SendForm(forms.Form):
    """A file, or its text."""

    log_file = forms.FileField(
        required=False,
        allow_empty_file=True,
        label="The meter’s file",
        help_text=f"As the meter, its program or your supplier gave it; up to {LARGEST_MB} MB.",
        widget=forms.FileInput(attrs={"accept": _TYPES}),
    )
    log_text = forms.CharField(
        required=False,
        label="or paste its text",
        strip=False,
        widget=forms.Textarea(attrs={"rows": 4, "spellcheck": "false"}),
    )

    def clean_log_text(self) -> str:
        text: str = self.cleaned_data["log_text"]
        if len(text) > _LONGEST_TEXT:
            raise ValidationError("This is more than 4 MB of text. Send it as a file instead.")
        return text if text.strip() else ""

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        file = cleaned.get("log_file")
        if self.errors:
            return cleaned
        if not file and not cleaned.get("log_text"):
            self.add_error(
                "log_file", "This file is empty. Choose another." if file is not None else "Choose a file, or paste its text."
            )
        elif file and file.size > LARGEST_MB << 20:
            self.add_error("log_file", f"This file is larger than {LARGEST_MB} MB. Export a shorter time, then try again.")
        return cleaned

    @property
    def name(self) -> str:
        """What the file is called; of a valid form."""
        file = self.cleaned_data["log_file"]
        return str(file.name) if file else "pasted text"

    @property
    def pieces(self) -> Iterable[bytes]:
        """The bytes, piece by piece; of a valid form."""
        file = self.cleaned_data["log_file"]
        pieces: Iterable[bytes] = file.chunks() if file else [self.cleaned_data["log_text"].encode("utf-8", "replace")]
        return pieces


class PlacingForm(forms.Form):
    """Where a file's readings belong, and the yes to reading the same file twice. Only what is in question is asked."""

    placing = forms.ChoiceField(label="Where do these readings belong?", widget=forms.RadioSelect, required=False)
    again = forms.BooleanField(required=False, label="Read it in all the same")

    def __init__(self, data: Mapping[str, Any] | None, *, choices: Sequence[tuple[str, str]], twice: str) -> None:
        super().__init__(data, initial={"placing": choices[0][0] if len(choices) == 1 else ""})
        self.choices, self.twice = choices, twice
        field = self.fields["placing"]
        assert isinstance(field, forms.ChoiceField)
        field.choices = list(choices)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if "placing" not in self.errors and not cleaned.get("placing"):
            if len(self.choices) == 1:
                cleaned["placing"] = self.choices[0][0]
            else:
                self.add_error("placing", "Choose where the readings belong.")
        if self.twice and not cleaned.get("again"):
            self.add_error("again", self.twice)
        return cleaned


class ShapeNameForm(forms.Form):
    """The name of a kept way of reading."""

    name = forms.CharField(max_length=80, label="Name")

    def __init__(self, *args: Any, shape: FileShape | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.shape = shape

    def clean_name(self) -> str:
        name: str = self.cleaned_data["name"]
        if self.shape is not None and FileShape.objects.filter(name=name).exclude(pk=self.shape.pk).exists():
            raise ValidationError("Another way of reading has this name. Choose a different one.")
        return name


class LogMinuteField(MinuteField):
    """A moment counted from a log's first row; a log may span months."""

    def validate(self, value: Any) -> None:
        forms.Field.validate(self, value)
        if value is not None and not 0 <= value <= _LONGEST_LOG_S:  # what is no number at all is refused here, too
            raise ValidationError("Type minutes from the log’s first row, like 12, or hours and minutes, like 1:05.")


class LogStartForm(forms.Form):
    """When a log without a day began."""

    day = forms.DateField(label="The log begins on", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    time = forms.TimeField(label="at", widget=forms.TimeInput(format="%H:%M:%S", attrs={"type": "time", "step": "1"}))

    def clean_day(self) -> Any:
        day = self.cleaned_data["day"]
        if not 2000 <= day.year <= 2200:
            raise ValidationError("The year should lie between 2000 and 2200.")
        return day

    @property
    def start(self) -> datetime:
        """The first row's instant, of a valid form."""
        moment: datetime = timezone.make_aware(datetime.combine(self.cleaned_data["day"], self.cleaned_data["time"]))
        return moment


class PickField(forms.ChoiceField):
    """One of a few things by its number; the things are read once for all rows. Cleans to the thing."""

    def offer(self, things: Mapping[str, Any]) -> None:
        """Say what may be picked: number and thing."""
        self.things = things
        self.choices = [("", "choose …"), *((number, str(thing)) for number, thing in things.items())]

    def clean(self, value: Any) -> Any:
        return self.things[super().clean(value)]


class CookForm(forms.Form):
    """One cook of a log: from where to where, what it was and on what; or left out."""

    keep = forms.BooleanField(required=False, label="Save this cook")
    begins = LogMinuteField(label="Begins")
    ends = LogMinuteField(label="Ends")
    revision = PickField(label="What was cooked")
    servings = NumberField(low=1, high=500, whole=True, label="Servings")
    appliance = PickField(label="Cooked on")
    source = PickField(label="Plugged into")
    meter = PickField(label="Read from")
    stage = forms.ChoiceField(choices=STAGE_OFFERS, label="It begins with")

    def __init__(self, *args: Any, picks: Mapping[str, Mapping[str, Any]], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, things in picks.items():
            field = self.fields[name]
            assert isinstance(field, PickField)
            field.offer(things)

    @property
    def kept(self) -> bool:
        """Whether a run is to be made of it."""
        return bool(self["keep"].value())

    def full_clean(self) -> None:
        """A cook that is left out is not looked at."""
        if self.is_bound and not self["keep"].data:
            self._errors, self.cleaned_data = forms.utils.ErrorDict(), {"keep": False}
            return
        super().full_clean()

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        begins, ends = cleaned.get("begins"), cleaned.get("ends")
        if begins is not None and ends is not None:
            if ends <= begins:
                self.add_error("ends", "The end should lie after the start.")
            elif ends - begins > LONGEST_S:
                self.add_error("ends", f"That is more than {LONGEST_S / 86400:.0f} days after it began. Cut it shorter.")
        return cleaned

    def cook(self, start: datetime) -> CookOfLog:
        """Return the cook of a valid form; ``start`` is the log's first instant."""
        names = ("revision", "appliance", "source", "meter", "servings")
        given = {name: self.cleaned_data[name] for name in names}
        begins_s, ends_s = self.cleaned_data["begins"], self.cleaned_data["ends"]
        details = RunDetails(**given, started_at=start + timedelta(seconds=begins_s))
        return CookOfLog(begins_s, ends_s, details, self.cleaned_data["stage"])


class CooksForm:
    """All cooks of a log, and its first instant where the file names none."""

    def __init__(
        self,
        data: Mapping[str, Any] | None,
        *,
        found: Sequence[FoundCook],
        start: datetime | None,
        picks: Mapping[str, Mapping[str, Any]],
        initial: Mapping[str, Any],
    ) -> None:
        self.errors: list[str] = []
        self.known_start = start
        now = timezone.localtime()
        self.start_form = None if start is not None else LogStartForm(data, initial={"day": now.date(), "time": now.time()})
        self.rows = [
            CookForm(
                data,
                prefix=f"cook{place}",
                picks=picks,
                initial={**initial, "keep": True, "begins": one.start_s, "ends": one.end_s},
            )
            for place, one in enumerate(found)
        ]
        self.found = found

    def __iter__(self) -> Iterator[tuple[FoundCook, CookForm]]:
        return zip(self.found, self.rows, strict=True)

    def is_valid(self) -> bool:
        """Check every cook that is to be kept, and that no two share a minute."""
        forms_valid = [row.is_valid() for row in self.rows]
        if self.start_form is not None:
            forms_valid.append(self.start_form.is_valid())
        if not all(forms_valid):
            self.errors.append("Some cells need another look; the words are beside them.")
            return False
        kept = sorted((row.cleaned_data["begins"], row.cleaned_data["ends"]) for row in self._ticked)
        if not kept:
            self.errors.append("Choose at least one cook to save.")
        if any(later[0] < earlier[1] for earlier, later in pairwise(kept)):
            self.errors.append("Two of these cooks overlap: one should end before the next begins.")
        return not self.errors

    @property
    def _ticked(self) -> list[CookForm]:
        return [row for row in self.rows if row.cleaned_data.get("keep")]

    @property
    def start(self) -> datetime:
        """The log's first instant, of a valid form."""
        if self.start_form is None:
            assert self.known_start is not None
            return self.known_start
        return self.start_form.start

    @property
    def cooks(self) -> list[CookOfLog]:
        """The cooks to keep, in the order of time."""
        return sorted((row.cook(self.start) for row in self._ticked), key=lambda cook: cook.start_s)
