"""Holding a run: whoever changes its rows is alone with it, starts from what the table says, and writes only what changed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from energy.models import Run
from energy.runs.operations.working_out import work_out, work_out_soon

_COLUMNS = [field.attname for field in Run._meta.concrete_fields]
_GEAR = ("appliance", "source", "meter")


class HeldRun:
    """A run that nobody else changes until its transaction ends. Set its columns freely; ``touch`` it where its rows change."""

    def __init__(self, run: Run, stood: dict[str, Any]) -> None:
        self.run, self._stood, self._touched = run, stood, False

    def touch(self) -> None:
        """Note that a row has changed, so that the figures are worked out again."""
        self._touched = True

    def instant(self, at_s: float) -> datetime:
        """Return the instant of a moment that counts from the start."""
        return self.run.started_at + timedelta(seconds=at_s)

    def keep(self, soon: datetime | None) -> None:
        """Work the figures out where anything changed, and write the columns that did."""
        if self._touched or self._changed_fields():
            work_out(self.run) if soon is None else work_out_soon(self.run, soon)
        changed = self._changed_fields()
        if changed:
            self.run.save(update_fields=changed)

    def _changed_fields(self) -> list[str]:
        return [name for name, value in self._stood.items() if getattr(self.run, name) != value]


@contextmanager
def hold_run(run: Run, *, soon: datetime | None = None) -> Iterator[HeldRun]:
    """Let nobody else change a run while the block runs; then work its figures out and keep what changed.

    Parameters
    ----------
    run : Run
        As loaded whenever: it takes on what the table says now.
    soon : datetime, optional
        Now, where so much may come in that the figures are worked out only every few seconds while the cook goes on.

    Raises
    ------
    Run.DoesNotExist
        If it was removed meanwhile.
    """
    with transaction.atomic():
        if not lock_runs([run]):
            raise Run.DoesNotExist("This cook was removed meanwhile.")
        held = HeldRun(run, {name: getattr(run, name) for name in _COLUMNS})
        yield held
        held.keep(soon)


def lock_runs(runs: Iterable[Run]) -> list[Run]:
    """Let nobody else change these runs until the transaction ends; return those that are there, in the order of all locks.

    Each object says afterwards what its row says, of the gear that it was measured with too. One query.
    """
    known = {run.pk: run for run in runs}
    rows = Run.objects.select_for_update(no_key=True, of=("self",)).select_related(*_GEAR).order_by("pk")
    locked = list(rows.filter(pk__in=known))
    for row in locked:
        for name in (*_COLUMNS, *_GEAR):
            setattr(known[row.pk], name, getattr(row, name))
    return [known[row.pk] for row in locked]
