"""Readings typed in rows: each row checked by itself, then all of them together. The rows never lose what was typed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from itertools import pairwise
from typing import Any

from django import forms

from energy.form_fields import NumberField, as_minutes
from energy.runs.domain.samples import FIGURES, RESET_NOTE, Sample
from energy.runs.domain.sheet import MOST_ROWS, PlannedRow, PlannedStage
from energy.runs.forms.clock import COLONS, AtField
from energy.runs.operations.typed import NewNote, StageStart
from kitchen.domain.stages import STAGE_KINDS, STAGE_OFFERS

FEWEST_ROWS = 8


class ReadingForm(forms.Form):
    """The three figures that a display can show, and the answer to "was the counter reset here?"."""

    energy_wh = NumberField(low=0, high=1e6, unit="Wh", required=False, label="Wh on the counter")
    power_w = NumberField(low=0, high=1e5, unit="W", required=False, label="W now")
    charge_pct = NumberField(low=0, high=100, unit="%", required=False, label="% of charge")
    reset = forms.BooleanField(required=False, label="the counter was reset here")
    falls = False
    """Whether the counter was found to fall here."""

    @property
    def figures(self) -> dict[str, Any]:
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
        return self.falls or bool(getattr(self, "cleaned_data", {}).get("reset"))

    def question_fall(self, before_wh: float, now_wh: float) -> None:
        """Ask whether the counter was reset where it falls, unless the box says so already."""
        if now_wh < before_wh and not self.cleaned_data.get("reset"):
            self.falls = True
            self.add_error(
                "energy_wh",
                f"The counter falls here, from {before_wh:g} to {now_wh:g} Wh. "
                "Correct the number, or tick the box if the counter was reset.",
            )


class ColonForm(forms.Form):
    """What a colon in the first column means."""

    colon = forms.ChoiceField(choices=COLONS, required=False, label="A time with a colon is", widget=forms.RadioSelect)

    @property
    def by_clock(self) -> bool:
        """Whether it means the time on the wall."""
        return bool(self["colon"].value() == "clock")


class RowForm(ReadingForm):
    """One row of the grid: a moment, what the displays showed, the stage that begins there, and a note."""

    minute = AtField(required=False, label="Minute")
    stage = forms.ChoiceField(choices=[("", "–"), *STAGE_OFFERS], required=False, label="Stage that begins here")
    note = forms.CharField(required=False, max_length=160, label="Note", widget=forms.TextInput(attrs={"autocomplete": "off"}))
    proposed = forms.CharField(required=False, widget=forms.HiddenInput)

    field_order = ["minute", "energy_wh", "power_w", "charge_pct", "stage", "note", "reset", "proposed"]
    lead = ""
    """What stands above the row: the stage that the method plans there."""

    @property
    def is_blank(self) -> bool:
        """Whether nothing was typed: a proposed stage without a minute does not count as typed."""
        cells = [self[name].data or "" for name in (*FIGURES, "note")]
        minute, stage, proposed = ((self[name].data or "").strip() for name in ("minute", "stage", "proposed"))
        return not any(str(cell).strip() for cell in cells) and not minute and stage in ("", proposed)

    @property
    def words(self) -> str:
        """What a valid row says in words: its note, and the answer about the counter."""
        return "; ".join(filter(None, [RESET_NOTE if self.cleaned_data["reset"] else "", self.cleaned_data["note"]]))

    def read_clock(self, start: datetime | None) -> None:
        """Take what holds a colon for the time of day."""
        minute = self.fields["minute"]
        assert isinstance(minute, AtField)
        minute.read_clock(start)

    def plan(self, row: PlannedRow, *, leads: bool) -> None:
        """Show what the method plans in this row: its minute in the empty cell, its stage above the row."""
        stage = row.begins
        if stage is None or (self["proposed"].value() or "") != stage.kind:
            return
        if stage.about_min:
            self.fields["minute"].widget.attrs["placeholder"] = f"≈\u00a0{_plain(stage)}"
        if leads:
            self.lead = _lead(stage)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if self.is_blank or "minute" in self.errors or cleaned.get("minute") is not None:
            return cleaned
        self.add_error("minute", "At which minute? Minutes count from the start of the cook.")
        return cleaned


class GridRows:
    """All rows of the grid. Unbound it proposes the recipe's stages; bound it checks and sorts nothing by itself.

    ``leads`` says whether a stage is named above its first row, as on the printed sheet. ``clock`` is empty where a colon counts
    from the start, else it holds when the cook began, None where nobody could read that.
    """

    def __init__(
        self,
        data: Mapping[str, Any] | None = None,
        *,
        plan: Sequence[PlannedRow] = (),
        raw: Sequence[dict[str, Any]] = (),
        leads: bool = False,
        spare: int = 3,
        clock: tuple[datetime | None, ...] = (),
    ) -> None:
        self.errors: list[str] = []
        self.out_of_order = False
        if data is not None:
            self.forms = [RowForm(data, prefix=f"row{n}") for n in range(row_count(data))]
        else:
            initial = list(raw) or [_planned_cells(row) for row in plan]
            count = min(MOST_ROWS, max(FEWEST_ROWS, len(initial) + (0 if raw else spare)))
            self.forms = [RowForm(prefix=f"row{n}", initial=initial[n] if n < len(initial) else {}) for n in range(count)]
        for form, row in zip(self.forms, plan, strict=False):
            form.plan(row, leads=leads)
        if leads and 0 < len(plan) < len(self.forms) and all(self.forms[row.number - 1].lead for row in plan if row.begins):
            self.forms[len(plan)].lead = "Anything more"
        for form in self.forms if clock else ():
            form.read_clock(clock[0])

    @property
    def blank(self) -> RowForm:
        """A row for the page to copy when more are needed; its place stands as ``__n__``."""
        return RowForm(prefix="row__n__")

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
    def readings(self) -> list[Sample]:
        """The readings of a valid set of rows."""
        return [Sample(row.cleaned_data["minute"], **row.figures, note=row.words) for row in self.typed if row.shows_something]

    @property
    def stages(self) -> list[StageStart]:
        """The stage starts of a valid set of rows."""
        return [
            StageStart(row.cleaned_data["minute"], row.cleaned_data["stage"]) for row in self.typed if row.cleaned_data["stage"]
        ]

    @property
    def notes(self) -> list[NewNote]:
        """The notes of a valid set of rows that stand beside no figure; the others belong to their reading."""
        return [
            NewNote(row.cleaned_data["minute"], row.cleaned_data["note"])
            for row in self.typed
            if row.cleaned_data["note"] and not row.shows_something
        ]

    @property
    def typed(self) -> list[RowForm]:
        """The rows that somebody typed into, of a valid set."""
        return [form for form in self.forms if form.is_valid() and not form.is_blank]


def row_count(data: Mapping[str, Any]) -> int:
    """Return how many rows a request says it carries, within bounds."""
    try:
        return min(MOST_ROWS, max(0, int(data.get("rows", 0))))
    except (TypeError, ValueError):
        return FEWEST_ROWS


def raw_rows(
    data: Mapping[str, Any], *, more: int = 0, ordered: bool = False, clock: tuple[datetime | None, ...] = ()
) -> list[dict[str, Any]]:
    """Return the rows exactly as typed, with ``more`` empty ones, or put in the order of their minutes."""
    names = list(RowForm.base_fields)
    rows = [{name: data.get(f"row{n}-{name}", "") for name in names} for n in range(row_count(data))]
    if ordered:
        field = AtField(required=False)
        for start in clock:
            field.read_clock(start)
        rows.sort(key=lambda row: _minute_typed(row, field))
    return [*rows, *({} for _ in range(more))][:MOST_ROWS]


def _minute_typed(row: dict[str, Any], field: AtField) -> float:
    try:
        value = field.clean(row["minute"])
    except forms.ValidationError:
        return float("inf")
    return float("inf") if value is None else value


def _planned_cells(row: PlannedRow) -> dict[str, Any]:
    stage = {} if row.begins is None else {"stage": row.begins.kind, "proposed": row.begins.kind}
    return {**stage, "minute": "0"} if row.number == 1 else stage


def _plain(stage: PlannedStage) -> str:
    return "" if stage.about_min is None else f"{stage.about_min.normalize():f}"


def _lead(stage: PlannedStage) -> str:
    about = f", from about minute {_plain(stage)}" if stage.about_min else ""
    lasts = f", for {stage.planned_min.normalize():f}\u00a0min" if stage.planned_min else ""
    return f"{STAGE_KINDS[stage.kind].label.capitalize()}{about}{lasts}"
