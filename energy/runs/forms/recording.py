"""Forms that record a cook: what it was cooked on, one reading along the way, the verdict."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any
from uuid import UUID, uuid4

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from energy.form_fields import MinuteField, NumberField, OnceField
from energy.gear.forms import GearChoices
from energy.models import VERDICTS, Run
from energy.runs.domain.samples import RESET_NOTE, Sample
from energy.runs.forms.rows import ReadingForm
from energy.runs.operations.typed import RunDetails, StageStart
from energy.runs.queries.runs import run_summary
from energy.words import ENGLISH, sentence
from kitchen.domain.stages import STAGE_KINDS, STAGE_OFFERS
from kitchen.models import Recipe, Revision


class RevisionField(forms.ModelChoiceField):
    """A revision by its number."""

    def label_from_instance(self, obj: Any) -> str:
        return f"revision {obj.number}" + (f": {obj.note}" if obj.note else "")


class RunForm(GearChoices):
    """What was cooked, on what, when, for how many and how cold it was."""

    day = forms.DateField(label="Day", widget=forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
    time = forms.TimeField(label="Switched on at", widget=forms.TimeInput(format="%H:%M", attrs={"type": "time"}))
    servings = NumberField(low=1, high=500, whole=True, label="Servings cooked")
    ambient_c = NumberField(low=-40, high=55, unit="°C", required=False, label="Air around the pot")
    food_start_c = NumberField(low=-30, high=100, unit="°C", required=False, label="Food at the start")
    altitude_m = NumberField(low=-430, high=5500, unit="m", whole=True, required=False, label="Height above the sea")
    revision = RevisionField(Revision.objects.none(), empty_label=None, label="Revision that was cooked")
    note = forms.CharField(required=False, max_length=2000, label="Note", widget=forms.Textarea(attrs={"rows": 2}))

    def __init__(self, *args: Any, recipe: Recipe, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        revisions = self.fields["revision"]
        assert isinstance(revisions, forms.ModelChoiceField)
        revisions.queryset = recipe.revisions.order_by("-number")

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        day, time = cleaned.get("day"), cleaned.get("time")
        if day and time:
            cleaned["started_at"] = self._moment(day, time)
        return cleaned

    def _moment(self, day: Any, time: Any) -> datetime | None:
        if not 2000 <= day.year <= 2200:
            self.add_error("day", "The year should lie between 2000 and 2200.")
            return None
        moment: datetime = timezone.make_aware(datetime.combine(day, time))
        return moment.astimezone(UTC)  # seconds added to it must not go by the wall, whose clocks change

    @property
    def details(self) -> RunDetails:
        """What the operations need of a valid form."""
        names = ("revision", "appliance", "source", "meter", "started_at", "servings", "ambient_c", "food_start_c", "note")
        given = {name: self.cleaned_data[name] for name in names}
        return RunDetails(**given, altitude_m=self.cleaned_data["altitude_m"] or 0)

    @staticmethod
    def initial_of(run: Run) -> dict[str, Any]:
        """Return a run's details as the form shows them."""
        started = timezone.localtime(run.started_at)
        names = ("servings", "ambient_c", "food_start_c", "altitude_m", "note")
        keys = {name: getattr(run, f"{name}_id") for name in ("appliance", "source", "meter", "revision")}
        return {**keys, **{name: getattr(run, name) for name in names}, "day": started.date(), "time": started.time()}


class StillCooking(forms.Form):
    """Whether more readings will follow; it carries the name of the whole form too."""

    running = forms.BooleanField(required=False, label="Still cooking: I log the rest as it goes")
    once = OnceField()

    def renamed(self) -> StillCooking:
        """Return the same form under a fresh name, so that sending it now keeps another cook."""
        return StillCooking({**{name: self.data[name] for name in self.data}, "once": str(uuid4())})


