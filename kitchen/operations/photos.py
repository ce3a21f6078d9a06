"""Photos of a recipe: add, describe, choose the leading one, take away."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import BinaryIO

from django.conf import settings
from django.db import transaction

from kitchen.models import Edition, Photo, Recipe
from kitchen.publish.photos import MOST_BYTES, PhotoRefused, make_derivatives


def add_photo(*, recipe: Recipe, picture: BinaryIO, alt: str, focal_x: float = 0.5, focal_y: float = 0.5, at: datetime) -> Photo:
    """Add a photo to a recipe; the first one leads. What was sent is not kept, only its two derivatives.

    Raises
    ------
    PhotoRefused
        If it cannot become a photo, or the recipe has it already; nothing is written then.
    """
    made = make_derivatives(picture.read(MOST_BYTES + 1))
    _refuse_twice(recipe, made.digest)
    stem = made.digest[:24]
    wide, small = f"{stem}-wide.jpg", f"{stem}-small.jpg"
    _write_whole(wide, made.wide)
    _write_whole(small, made.small)
    with transaction.atomic():
        list(Recipe.objects.select_for_update().filter(pk=recipe.pk))
        _refuse_twice(recipe, made.digest)
        return Photo.objects.create(
            recipe=recipe,
            wide=wide,
            small=small,
            alt=alt,
            width_px=made.width_px,
            height_px=made.height_px,
            focal_x=focal_x,
            focal_y=focal_y,
            digest=made.digest,
            added_at=at,
            leads=not recipe.photos.filter(leads=True).exists(),
        )


def _refuse_twice(recipe: Recipe, digest: str) -> None:
    if recipe.photos.filter(digest=digest).exists():
        raise PhotoRefused("The recipe has this photo already.")


def change_photo(*, photo: Photo, alt: str, focal_x: float, focal_y: float) -> None:
    """Set a photo's words and the point that stays in view when it is cropped (0..1 from the left and the top)."""
    photo.alt, photo.focal_x, photo.focal_y = alt, focal_x, focal_y
    photo.save(update_fields=["alt", "focal_x", "focal_y"])


@transaction.atomic
def lead_with(*, photo: Photo) -> None:
    """Show this photo at the head of its recipe."""
    list(Recipe.objects.select_for_update().filter(pk=photo.recipe_id))
    Photo.objects.filter(recipe=photo.recipe_id, leads=True).update(leads=False)
    Photo.objects.filter(pk=photo.pk).update(leads=True)


@transaction.atomic
def remove_photo(*, photo: Photo) -> None:
    """Take a photo away; its files stay where an edition or another recipe still shows them. The next photo leads."""
    files = (photo.wide, photo.small)
    recipe = photo.recipe
    photo.delete()
    following = recipe.photos.first()
    if following is not None and not recipe.photos.filter(leads=True).exists():
        lead_with(photo=following)
    remove_files_after_commit(files)


def remove_files_after_commit(files: Iterable[str]) -> None:
    """Remove those of these photo files that nothing shows any more, once the transaction is safe in the tables."""
    for name in files:
        transaction.on_commit(partial(_remove_unless_shown, name))


def _is_shown(name: str) -> bool:
    """Whether a photo or an edition's facts still name the file. The same picture on two recipes is one file."""
    if Photo.objects.filter(wide=name).exists() or Photo.objects.filter(small=name).exists():
        return True
    return any(_names(facts, name) for facts in Edition.objects.values_list("facts", flat=True).iterator())


def _names(facts: object, name: str) -> bool:
    if isinstance(facts, dict):
        return any(_names(value, name) for value in facts.values())
    if isinstance(facts, list):
        return any(_names(value, name) for value in facts)
    return facts == name


def _write_whole(name: str, content: bytes) -> None:
    """Write a file that is either there whole or not at all: beside its place first, then moved into it."""
    folder = Path(settings.MEDIA_ROOT)
    folder.mkdir(parents=True, exist_ok=True)
    handle, beside = tempfile.mkstemp(dir=folder, prefix=".coming-")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        Path(beside).chmod(0o644)
        Path(beside).replace(folder / name)
    except BaseException:
        with contextlib.suppress(FileNotFoundError):
            Path(beside).unlink()
        raise


def _remove_unless_shown(name: str) -> None:
    if not _is_shown(name):
        (Path(settings.MEDIA_ROOT) / name).unlink(missing_ok=True)
