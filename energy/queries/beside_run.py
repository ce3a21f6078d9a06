"""What stands beside a run's readings: notes and photos at their moments, and pauses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from energy.domain.words import format_minutes
from energy.models import Moment, Run


@dataclass(frozen=True)
class MomentRow:
    """A note or a photo with its minute from the start."""

    moment: Moment
    minute: str


@dataclass(frozen=True)
class PauseRow:
    """A pause: from which minute on, and for how long; empty while it goes on."""

    minute: str
    span: str


def moments_of(run: Run) -> list[MomentRow]:
    """Return a run's notes and photos in the order of time. One query."""
    return [MomentRow(one, _minute(run, one.at)) for one in run.moments.select_related("photo").order_by("at")]


def pauses_of(run: Run) -> list[PauseRow]:
    """Return a run's pauses in the order of time. No query."""
    found = []
    for since, until in run.pauses:
        start = datetime.fromisoformat(since)
        span = "" if until is None else format_minutes((datetime.fromisoformat(until) - start).total_seconds())
        found.append(PauseRow(_minute(run, start), span))
    return found


def _minute(run: Run, moment: datetime) -> str:
    return f"{round((moment - run.started_at).total_seconds() / 60, 1):g}"
