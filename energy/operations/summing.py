"""When a run's figures are worked out again: at once, or, while very much comes in, every few seconds and when somebody looks."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from django.db import transaction

from energy.models import Run
from energy.operations.judging import refresh_summary

MANY = 2_000
EVERY = timedelta(seconds=10)
_HELD = ("started_at", "ended_at", "pauses", "summary", "behind")


def refresh_soon(*, run: Run, at: datetime) -> None:
    """Work a run's figures out; those of a running cook with very many readings at most every ten seconds.

    Between two times the run is marked ``behind``, and ``settle`` works out what is left.
    """
    lately = run.summed_at is not None and timedelta() <= at - run.summed_at < EVERY
    if run.ended_at is None and lately and _readings(run) > MANY:
        run.behind = True
        run.save(update_fields=["behind"])
        return
    refresh_summary(run=run)
    run.summed_at = at
    run.save(update_fields=["summed_at"])


def settle(*, run: Run) -> None:
    """Work out what came since a run's figures were worked out; does nothing where nothing did."""
    if not run.behind:
        return
    with transaction.atomic():
        run.refresh_from_db(fields=[*_HELD], from_queryset=Run.objects.select_for_update())
        if run.behind:
            refresh_summary(run=run)


def fall_behind(*, runs: Iterable[Run]) -> None:
    """Mark running cooks whose meter's device has sent something; those that have ended are worked out at once."""
    open_runs = []
    for run in runs:
        if run.ended_at is None:
            open_runs.append(run.pk)
        else:
            refresh_summary(run=run)
    Run.objects.filter(pk__in=open_runs, behind=False).update(behind=True)


def _readings(run: Run) -> int:
    """Return how many readings the run's figures were made of, as far as they tell."""
    coverage = (run.summary or {}).get("coverage") or {}
    return int(coverage.get("readings", 0))
