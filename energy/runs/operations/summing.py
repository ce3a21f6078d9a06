"""Working out the figures of runs again, after something beside them changed or came."""

from __future__ import annotations

from collections.abc import Iterable

from energy.models import Run
from energy.runs.operations.run_rows import hold_run, lock_runs


def refresh_summary(*, run: Run) -> None:
    """Work a run's figures out again and keep them."""
    with hold_run(run) as held:
        held.touch()


def settle(*, run: Run) -> None:
    """Work out what came since a run's figures were worked out; does nothing where nothing did."""
    if not run.behind:
        return
    with hold_run(run) as held:
        if run.behind:
            held.touch()


def fall_behind(*, runs: Iterable[Run]) -> None:
    """Mark running cooks whose meter's device has sent something; those that have ended are worked out at once.

    Call it inside a transaction.
    """
    locked = lock_runs(runs)
    Run.objects.filter(pk__in=[run.pk for run in locked if run.ended_at is None], behind=False).update(behind=True)
    for run in locked:
        if run.ended_at is not None:
            refresh_summary(run=run)
