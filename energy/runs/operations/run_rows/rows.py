"""Rows of a run that are not kept yet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from uuid import UUID

from energy.models import DeskEvent, LoadedFile, Moment, Reading, Run, Stage
from energy.runs.domain.desk import Press, sample_of
from energy.runs.domain.samples import Sample
from kitchen.domain.stages import STAGE_KINDS
from kitchen.models import Photo


def reading_row(run: Run, sample: Sample, loaded: LoadedFile | None = None) -> Reading:
    """Return a reading, under its own name where it has one."""
    at = run.started_at + timedelta(seconds=sample.at_s)
    row = Reading(run=run, at=at, note=sample.note, origin=sample.origin, loaded=loaded)
    row.pk = sample.id or row.pk
    row.energy_wh, row.power_w, row.charge_pct = sample.figures
    return row


def stage_row(
    run: Run, starts_at: datetime, kind: str, label: str = "", attended: bool | None = None, *, event: UUID | None = None
) -> Stage:
    """Return a stage. ``attended`` None means: as cooks usually do in such a stage."""
    stands_there = STAGE_KINDS[kind].attended if attended is None else attended
    return Stage(run=run, kind=kind, label=label, starts_at=starts_at, attended=stands_there, event=event)


def pressed_readings(run: Run, presses: Sequence[Press]) -> list[Reading]:
    """Return the readings that follow from presses."""
    return [reading_row(run, sample_of(press, run.started_at)) for press in presses if press.kind == "reading"]


def pressed_moments(run: Run, presses: Sequence[Press]) -> list[Moment]:
    """Return the notes and photos that follow from presses."""
    return [
        Moment(id=press.id, run=run, at=press.at, text=press.said.get("text", ""), photo=_photo(run, press.said.get("photo")))
        for press in presses
        if press.kind == "moment"
    ]


def pressed_stages(run: Run, presses: Sequence[Press]) -> list[Stage]:
    """Return the stages that follow from presses."""
    return [
        stage_row(run, press.at, press.said["stage"], press.said.get("label", ""), press.said.get("attended"), event=press.id)
        for press in presses
        if press.kind == "stage"
    ]


def _photo(run: Run, name: str | None) -> Photo | None:
    """Return the picture that was sent under a name, or None while it has not come."""
    sent = DeskEvent.objects.filter(pk=name, run=run, kind="photo").first() if name else None
    return None if sent is None else Photo.objects.filter(recipe=run.revision.recipe_id, digest=sent.said["digest"]).first()
