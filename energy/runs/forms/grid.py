"""More rows of a run that is there, typed in one grid: checked by themselves, then beside what the run holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any
from uuid import UUID, uuid4

from django import forms

from energy.form_fields import OnceField, as_minutes
from energy.models import Run
from energy.runs.domain.samples import Sample
from energy.runs.forms.rows import FEWEST_ROWS, ColonForm, GridRows, RowForm, raw_rows
from energy.runs.operations.typed import TypedRows

_NOTHING = "Nothing is typed yet. Fill in at least one row: its time, and what a display showed, a stage or a note."
_SAME_MOMENT_S = 0.001


class NameForm(forms.Form):
    """The hidden name of the grid."""

    once = OnceField()


class MoreRows:
    """The grid of a run. Asking for more rows, or for order, changes nothing else and checks nothing."""

    def __init__(self, data: Mapping[str, Any] | None, *, run: Run, kept: Sequence[Sample]) -> None:
        self.saves = data is not None and not {"more", "order"} & set(data)
        self.checked = False
        self.kept = kept
        self.name = NameForm(data)
        self.colon = ColonForm(data, initial={"colon": "clock"})
        clock = (run.started_at,) if self.colon.by_clock else ()
        if data is not None and self.saves:
            self.rows = GridRows(data, clock=clock)
            return
        more, ordered = FEWEST_ROWS if data and "more" in data else 0, bool(data) and "order" in (data or {})
        raw = raw_rows(data, more=more, ordered=ordered, clock=clock) if data else []
        self.rows = GridRows(raw=raw, clock=clock, spare=FEWEST_ROWS)

    def is_valid(self) -> bool:
        """Check the rows among themselves, then beside the run's own readings."""
        self.checked = True
        if not self.rows.is_valid():
            return False
        typed = self.rows.typed
        if not typed:
            self.rows.errors.append(_NOTHING)
        for row in typed:
            self._check_beside(row)
        if any(row.errors for row in typed):
            self.rows.errors.append("Some cells do not fit what the cook holds; the words are beside them.")
        return not self.rows.errors

    def _check_beside(self, row: RowForm) -> None:
        at_s, now_wh = row.cleaned_data["minute"], row.figures["energy_wh"]
        same = next((one for one in self.kept if abs(one.at_s - at_s) < _SAME_MOMENT_S), None)
        if same is not None and row.shows_something:
            words = f"The cook holds a reading at minute {as_minutes(at_s)} already: {same.words}."
            row.add_error("minute", f"{words} Correct that one on the cook’s page, or empty this row.")
        elif now_wh is not None and not row.cleaned_data["reset"]:
            self._check_counter(row, at_s, now_wh)

    def _check_counter(self, row: RowForm, at_s: float, now_wh: float) -> None:
        """Hold a counter against the run's nearest readings, unless another typed row stands between."""
        typed = [one.cleaned_data["minute"] for one in self.rows.typed if one.figures["energy_wh"] is not None]
        counted = [one for one in self.kept if one.energy_wh is not None]
        before = [one for one in counted if one.at_s < at_s and not any(one.at_s < other < at_s for other in typed)]
        after = [one for one in counted if one.at_s > at_s and not any(at_s < other < one.at_s for other in typed)]
        if before and (before[-1].energy_wh or 0.0) > now_wh:
            row.question_fall(before[-1].energy_wh or 0.0, now_wh)
        elif after and (after[0].energy_wh or 0.0) < now_wh:
            later = f"{after[0].energy_wh:g}\u00a0Wh at minute {as_minutes(after[0].at_s)}"
            row.add_error("energy_wh", f"The cook holds {later}, less than {now_wh:g}\u00a0Wh here. Correct one of them.")

    @property
    def once(self) -> UUID:
        """The grid's name, of a valid one."""
        name: UUID | None = self.name.cleaned_data["once"] if self.name.is_valid() else None
        return name or uuid4()

    @property
    def typed(self) -> TypedRows:
        """What a valid grid holds."""
        return TypedRows(self.rows.readings, self.rows.stages, self.rows.notes)
