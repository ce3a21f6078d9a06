"""The owner's verdict on a run."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from django.db import transaction

from energy.models import Run
from energy.runs.operations.run_rows import lock_runs


class NeedsReason(ValueError):
    """A flagged run was to count without a reason."""


@transaction.atomic
def judge_run(*, run: Run, verdict: str, reason: str = "", at: datetime | None = None) -> None:
    """Say whether a run counts: ``counts``, ``accepted`` or ``left_out``; ``at`` is when that was said.

    Raises
    ------
    NeedsReason
        If a flagged run is to count without being accepted, or accepted without a reason.
    """
    lock_runs([run])
    if verdict == "counts" and run.flags:
        raise NeedsReason("A flagged cook counts only when it is accepted with a reason.")
    if verdict == "accepted" and not reason.strip():
        raise NeedsReason("Accepting a flagged cook needs a reason.")
    run.verdict, run.verdict_reason, run.verdict_at = verdict, reason.strip(), at
    run.save(update_fields=["verdict", "verdict_reason", "verdict_at"])


def practice(*, run: Run, at: datetime) -> None:
    """Leave out a cook that was made to practise."""
    judge_run(run=run, verdict="left_out", reason="A practice cook.", at=at)


@transaction.atomic
def choose_runs(*, verdicts: Mapping[Run, tuple[str, str]], at: datetime) -> int:
    """Give several runs their verdicts, all or none, and return how many changed.

    Raises
    ------
    NeedsReason
        As ``judge_run``; nothing is changed then.
    """
    changed = [run for run in lock_runs(verdicts) if (run.verdict, run.verdict_reason) != _plain(*verdicts[run])]
    for run in changed:
        verdict, reason = verdicts[run]
        judge_run(run=run, verdict=verdict, reason=reason, at=at)
    return len(changed)


def _plain(verdict: str, reason: str) -> tuple[str, str]:
    return verdict, reason.strip()
