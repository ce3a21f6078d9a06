"""One press on the run desk as a form sends it where no script runs; figures that stand in the fields go along with any press."""

from __future__ import annotations

from datetime import timedelta
from typing import Any
from uuid import uuid4

from django import forms
from django.core.exceptions import ValidationError
from django.utils import timezone

from energy.form_fields import MinuteField, NumberField, OnceField
from energy.models import Run
from energy.runs.domain.desk import KINDS, Press
from energy.runs.domain.samples import FIGURES
from energy.runs.domain.wire import Unfit
from energy.runs.queries.desk_page import DeskPage
from kitchen.domain.stages import STAGE_OFFERS

_PHOTO_BYTES = 20 * 1024 * 1024
_AS_TYPED_S = 0.06
"""Minutes are shown with three decimals. [s]"""


class PressForm(forms.Form):
    """One press; its button says which. A minute is typed only where an earlier press is corrected."""

    energy_wh = NumberField(low=0, high=1e9, unit="Wh", required=False, label="Wh on the counter")
    power_w = NumberField(low=0, high=1e5, unit="W", required=False, label="W now")
    charge_pct = NumberField(low=0, high=100, unit="%", required=False, label="% of charge")
    stage = forms.ChoiceField(choices=STAGE_OFFERS, required=False, label="Stage")
    label = forms.CharField(required=False, max_length=60, label="In your words")
    text = forms.CharField(required=False, max_length=500, label="Note")
    photo = forms.FileField(required=False, label="Photo", widget=forms.FileInput(attrs={"accept": "image/*"}))
    minute = MinuteField(required=False, label="At minute")
    following = forms.ChoiceField(choices=STAGE_OFFERS, required=False)
    once = OnceField()

    @property
    def kind(self) -> str:
        """Which press it is."""
        named = str(self.data.get("press", ""))
        return "stage" if named == "following" else named

    def clean_photo(self) -> Any:
        photo = self.cleaned_data["photo"]
        if photo is not None and (photo.size or 0) > _PHOTO_BYTES:
            raise ValidationError("This photo is larger than 20 MB. Take a smaller one.")
        return photo

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.kind not in KINDS:
            raise ValidationError("Press one of the buttons of this page.")
        if self.data.get("press") == "following":
            cleaned["stage"] = cleaned.get("following") or cleaned.get("stage")
        if self.errors:
            return cleaned
        if self.kind == "reading" and not self.figures:
            raise ValidationError("Type at least one figure: the counter, the watts or the charge. Then log it.")
        if self.kind == "stage" and not cleaned["stage"]:
            self.add_error("stage", "Choose the stage that begins.")
        if self.kind == "moment" and not (cleaned["text"] or cleaned["photo"] or self.data.get("correct")):
            self.add_error("text", "Write a few words, or choose a photo.")
        return cleaned

    @property
    def figures(self) -> dict[str, float]:
        """The figures that were typed."""
        return {name: self.cleaned_data[name] for name in FIGURES if self.cleaned_data.get(name) is not None}

    @property
    def beside(self) -> dict[str, float]:
        """The figures that stand beside a press which is no reading itself."""
        return {} if self.kind == "reading" else self.figures

    def picture(self) -> bytes | None:
        """Return the picture of a note, if there is one."""
        sent = self.cleaned_data["photo"]
        return sent.read() if sent is not None and self.kind == "moment" else None

    def pressed(self, run: Run, replaced: Press | None) -> Press:
        """Return the press of a valid form; ``replaced`` is the one that it corrects."""
        given, at = self.cleaned_data, timezone.now()
        if given["minute"] is not None:
            at = run.started_at + timedelta(seconds=given["minute"])
        said = self._press_says()
        if replaced:
            at = replaced.at if abs((at - replaced.at).total_seconds()) < _AS_TYPED_S or given["minute"] is None else at
            said = {**{name: replaced.said[name] for name in ("note", "photo") if replaced.said.get(name)}, **said}
        return Press(given["once"] or uuid4(), self.kind, at, said, replaces=replaced.id if replaced else None)

    def _press_says(self) -> dict[str, Any]:
        given = self.cleaned_data
        if self.kind == "reading":
            return dict(self.figures)
        if self.kind == "stage":
            label = given["label"] if self.data.get("press") == "stage" else ""
            return {"stage": given["stage"], **({"label": label} if label else {})}
        return {"text": given["text"]} if self.kind == "moment" and given["text"] else {}

    def refuse(self, refused: Exception) -> None:
        """Say why nothing was kept, under a fresh name: sent once more, it is another press."""
        again = "This form has saved a press before, and it said something else. Press once more to save this one, too."
        self.data = {**{name: self.data[name] for name in self.data}, "once": str(uuid4())}
        field = refused.field if isinstance(refused, Unfit) and refused.field in self.fields else None
        self.add_error(field, str(refused) if isinstance(refused, Unfit) else again)


def typed_press(run: Run, press: Press | None, page: DeskPage) -> dict[str, Any]:
    """Return what the form shows first: the press that is corrected, else the stage that comes next by the method."""
    if press is None:
        return {"stage": page.following["kind"] if page.following else "rest"}
    return {**press.said, "minute": round((press.at - run.started_at).total_seconds(), 3)}
