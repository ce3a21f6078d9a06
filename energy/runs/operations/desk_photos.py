"""Pictures that are taken at the run desk: each becomes a photo of the recipe, and never leads it by itself."""

from __future__ import annotations

import hashlib
import io
from datetime import datetime
from typing import Any
from uuid import UUID

from django.utils import timezone

from energy.models import DeskEvent, Run
from energy.runs.domain.desk import Press
from energy.runs.domain.wire import Unfit
from energy.runs.operations.desk import KEPT, KNOWN, SaidElse, once_more
from energy.runs.operations.run_rows import hold_run, keep_event, show_photo
from kitchen.models import Photo
from kitchen.operations import PhotoRefused, add_photo


def keep_photo(*, run: Run, key: UUID, picture: bytes, by: Any, at: datetime) -> str:
    """Keep a picture under the name that a phone gave it and return ``kept``, or ``known`` when it comes again.

    Raises
    ------
    SaidElse
        If its UUID stands for something else.
    Unfit
        If it cannot become a photo.
    """
    digest = hashlib.sha256(picture).hexdigest()
    if _is_kept_already(run, key, digest):
        return KNOWN
    photo = _photo_of(run, digest) or _add(run, picture, at)
    return once_more(lambda: _name(run, key, photo, by, at))


def _is_kept_already(run: Run, key: UUID, digest: str) -> bool:
    """Whether this picture is kept under this name.

    Raises
    ------
    SaidElse
        If something else is.
    """
    event = DeskEvent.objects.filter(pk=key).first()
    if event is None:
        return False
    if event.run_id != run.pk or event.kind != "photo" or event.said.get("digest") != digest:
        words = "This UUID stands for something else already. Send this picture under another one."
        raise SaidElse(words, {"run": event.run_id, "kind": event.kind})
    return True


def _photo_of(run: Run, digest: str) -> Photo | None:
    return Photo.objects.filter(recipe=run.revision.recipe_id, digest=digest).first()


def _add(run: Run, picture: bytes, at: datetime) -> Photo:
    """Make a photo of the recipe, one that does not stand at its head.

    Raises
    ------
    Unfit
        If it cannot become one.
    """
    words = f"Taken while cooking on {timezone.localtime(at):%-d %B %Y}"
    try:
        return add_photo(recipe=run.revision.recipe, picture=io.BytesIO(picture), alt=words, at=at, may_lead=False)
    except PhotoRefused as refused:
        photo = _photo_of(run, hashlib.sha256(picture).hexdigest())  # sent twice at the same moment
        if photo is not None:
            return photo
        raise Unfit(str(refused), "photo") from None


def _name(run: Run, key: UUID, photo: Photo, by: Any, at: datetime) -> str:
    """Let the photo stand for the name, in the moments that came before it too."""
    with hold_run(run) as held:
        if _is_kept_already(run, key, photo.digest):
            return KNOWN
        keep_event(held, Press(key, "photo", at, {"digest": photo.digest}), by, at, None)
        show_photo(held, key, photo)
        return KEPT
