"""Reads of the presses of a run's desk."""

from __future__ import annotations

from energy.models import DeskEvent, Run
from energy.runs.domain.desk import KINDS, Press


def press_of_event(event: DeskEvent) -> Press:
    """Return a kept press as it stands now: with what a form corrected in it, at its moment, without one when it came."""
    return Press(event.pk, event.kind, event.at or event.received_at, {**event.said, **event.amended})


def presses_that_stand(run: Run) -> list[Press]:
    """Return the presses of a run that were not taken back, in the order of their moments. One query."""
    events = DeskEvent.objects.filter(run=run, withdrawn_at=None, kind__in=KINDS, at__isnull=False)
    return [press_of_event(event) for event in events]
