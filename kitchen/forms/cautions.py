"""What the cook says to the cautions of a recipe's lines, and the cook's own cautions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django import forms

from kitchen.domain.answers import ANSWERS, LONGEST_REASON
from kitchen.models import Line

_HOLDS = ("", "it holds")


@dataclass(frozen=True)
class AskedLine:
    """A line that calls for cautions which a cook may answer, with their sentences."""

    line: Line
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class AskedRow:
    """A line with its two fields, for the template."""

    asked: AskedLine
    state: forms.BoundField
    reason: forms.BoundField


class CautionsForm(forms.Form):
    """A state and a reason for each line, and own cautions, one a line."""

    own = forms.CharField(
        label="Your own cautions, one a line",
        required=False,
        max_length=1000,
        widget=forms.Textarea({"rows": 4, "dir": "auto"}),
        help_text="They stand among the others, as your own word.",
    )

    def __init__(self, data: Any = None, *, asked: Sequence[AskedLine], own: str) -> None:
        super().__init__(data, initial={"own": own})
        self.asked = asked
        for number, answered in ((one.line.pk, one.line.answered) for one in asked):
            self.fields[f"state-{number}"] = forms.ChoiceField(
                label="What you say to it", choices=[_HOLDS, *ANSWERS], required=False, initial=answered.get("state", "")
            )
            self.fields[f"reason-{number}"] = forms.CharField(
                label="Why, in your words", max_length=LONGEST_REASON, required=False, initial=answered.get("reason", "")
            )

    def rows(self) -> list[AskedRow]:
        """Return each line with its fields."""
        return [AskedRow(one, self[f"state-{one.line.pk}"], self[f"reason-{one.line.pk}"]) for one in self.asked]

    def clean(self) -> dict[str, Any]:
        """Refuse a reason that answers nothing, and an answer without the reason that it asks for."""
        data = super().clean() or {}
        for number in (one.line.pk for one in self.asked):
            state, reason = data.get(f"state-{number}", ""), data.get(f"reason-{number}", "")
            if state == "other" and not reason:
                self.add_error(f"reason-{number}", "Say why: readers see your reason beside the caution.")
            if reason and not state:
                self.add_error(
                    f"state-{number}", f"You typed “{reason}”, and the caution still holds. Choose what you say to it."
                )
        return data

    def answers(self) -> dict[int, dict[str, str]]:
        """Return what a valid form says of each line; nothing where its cautions hold."""
        said = {
            one.line.pk: {name: self.cleaned_data[f"{name}-{one.line.pk}"] for name in ("state", "reason")} for one in self.asked
        }
        return {number: answered if answered["state"] else {} for number, answered in said.items()}
