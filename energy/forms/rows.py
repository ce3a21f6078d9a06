"""Readings typed in rows: each row checked by itself, then all of them together. The rows never lose what was typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import Any

from django import forms

from energy.forms.fields import MinuteField, NumberField, as_minutes
from energy.operations import RESET_NOTE, NewReading, StageStart
from energy.queries import StageProposal
from kitchen.domain.stages import STAGE_CHOICES

FEWEST_ROWS = 8
MOST_ROWS = 120
FIGURES = ("energy_wh", "power_w", "charge_pct")


class ReadingForm(forms.Form):
    """The three figures that a display can show, and the answer to "was the counter reset here?"."""

    energy_wh = NumberField(low=0, high=1e6, unit="Wh", required=False, label="Wh on the counter")
    power_w = NumberField(low=0, high=1e5, unit="W", required=False, label="W now")
    charge_pct = NumberField(low=0, high=100, unit="%", required=False, label="% of charge")
    reset = forms.BooleanField(required=False, label="the counter was reset here")

    @property
    def figures(self) -> dict[str, float | None]:
        """The figures as numbers; empty where a cell is empty or could not be read."""
        cleaned = getattr(self, "cleaned_data", {})
        return {name: cleaned.get(name) for name in FIGURES}

    @property
    def shows_something(self) -> bool:
        """Whether any figure was typed."""
        return any(value is not None for value in self.figures.values())

    @property
    def asks_reset(self) -> bool:
        """Whether the question about a reset belongs beside the counter."""
        return bool(self.errors.get("energy_wh")) or bool(getattr(self, "cleaned_data", {}).get("reset"))

    def question_fall(self, before_wh: float, now_wh: float) -> None:
        """Ask whether the counter was reset where it falls, unless the box says so already."""
        if now_wh < before_wh and not self.cleaned_data.get("reset"):
            self.add_error(
                "energy_wh",
                f"The counter falls here, from {before_wh:g} to {now_wh:g} Wh. "
                "Correct the number, or tick the box if the counter was reset.",
            )


class RowForm(ReadingForm):
    """One row of the recorder: a minute, what the displays showed, and the stage that begins there."""

    minute = MinuteField(required=False, label="Minute")
    stage = forms.ChoiceField(choices=[("", "–"), *STAGE_CHOICES], required=False, label="Stage that begins here")
    proposed = forms.CharField(required=False, widget=forms.HiddenInput)

    field_order = ["minute", "energy_wh", "power_w", "charge_pct", "stage", "reset", "proposed"]

    @property
    def is_blank(self) -> bool:
        """Whether nothing was typed: a proposed stage without a minute does not count as typed."""
        cells = {name: self[name].data or "" for name in ("minute", *FIGURES)}
        stage = self["stage"].data or ""
        return not any(str(cell).strip() for cell in cells.values()) and stage in ("", self["proposed"].data or "")

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.is_blank or "minute" in self.errors or cleaned.get("minute") is not None:
            return cleaned
        self.add_error("minute", "At which minute? Minutes count from the start of the cook.")
        return cleaned


class Rows:
    """All rows of the recorder. Unbound it proposes the recipe's stages; bound it checks and sorts nothing by itself."""

    def __init__(
        self,
        data: Mapping[str, Any] | None = None,
        *,
        proposals: Sequence[StageProposal] = (),
        raw: Sequence[dict[str, Any]] = (),
    ) -> None:
        self.errors: list[str] = []
        self.out_of_order = False
        if data is not None:
            self.forms = [RowForm(data, prefix=f"row{n}") for n in range(row_count(data))]
        else:
            initial = list(raw) or _initial(proposals)
            count = min(MOST_ROWS, max(FEWEST_ROWS, len(initial)))
            self.forms = [RowForm(prefix=f"row{n}", initial=initial[n] if n < len(initial) else {}) for n in range(count)]
        for form, proposal in zip(self.forms, proposals, strict=False):
            if proposal.about_min:
                form.fields["minute"].widget.attrs["placeholder"] = f"≈\u00a0{proposal.about_min.normalize():f}"

    def is_valid(self) -> bool:
        """Check every row, then their order, then the counter; errors stand beside the cells."""
        typed = [form for form in self.forms if form.is_valid() and not form.is_blank]
        if not all(form.is_valid() for form in self.forms if not form.is_blank):
            self.errors.append("Some cells need another look; the words are beside them.")
            return False
        self._check_order(typed)
        if not self.errors:
            self._check_counter(typed)
        return not self.errors and all(form.is_valid() for form in typed)

    def _check_order(self, typed: Sequence[RowForm]) -> None:
        for before, row in pairwise(typed):
            earlier, now = before.cleaned_data["minute"], row.cleaned_data["minute"]
            if now < earlier:
                self.out_of_order = True
                first, second = f"row {self._number(before)} (minute {as_minutes(earlier)})", f"(minute {as_minutes(now)})"
                self.errors.append(f"Row {self._number(row)} {second} stands after {first}.")
            elif now == earlier and row.shows_something and before.shows_something:
                both = f"Rows {self._number(before)} and {self._number(row)} are both at minute {as_minutes(now)}."
                self.errors.append(f"{both} Put them into one row.")

    def _check_counter(self, typed: Sequence[RowForm]) -> None:
        counted = [(row, energy_wh) for row in typed if (energy_wh := row.figures["energy_wh"]) is not None]
        for (_, before_wh), (row, now_wh) in pairwise(counted):
            row.question_fall(before_wh, now_wh)

    def _number(self, form: RowForm) -> int:
        return self.forms.index(form) + 1

    @property
    def readings(self) -> list[NewReading]:
        """The readings of a valid set of rows."""
        return [
            NewReading(row.cleaned_data["minute"], **row.figures, note=RESET_NOTE if row.cleaned_data["reset"] else "")
            for row in self._typed
            if row.shows_something
        ]

    @property
    def stages(self) -> list[StageStart]:
        """The stage starts of a valid set of rows."""
        return [
            StageStart(row.cleaned_data["minute"], row.cleaned_data["stage"]) for row in self._typed if row.cleaned_data["stage"]
        ]

    @property
    def _typed(self) -> list[RowForm]:
        return [form for form in self.forms if form.is_valid() and not form.is_blank]


def row_count(data: Mapping[str, Any]) -> int:
    """Return how many rows a request says it carries, within bounds."""
    try:
        return min(MOST_ROWS, max(0, int(data.get("rows", 0))))
    except (TypeError, ValueError):
        return FEWEST_ROWS


def raw_rows(data: Mapping[str, Any], *, more: int = 0, ordered: bool = False) -> list[dict[str, Any]]:
    """Return the rows exactly as typed, with ``more`` empty ones, or put in the order of their minutes."""
    names = list(RowForm.base_fields)
    rows = [{name: data.get(f"row{n}-{name}", "") for name in names} for n in range(row_count(data))]
    if ordered:
        rows.sort(key=_minute_typed)
    return [*rows, *({} for _ in range(more))][:MOST_ROWS]


def _minute_typed(row: dict[str, Any]) -> float:
    try:
        value = MinuteField(required=False).clean(row["minute"])
    except forms.ValidationError:
        return float("inf")
    return float("inf") if value is None else value


def _initial(proposals: Sequence[StageProposal]) -> list[dict[str, Any]]:
    rows = [{"stage": proposal.kind, "proposed": proposal.kind} for proposal in proposals]
    if rows:
        rows[0]["minute"] = "0"
    return rows + [{}] * max(0, 3 if len(rows) > FEWEST_ROWS - 3 else 0)
