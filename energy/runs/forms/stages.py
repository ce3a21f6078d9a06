"""The stages of a run, corrected in rows: an empty row is no stage."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from energy.form_fields import MinuteField, as_minutes
from energy.runs.operations.typed import StageStart
from kitchen.domain.stages import STAGE_OFFERS

_EMPTY_ROWS = 3
_MOST_ROWS = 40


class StageRow(forms.Form):
    """One stage: when it began, what it is, and whether somebody stood at it."""

    minute = MinuteField(required=False, label="Begins at minute")
    kind = forms.ChoiceField(choices=[("", "–"), *STAGE_OFFERS], required=False, label="Stage")
    label = forms.CharField(required=False, max_length=60, label="In your words")
    attended = forms.BooleanField(required=False, label="somebody stood there")

    field_order = ["minute", "kind", "label", "attended"]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        minute, kind = cleaned.get("minute"), cleaned.get("kind")
        if kind and minute is None and "minute" not in self.errors:
            self.add_error("minute", "At which minute did it begin?")
        if minute is not None and not kind and "kind" not in self.errors:
            self.add_error("kind", "Which stage begins here? Empty the minute to take the row away.")
        return cleaned


class StageRows:
    """All stages of a run. Rows may stand in any order; two stages cannot begin at the same minute."""

    def __init__(self, data: Mapping[str, Any] | None = None, *, now: Sequence[dict[str, Any]]) -> None:
        self.errors: list[str] = []
        if data is None:
            self.forms = [StageRow(prefix=f"stage{n}", initial=row) for n, row in enumerate([*now, *([{}] * _EMPTY_ROWS)])]
        else:
            count = next((n for n in range(_MOST_ROWS) if f"stage{n}-minute" not in data), _MOST_ROWS)
            self.forms = [StageRow(data, prefix=f"stage{n}") for n in range(count)]

    def is_valid(self) -> bool:
        """Check every row and that no two begin together."""
        valid = [form.is_valid() for form in self.forms]
        if not all(valid):
            self.errors.append("Some cells need another look; the words are beside them.")
            return False
        moments = [stage.at_s for stage in self.stages]
        self.errors += [
            f"Two stages begin at minute {as_minutes(at_s)}." for at_s in sorted(set(moments)) if moments.count(at_s) > 1
        ]
        return not self.errors

    @property
    def stages(self) -> list[StageStart]:
        """The stages of valid rows."""
        cells = [form.cleaned_data for form in self.forms if form.cleaned_data["kind"]]
        return [StageStart(cell["minute"], cell["kind"], cell["label"], cell["attended"]) for cell in cells]
