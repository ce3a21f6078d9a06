"""Forms of a recipe's history: two revisions to compare, why a revision was made, and going back to one."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, cast

from django import forms


class TwoRevisionsForm(forms.Form):
    """Which two revisions to see beside each other."""

    before = forms.TypedChoiceField(label="From revision", coerce=int)
    after = forms.TypedChoiceField(label="To revision", coerce=int)

    def __init__(self, *args: Any, numbers: Sequence[int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        for name, start in (("before", numbers[min(1, len(numbers) - 1)]), ("after", numbers[0])):
            cast(forms.ChoiceField, self.fields[name]).choices = [(number, str(number)) for number in numbers]
            self.fields[name].initial = start
            self.fields[name].error_messages["invalid_choice"] = "This recipe has no such revision. Choose one of the list."
            self.fields[name].error_messages["required"] = "Choose a revision."


class NoteForm(forms.Form):
    """Why a revision was made."""

    note = forms.CharField(
        label="Why this revision",
        help_text="What was changed, and what for.",
        max_length=300,
        required=False,
        widget=forms.TextInput({"dir": "auto", "autocomplete": "off"}),
    )


class SeenForm(forms.Form):
    """The state of the recipe that somebody was asked about."""

    number = forms.IntegerField(min_value=1, max_value=10**9, widget=forms.HiddenInput)
    version = forms.IntegerField(min_value=1, max_value=10**9, widget=forms.HiddenInput)