class AtMinute(forms.Form):
    """Something that happens now or at a minute. ``elapsed_s`` is what "now" means; None where there is no now any more."""

    minute = MinuteField(required=False, label="At minute")

    def __init__(self, *args: Any, elapsed_s: float | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.elapsed_s = elapsed_s
        if elapsed_s is not None:
            self.fields["minute"].help_text = "Empty means now."

    def clean_minute(self) -> float:
        at_s: float | None = self.cleaned_data["minute"]
        if at_s is None and self.elapsed_s is None:
            raise ValidationError("At which minute? Minutes count from the start of the cook.")
        return round(self.elapsed_s or 0.0, 3) if at_s is None else at_s

    @property
    def words(self) -> str:
        """The moment in words, of a valid form."""
        return sentence(ENGLISH, "moment", at_s=self.cleaned_data["minute"])


class MomentForm(ReadingForm, AtMinute):
    """One reading along the cook. ``others``: the other readings of the counter, for the question about a reset."""

    field_order = ["energy_wh", "power_w", "charge_pct", "minute", "reset"]

    def __init__(self, *args: Any, others: Sequence[Sample], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.others = others

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.errors:
            return cleaned
        if not self.shows_something:
            raise ValidationError("Type at least one figure: the counter, the watts or the charge.")
        earlier = [one.energy_wh for one in self.others if one.energy_wh is not None and one.at_s < cleaned["minute"]]
        if earlier and cleaned["energy_wh"] is not None:
            self.question_fall(earlier[-1], cleaned["energy_wh"])
        return cleaned

    @property
    def reading(self) -> Sample:
        """The reading of a valid form."""
        return Sample(self.cleaned_data["minute"], **self.figures, note=RESET_NOTE if self.cleaned_data["reset"] else "")


class NewMomentForm(MomentForm):
    """A reading that is not kept yet: its hidden key becomes the reading's own."""

    key = OnceField()

    @property
    def once(self) -> UUID | None:
        """The key of a valid form."""
        key: UUID | None = self.cleaned_data["key"]
        return key

    @property
    def minute_typed(self) -> bool:
        """Whether the moment was typed, and is not simply now."""
        return bool(str(self["minute"].data or "").strip())

    def refuse(self, words: str) -> None:
        """Say why nothing was kept, under a fresh key: sent once more, it is another reading."""
        self.data = {**{name: self.data[name] for name in self.data}, "key": str(uuid4())}
        self.add_error(None, words)


class StageForm(AtMinute):
    """The next stage begins, now or at a minute."""

    kind = forms.ChoiceField(choices=STAGE_OFFERS, label="Stage")
    field_order = ["kind", "minute"]

    @property
    def start(self) -> StageStart:
        """The stage of a valid form."""
        return StageStart(self.cleaned_data["minute"], self.cleaned_data["kind"])

    @property
    def label(self) -> str:
        """The stage in the trade's words, with a capital."""
        return STAGE_KINDS[self.cleaned_data["kind"]].label.capitalize()


class VerdictForm(forms.Form):
    """Whether a run counts. A flagged one counts only with a reason that readers can see."""

    verdict = forms.ChoiceField(choices=VERDICTS, widget=forms.RadioSelect, label="This cook")
    reason = forms.CharField(required=False, max_length=300, label="Reason", help_text="Readers see it beside the cook.")

    def __init__(self, *args: Any, run: Run, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.run = run

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        verdict, reason = cleaned.get("verdict"), (cleaned.get("reason") or "").strip()
        if self.run.flags and verdict == "counts":
            self.add_error("verdict", "This cook is flagged. Accept it with a reason, or leave it out.")
        if verdict == "accepted" and not self._energy_known:
            self.add_error("verdict", "Too little was read: there is no energy that could count. Add readings, or leave it out.")
        elif verdict == "accepted" and not reason:
            self.add_error("reason", "Say why it counts all the same, for readers and for yourself next year.")
        return {**cleaned, "reason": reason}

    @property
    def _energy_known(self) -> bool:
        summary = run_summary(self.run)
        return summary is not None and summary.known
