"""The run desk without script: a form's presses are kept by the same operations as a phone's, by the server's clock."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from energy.models import DeskEvent, Run
from energy.operations.desk import NewCook, NewPress, begin_cook, keep_press, take_back
from energy.operations.desk_photos import keep_photo
from energy.operations.typed import RunDetails


@dataclass(frozen=True)
class Pressed:
    """One press of a form. ``figures`` stood in its fields beside it: they are a reading at the same moment."""

    id: UUID
    kind: str
    at: datetime
    said: dict[str, Any] = field(default_factory=dict)
    figures: dict[str, Any] = field(default_factory=dict)
    photo: bytes | None = None
    replaces: UUID | None = None


def start_cook(*, key: UUID, details: RunDetails, by: Any, at: datetime) -> Run:
    """Start a cook and its first stage by the method, and return its run; the same form sent again returns the run it made.

    Raises
    ------
    SaidElse
        If the form has started a cook before and now says something else.
    """
    said = {
        "recipe": details.revision.recipe.slug,
        "revision": details.revision.number,
        **{name: getattr(details, name).pk for name in ("appliance", "source", "meter")},
        **{name: getattr(details, name) for name in ("servings", "ambient_c", "food_start_c", "altitude_m")},
    }
    run, fresh = begin_cook(cook=NewCook(key, details, said), by=by, at=at)
    first = details.revision.steps.exclude(stage="").order_by("position").first()
    if fresh and first is not None:
        stage = Pressed(uuid5(key, "first stage"), "stage", run.started_at, {"stage": first.stage})
        press_desk(run=run, pressed=stage, by=by, at=at)
    return run


def press_desk(*, run: Run, pressed: Pressed, by: Any, at: datetime) -> Pressed:
    """Keep what a form says and return the press as it is kept; sent again, it changes nothing.

    Raises
    ------
    SaidElse
        If the form has kept a press before and now says something else.
    Unfit
        If its photo cannot be kept.
    """
    said = {"kind": pressed.kind, **pressed.said}
    if pressed.photo is not None:
        said["photo"] = str(uuid5(pressed.id, "photo"))
        keep_photo(run=run, key=uuid5(pressed.id, "photo"), picture=pressed.photo, by=by, at=at)
    if pressed.figures:
        reading = {"kind": "reading", **pressed.figures}
        _keep(run, NewPress(uuid5(pressed.id, "reading"), "reading", pressed.at, reading), by, at)
    if pressed.replaces is not None:
        said["replaces"] = str(pressed.replaces)
    _keep(run, NewPress(pressed.id, pressed.kind, pressed.at, said, replaces=pressed.replaces), by, at)
    return Pressed(pressed.id, pressed.kind, pressed.at, said)


def undo_press(*, run: Run, key: str, by: Any, at: datetime) -> None:
    """Take a press back; twice changes nothing."""
    take_back(run=run, key=UUID(key), by=by, at=at)


def _keep(run: Run, press: NewPress, by: Any, at: datetime) -> None:
    """Keep one press. Its moment is "now", which is later when the same form comes again: the first one holds."""
    before = DeskEvent.objects.filter(pk=press.id, run=run).first()
    moment = press.at if before is None or before.at is None else before.at
    keep_press(run=run, press=replace(press, at=moment, said={**press.said, "at": moment.isoformat()}), by=by, at=at)
