"""The form that starts a cook: the cook starts when it is sent."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django import forms

from energy.form_fields import NumberField, OnceField
from energy.gear.forms import GearChoices
from energy.runs.operations.typed import RunDetails
from energy.runs.queries.desk_page import assumed_words
from kitchen.models import Revision


class StartForm(GearChoices):
    """What is cooked on, for how many, how cold it is: the cook starts when this is sent."""

    servings = NumberField(low=1, high=500, whole=True, label="Servings")
    ambient_c = NumberField(low=-40, high=55, unit="°C", required=False, label="Air around the pot")
    food_start_c = NumberField(low=-30, high=100, unit="°C", required=False, label="Food at the start")
    altitude_m = NumberField(low=-430, high=5500, unit="m", whole=True, required=False, label="Height above the sea")
    practice = forms.BooleanField(
        required=False, label="A practice cook", help_text="It is recorded, and left out of the recipe’s figures."
    )
    once = OnceField()

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, assumed in assumed_words().items():
            self.fields[name].widget.attrs["placeholder"] = assumed
            self.fields[name].help_text = "Assumed while it is empty."

    @property
    def temperatures(self) -> list[forms.BoundField]:
        """The two fields that nothing can tell afterwards."""
        return [self["ambient_c"], self["food_start_c"]]

    @property
    def others(self) -> list[forms.BoundField]:
        """What is asked besides temperatures and gear."""
        return [field for field in self.circumstances if field.name not in ("ambient_c", "food_start_c")]

    def details(self, revision: Revision, now: datetime) -> RunDetails:
        """Return what the operations need of a valid form."""
        names = ("appliance", "source", "meter", "servings", "ambient_c", "food_start_c")
        given = {name: self.cleaned_data[name] for name in names}
        return RunDetails(revision, started_at=now, altitude_m=self.cleaned_data["altitude_m"] or 0, **given)

    @property
    def key(self) -> UUID:
        """The name of the cook, of a valid form."""
        return self.cleaned_data["once"] or uuid4()

    def refuse(self, words: str) -> None:
        """Say why nothing was started, under a fresh name."""
        self.data = {**{name: self.data[name] for name in self.data}, "once": str(uuid4())}
        self.add_error(None, words)
