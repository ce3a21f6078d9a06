"""Marking stages on the curve: each stage's minute and kind, and where the cook begins and ends."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.core.exceptions import ValidationError

from energy.form_fields import MinuteField, as_minutes
from energy.runs.forms.stages import StageRow
from energy.runs.operations.typed import StageStart
from kitchen.domain.stages import STAGE_CHOICES

_EMPTY_ROWS = 2
_MORE_ROWS = 3
_MOST_ROWS = 40
_LONGEST_S = 7 * 24 * 3600
_CELLS = ("minute", "kind", "label", "attended", "key")


class SignedMinuteField(MinuteField):
    """A moment counted from the run's start as it stands; one before it has a minus."""

    def validate(self, value: Any) -> None:
        forms.Field.validate(self, value)
        if value is not None and not -_LONGEST_S <= value <= _LONGEST_S:  # what is no number at all is refused here, too
            raise ValidationError("That is more than a week away from the start. Type minutes from the start, like 12 or −3.")


class TrimForm(forms.Form):
    """Where the cook begins and ends; what lies outside is kept and not counted."""

    begins = SignedMinuteField(label="The cook begins at minute")
    ends = SignedMinuteField(label="It ends at minute")


class MarkRow(StageRow):
    """One stage on the curve; ``key`` says which stage of the run it was."""

    minute = SignedMinuteField(required=False, label="Begins at minute")
    kind = forms.ChoiceField(choices=[("", "–"), *STAGE_CHOICES], required=False, label="Stage")
    key = forms.CharField(required=False, widget=forms.HiddenInput)


class MarkingForm:
    """The whole page: trim and stages. Asking for more rows checks nothing and keeps what was typed."""

    def __init__(
        self, data: Mapping[str, Any] | None, *, span_s: float, rows: Sequence[Mapping[str, Any]], begins_s: float = 0.0
    ) -> None:
        self.errors: list[str] = []
        self.saves = data is not None and "more" not in data
        self.checked = False
        self.span_s = span_s
        if data is not None and self.saves:
            self.trim = TrimForm(data)
            self.rows = [MarkRow(data, prefix=f"stage{n}") for n in range(_row_count(data))]
            return
        typed = list(rows) if data is None else _typed_rows(data)
        empty = _EMPTY_ROWS if data is None else _MORE_ROWS
        begins, ends = (begins_s, span_s) if data is None else (data.get("begins", ""), data.get("ends", ""))
        self.trim = TrimForm(initial={"begins": begins, "ends": ends})
        filled = [*typed, *([{}] * empty)][:_MOST_ROWS]
        self.rows = [MarkRow(prefix=f"stage{n}", initial=row) for n, row in enumerate(filled)]

    def is_valid(self) -> bool:
        """Check every cell, then that the stages lie inside the cook and no two begin together."""
        self.checked = True
        if not all([self.trim.is_valid(), *(row.is_valid() for row in self.rows)]):
            self.errors.append("Some cells need another look; the words are beside them.")
            return False
        if self.ends_s <= self.begins_s:
            self.trim.add_error("ends", "The end should lie after the start.")
            return False
        if not self.stages:
            self.errors.append("Mark at least one stage: what the cook took is counted from its first stage on.")
        for row in self.rows:
            self._check_inside(row)
        moments = [stage.at_s for stage in self.stages]
        self.errors += [
            f"Two stages begin at minute {as_minutes(one)}." for one in sorted(set(moments)) if moments.count(one) > 1
        ]
        return not self.errors and not any(row.errors for row in self.rows)

    def _check_inside(self, row: MarkRow) -> None:
        minute = row.cleaned_data.get("minute")
        if minute is not None and not self.begins_s <= minute <= self.ends_s:
            begins, ends = as_minutes(self.begins_s), as_minutes(self.ends_s)
            row.add_error("minute", f"This lies outside the cook, which goes from minute {begins} to {ends}.")

    @property
    def marks(self) -> list[tuple[int, float]]:
        """The number of each row and its moment, as far as they are known: for the drawing. [s]"""
        moments = [(number, _moment(row["minute"].value())) for number, row in enumerate(self.rows, 1)]
        return [(number, at_s) for number, at_s in moments if at_s is not None]

    @property
    def ends(self) -> tuple[float, float]:
        """Both ends of the cook as far as they are known: for the drawing. [s, s]"""
        begins, ends = _moment(self.trim["begins"].value()), _moment(self.trim["ends"].value())
        return 0.0 if begins is None else begins, self.span_s if ends is None else ends

    @property
    def begins_s(self) -> float:
        """Where the cook begins, counted from the start as it stood. [s]"""
        return float(self.trim.cleaned_data["begins"])

    @property
    def ends_s(self) -> float:
        """Where it ends. [s]"""
        return float(self.trim.cleaned_data["ends"])

    @property
    def stages(self) -> list[StageStart]:
        """The stages of a valid form, in the order of time."""
        cells = [row.cleaned_data for row in self.rows if row.cleaned_data.get("kind") and "minute" in row.cleaned_data]
        found = [StageStart(one["minute"], one["kind"], one["label"], one["attended"], _number(one["key"])) for one in cells]
        return sorted(found, key=lambda stage: stage.at_s)


def _moment(value: Any) -> float | None:
    try:
        at_s: float | None = SignedMinuteField(required=False).clean(value)
    except ValidationError:
        return None
    return at_s


def _row_count(data: Mapping[str, Any]) -> int:
    return next((n for n in range(_MOST_ROWS) if f"stage{n}-minute" not in data), _MOST_ROWS)


def _typed_rows(data: Mapping[str, Any]) -> list[dict[str, Any]]:
    return [{cell: data.get(f"stage{n}-{cell}", "") for cell in _CELLS} for n in range(_row_count(data))]


def _number(text: str) -> int | None:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 15 else None
