"""Stages as forms put them: those that were pressed at a desk stay presses, corrected or taken back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from energy.models import DeskEvent, Stage
from energy.runs.operations.run_rows.holding import HeldRun
from energy.runs.operations.run_rows.numbering import number_stages
from energy.runs.operations.run_rows.presses import pressing, withdraw_press
from energy.runs.operations.run_rows.rows import stage_row
from energy.runs.queries.presses import press_of_event
from kitchen.domain.stages import STAGE_KINDS


def put_stages(held: HeldRun, wanted: Sequence[Stage], at: datetime) -> None:
    """Let these be the run's stages, and no others.

    A stage with ``event`` is the one that this press began, corrected where it says something else; a press that none of them
    names is taken back. ``at`` is now.
    """
    events = {event.pk: event for event in DeskEvent.objects.filter(run=held.run, kind="stage")}
    pressed = {stage.event: stage for stage in wanted if stage.event in events}
    with pressing(held):
        for key, event in events.items():
            if key in pressed:
                _correct(event, pressed[key])
            elif event.withdrawn_at is None:
                withdraw_press(held, key, None, at)
    _put_typed(held, [stage for stage in wanted if stage.event not in pressed], pressed.keys())


def _correct(event: DeskEvent, stage: Stage) -> None:
    """Let a press stand and say what its stage says now."""
    said = press_of_event(event).said
    says = {"stage": said["stage"], "label": said.get("label", "")}
    says["attended"] = said.get("attended", STAGE_KINDS[says["stage"]].attended)
    now = {"stage": stage.kind, "label": stage.label, "attended": stage.attended}
    if now == says and event.at == stage.starts_at and event.withdrawn_at is None:
        return
    event.at, event.withdrawn_at = stage.starts_at, None
    event.amended = event.amended if now == says else now
    event.save(update_fields=["at", "withdrawn_at", "amended"])


def _put_typed(held: HeldRun, wanted: Sequence[Stage], pressed: Any) -> None:
    """Let the stages without a press be these; those that stay as they are keep their rows."""
    missing = Counter(_stage_says(stage) for stage in wanted)
    gone = []
    for stage in held.run.stages.all():
        if stage.event in pressed:
            continue
        if missing[_stage_says(stage)] > 0:
            missing[_stage_says(stage)] -= 1
        else:
            gone.append(stage.pk)
    come = [stage_row(held.run, *says) for says in missing.elements()]
    if number_stages(held.run, held.run.stages.filter(pk__in=gone), come):
        held.touch()


def _stage_says(stage: Stage) -> tuple[datetime, str, str, bool]:
    return (stage.starts_at, stage.kind, stage.label, stage.attended)
