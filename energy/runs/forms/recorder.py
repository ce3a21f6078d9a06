"""The whole recorder: the run's details, its rows, or a log in their place, and whether more will follow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from energy.models import Run
from energy.runs.domain.samples import Sample
from energy.runs.forms.log import LogForm
from energy.runs.forms.recording import RunForm, StillCooking
from energy.runs.forms.rows import FEWEST_ROWS, ColonForm, GridRows, raw_rows
from energy.runs.operations.typed import FileFacts, NewNote, RunDetails, StageStart
from energy.runs.queries.sheet import GridPlan
from kitchen.models import Recipe

_TWO = (
    "Two readings are needed to see what was used, for example 0 Wh at minute 0 and the counter at the end. "
    "Or tick “still cooking” and log them as you go."
)
_EITHER = "Readings come from the log or from the rows, not from both. Empty one of them; the stages in the rows may stay."


class Recorder:
    """All forms of the page in one. Asking for more rows, order or a look at a log keeps nothing."""

    def __init__(
        self,
        data: Mapping[str, Any] | None,
        files: Mapping[str, Any] | None,
        *,
        recipe: Recipe,
        plan: GridPlan,
        initial: Mapping[str, Any],
    ) -> None:
        self.is_sheet = plan.is_sheet
        self.saves = data is not None and not {"more", "order", "look"} & set(data)
        self.checked = False
        self.kept_before: Run | None = None
        self.colon = ColonForm(data, initial={"colon": "clock" if plan.is_sheet else "span"})
        clock = (_start(RunForm(data, recipe=recipe)),) if self.colon.by_clock and data is not None else ()
        shape: dict[str, Any] = {"plan": plan.rows, "leads": plan.is_sheet, "spare": plan.spare, "clock": clock}
        if data is None or not self.saves:
            typed = dict(initial) if data is None else {name: data.get(name, "") for name in data}
            more, ordered = FEWEST_ROWS if data and "more" in data else 0, bool(data) and "order" in (data or {})
            raw = raw_rows(data, more=more, ordered=ordered, clock=clock) if data else []
            self.run = RunForm(recipe=recipe, initial=typed)
            self.still = StillCooking(initial=typed)
            self.log = LogForm(initial={**typed, "log_text": typed.get("log_text") or LogForm.text_of(files)})
            if data and "look" in data:
                self.log = LogForm(data, files)
                self.log.is_valid()
                self.log.keep_text()
            self.rows = GridRows(raw=raw, **shape)
        else:
            self.run = RunForm(data, recipe=recipe)
            self.still = StillCooking(data)
            self.log = LogForm(data, files)
            self.rows = GridRows(data, **shape)

    def is_valid(self) -> bool:
        """Check everything together, so that all errors show at once."""
        self.checked = True
        valid = all([self.run.is_valid(), self.still.is_valid(), self.log.is_valid(), self.rows.is_valid()])
        if valid and self.log.readings and self.rows.readings:
            self.log.add_error("log_text", _EITHER)
        elif valid and not self.running and len(self.readings) < 2:
            self.rows.errors.append(_TWO)
        if self.log.errors or not valid:
            self.log.keep_text()
        return valid and not self.log.errors and not self.rows.errors

    @property
    def has_errors(self) -> bool:
        """Whether the page comes back with something to put right."""
        return self.checked

    def refuse(self, kept: Run) -> None:
        """Say that this form has kept a run before, under a fresh name: sent once more, it is another cook."""
        self.kept_before = kept
        self.still = self.still.renamed()
        self.log.keep_text()

    @property
    def once(self) -> UUID | None:
        """The form's name, of a valid recorder."""
        name: UUID | None = self.still.cleaned_data["once"]
        return name

    @property
    def running(self) -> bool:
        """Whether more readings will follow."""
        return bool(self.still.cleaned_data["running"])

    @property
    def details(self) -> RunDetails:
        """The run's details, of a valid recorder; a log with dates says itself when it began."""
        details = self.run.details
        return details if self.log.start is None else replace(details, started_at=self.log.start)

    @property
    def readings(self) -> Sequence[Sample]:
        """The readings of a valid recorder."""
        return self.log.readings or self.rows.readings

    @property
    def file(self) -> FileFacts | None:
        """What is kept of the log of a valid recorder, where its readings are those of one."""
        return self.log.facts if self.log.readings else None

    @property
    def stages(self) -> Sequence[StageStart]:
        """The stages of a valid recorder: those in the rows, else those that the log names."""
        return self.rows.stages or self.log.stages

    @property
    def notes(self) -> Sequence[NewNote]:
        """The notes of a valid recorder."""
        return self.rows.notes


def _start(run: RunForm) -> datetime | None:
    """Return when the cook began, as far as day and time can be read, whatever else the form says."""
    run.is_valid()
    started_at: datetime | None = run.cleaned_data.get("started_at")
    return started_at
