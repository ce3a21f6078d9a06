"""Presses of a desk, and the rows that follow from those that stand: each press is kept once, as it was said."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import datetime
from typing import Any
from uuid import UUID

from energy.models import DeskEvent, Moment, Reading, Run
from energy.runs.domain.desk import Pause, Press, Projection, project
from energy.runs.operations.run_rows.holding import HeldRun
from energy.runs.operations.run_rows.numbering import number_stages
from energy.runs.operations.run_rows.rows import pressed_moments, pressed_readings, pressed_stages
from energy.runs.queries.presses import presses_that_stand
from kitchen.models import Photo


@contextmanager
def pressing(held: HeldRun) -> Iterator[None]:
    """Let the run's rows follow, at the end of the block, from the presses that stand then; rows without a press stay."""
    before = project(presses_that_stand(held.run))
    yield
    _follow(held, before, project(presses_that_stand(held.run)))


def keep_event(held: HeldRun, press: Press, by: Any, at: datetime, before: DeskEvent | None) -> DeskEvent:
    """Keep a press, on its gravestone where it was taken back before it came; call it while ``pressing``."""
    event = DeskEvent(id=press.id, run=held.run, kind=press.kind, at=press.at, said=dict(press.said), skew_s=press.skew_s)
    event.received_at, event.said_by, event.withdrawn_at = at, by, before.withdrawn_at if before else None
    event.save(force_insert=before is None, force_update=before is not None)
    return event


def withdraw_press(held: HeldRun, key: UUID, by: Any, at: datetime) -> None:
    """Take a press back, or leave a gravestone for one that has not come yet; call it while ``pressing``."""
    if not DeskEvent.objects.filter(pk=key, run=held.run).update(withdrawn_at=at):
        DeskEvent.objects.create(id=key, run=held.run, received_at=at, said_by=by, withdrawn_at=at)


def show_photo(held: HeldRun, key: UUID, photo: Photo) -> None:
    """Let a photo stand in the moments that named it before it came."""
    moments = DeskEvent.objects.filter(run=held.run, kind="moment", withdrawn_at=None, said__photo=str(key))
    Moment.objects.filter(run=held.run, pk__in=moments.values("pk")).update(photo=photo)


def _follow(held: HeldRun, before: Projection, after: Projection) -> None:
    """Bring the rows from what followed before to what follows now."""
    if before == after:
        return
    gone = [press for key, press in before.rows.items() if after.rows.get(key) != press]
    come = [press for key, press in after.rows.items() if before.rows.get(key) != press]
    Reading.objects.filter(run=held.run, pk__in=_names(gone, "reading")).delete()
    Reading.objects.bulk_create(pressed_readings(held.run, come))
    Moment.objects.filter(run=held.run, pk__in=_names(gone, "moment")).delete()
    Moment.objects.bulk_create(pressed_moments(held.run, come))
    number_stages(held.run, held.run.stages.filter(event__in=_names(gone, "stage")), pressed_stages(held.run, come))
    held.run.pauses = _pauses(held.run, before.pauses, after.pauses)
    held.run.ended_at = later_end(held.run, after.ended_at)
    held.touch()


def later_end(run: Run, finished_at: datetime | None) -> datetime | None:
    """Return when a run ends: with its latest finish or where a form put its end, whichever is later."""
    ends = [moment for moment in (finished_at, run.typed_end) if moment is not None]
    return max(*ends, run.started_at) if ends else None


def _names(presses: Sequence[Press], kind: str) -> list[UUID]:
    return [press.id for press in presses if press.kind == kind]


def _pauses(run: Run, before: Sequence[Pause], after: Sequence[Pause]) -> list[list[str | None]]:
    """Return the pauses that follow now, with those of the run that never followed from presses."""
    followed, follow = [_pause_json(pause) for pause in before], [_pause_json(pause) for pause in after]
    others = [pause for pause in run.pauses if pause not in followed]
    return sorted([*others, *follow], key=lambda pause: datetime.fromisoformat(str(pause[0])))


def _pause_json(pause: Pause) -> list[str | None]:
    return [instant.isoformat() if instant else None for instant in pause]
