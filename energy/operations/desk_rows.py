"""The rows of a run that follow from its presses: readings, moments, stages, pauses and the end."""

from __future__ import annotations

from datetime import datetime

from django.db.models import F

from energy.domain.desk import Begun, Desk, Logged, Noted, Pause
from energy.models import DeskEvent, Moment, Reading, Run, Stage
from energy.operations.summing import refresh_soon
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Photo


def write_rows(run: Run, before: Desk, after: Desk, at: datetime) -> None:
    """Bring the run's rows from what followed before to what follows now; what forms did to other rows stays."""
    if before == after:
        return
    _write_readings(run, before.readings - after.readings, after.readings - before.readings)
    _write_moments(run, before.moments - after.moments, after.moments - before.moments)
    _write_stages(run, before.stages - after.stages, after.stages - before.stages)
    if before.pauses != after.pauses:
        run.pauses = [_words(pause) for pause in after.pauses]
    if before.ended_at != after.ended_at:
        run.ended_at = _end(run, before, after)
    run.save(update_fields=["pauses", "ended_at"])
    refresh_soon(run=run, at=at)


def _words(pause: Pause) -> list[str | None]:
    return [instant and instant.isoformat() for instant in pause]


def _end(run: Run, before: Desk, after: Desk) -> datetime | None:
    """Return when the run ends now; an end that a form has set since stays when a finish is taken back."""
    if after.ended_at is not None:
        return max(after.ended_at, run.started_at)
    desk_end = before.ended_at and max(before.ended_at, run.started_at)
    return None if run.ended_at == desk_end else run.ended_at


def _write_readings(run: Run, gone: frozenset[Logged], come: frozenset[Logged]) -> None:
    Reading.objects.filter(run=run, pk__in=[one.id for one in gone]).delete()
    Reading.objects.bulk_create(Reading(**vars(one), run=run, origin="desk") for one in come)


def _write_moments(run: Run, gone: frozenset[Noted], come: frozenset[Noted]) -> None:
    Moment.objects.filter(run=run, pk__in=[one.id for one in gone]).delete()
    for one in come:
        Moment.objects.create(id=one.id, run=run, at=one.at, text=one.text, photo=_photo(run, one.photo))


def _photo(run: Run, name: str) -> Photo | None:
    """Return the picture that was sent under a name, or None while it has not come."""
    sent = DeskEvent.objects.filter(pk=name, run=run, kind="photo").first() if name else None
    return None if sent is None else Photo.objects.filter(recipe=run.revision.recipe_id, digest=sent.said["digest"]).first()


def _write_stages(run: Run, gone: frozenset[Begun], come: frozenset[Begun]) -> None:
    """Take stages out and put stages in, and number all of them by time."""
    if not gone and not come:
        return
    run.stages.filter(event__in=[one.id for one in gone]).delete()
    last = max(run.stages.values_list("position", flat=True), default=-1)
    Stage.objects.bulk_create(
        Stage(
            run=run,
            position=last + place,
            kind=one.kind,
            label=one.label,
            starts_at=one.at,
            attended=STAGE_KINDS[one.kind].attended,
            event=one.id,
        )
        for place, one in enumerate(come, start=1)
    )
    ordered = sorted(run.stages.all(), key=lambda stage: (stage.starts_at, str(stage.event or ""), stage.position))
    if [stage.position for stage in ordered] == list(range(len(ordered))):
        return
    run.stages.update(position=F("position") + 10_000)
    for place, stage in enumerate(ordered):
        Stage.objects.filter(pk=stage.pk).update(position=place)
