"""Which runs of a recipe make its published figure: a tick and, where one is needed, a reason for each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from energy.models import Run
from energy.runs.queries.runs import does_count

LONGEST_REASON = 300


@dataclass
class RunChoice:
    """One run with what was chosen for it; ``error`` says what is missing."""

    run: Run
    counts: bool
    reason: str
    error: str = ""

    @property
    def verdict(self) -> str:
        """The verdict that the tick stands for."""
        if not self.counts:
            return "left_out"
        return "accepted" if self.run.flags else "counts"


class ChoosingForm:
    """The runs of one revision, ticked as they count now or as they were ticked in the form."""

    def __init__(self, data: Mapping[str, str] | None, runs: Sequence[Run]) -> None:
        self.is_bound = data is not None
        said = data or {}
        self.rows = [
            RunChoice(
                run,
                f"count{run.pk}" in said if self.is_bound else does_count(run),
                said.get(f"reason{run.pk}", "").strip() if self.is_bound else run.verdict_reason,
            )
            for run in runs
        ]

    def is_valid(self) -> bool:
        """Check that a flagged run that counts has a reason, and that no reason is too long."""
        for row in self.rows:
            if row.counts and row.run.flags and not row.reason:
                row.error = "Something looks wrong in this cook: say why it counts all the same."
            elif len(row.reason) > LONGEST_REASON:
                row.error = f"A reason has at most {LONGEST_REASON} letters."
        return not any(row.error for row in self.rows)

    @property
    def verdicts(self) -> dict[Run, tuple[str, str]]:
        """The verdict and the reason of each run."""
        return {row.run: (row.verdict, row.reason) for row in self.rows}
