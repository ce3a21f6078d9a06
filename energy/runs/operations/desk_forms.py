"""The run desk without script: a form's presses are kept by the same operations as a phone's, by the server's clock."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid5

from energy.models import DeskEvent, Run
from energy.runs.domain.desk import Press
from energy.runs.operations.desk import NewCook, begin_cook, keep_press, take_back
from energy.runs.operations.desk_photos import keep_photo
from energy.runs.operations.typed import RunDetails


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
        stage = Press(uuid5(key, "first stage"), "stage", run.started_at, {"stage": first.stage})
        press_desk(run=run, press=stage, by=by, at=at)
    return run


def press_desk(
    *, run: Run, press: Press, beside: Mapping[str, Any] | None = None, photo: bytes | None = None, by: Any, at: datetime
) -> None:
    """Keep a press as a form says it; sent again, it changes nothing.

    ``beside`` are figures that stood in the form's fields: they are a reading at the same moment. ``photo`` is a picture that
    belongs to the press.

    Raises
    ------
    SaidElse
        If the form has kept a press before and now says something else.
    Unfit
        If its photo cannot be kept.
    """
    said = {"kind": press.kind, **press.said}
    if photo is not None:
        said["photo"] = str(uuid5(press.id, "photo"))
        keep_photo(run=run, key=uuid5(press.id, "photo"), picture=photo, by=by, at=at)
    if beside:
        _keep_typed_press(run, Press(uuid5(press.id, "reading"), "reading", press.at, {"kind": "reading", **beside}), by, at)
    if press.replaces is not None:
        said["replaces"] = str(press.replaces)
    _keep_typed_press(run, replace(press, said=said), by, at)


def undo_press(*, run: Run, key: str, by: Any, at: datetime) -> None:
    """Take a press back; twice changes nothing."""
    take_back(run=run, key=UUID(key), by=by, at=at)


def _keep_typed_press(run: Run, press: Press, by: Any, at: datetime) -> None:
    """Keep one press. Its moment is "now", which is later when the same form comes again: the first one holds."""
    before = DeskEvent.objects.filter(pk=press.id, run=run).first()
    moment = press.at.isoformat() if before is None else before.said.get("at", press.at.isoformat())
    keep_press(run=run, press=replace(press, said={**press.said, "at": moment}), by=by, at=at)
