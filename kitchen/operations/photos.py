"""Photos of a recipe: add, describe, choose the leading one, take away."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from functools import partial
from itertools import groupby
from pathlib import Path
from typing import BinaryIO

from django.conf import settings
from django.db import transaction
from django.db.models import TextField
from django.db.models.functions import Cast

from kitchen.domain.archive import PHOTO_NAME
from kitchen.domain.pictures import SHAPES, crop_name, further_files, is_crop, stem_of, stems_in
from kitchen.models import Edition, Photo, Recipe, ShownPicture
from kitchen.operations.holding import hold_recipe
from kitchen.operations.keeping_photos import take_away, written_down
from kitchen.operations.room import need_room
from kitchen.publish.opening import MOST_BYTES, PhotoRefused
from kitchen.publish.photos import make_derivatives, recut


def add_photo(
    *,
    recipe: Recipe,
    picture: BinaryIO,
    alt: str,
    focal_x: float = 0.5,
    focal_y: float = 0.5,
    may_lead: bool = True,
    at: datetime,
) -> Photo:
    """Add a photo to a recipe; the first one that may lead leads. What was sent is not kept, only the files made from it.

    Raises
    ------
    PhotoRefused
        If it cannot become a photo, or the recipe has it already; nothing is written then.
    DiskFull
        If what is left of the disk is kept for readings.
    """
    need_room()
    sent = picture.read(MOST_BYTES + 1)
    digest = hashlib.sha256(sent).hexdigest()
    _refuse_twice(recipe, digest)
    made = make_derivatives(sent, stem=stem_of(digest), focal_x=focal_x, focal_y=focal_y)
    write_files(made.files)
    with transaction.atomic():
        hold_recipe(recipe.pk)
        _refuse_twice(recipe, digest)
        photo = Photo.objects.create(
            recipe=recipe,
            wide=made.wide,
            small=made.small,
            alt=alt,
            width_px=made.width_px,
            height_px=made.height_px,
            focal_x=focal_x,
            focal_y=focal_y,
            crops=made.sizes,
            digest=digest,
            added_at=at,
            leads=may_lead and not recipe.photos.filter(leads=True).exists(),
        )
    write_files(made.files)  # another recipe may have given the same photo up meanwhile
    return photo


def _refuse_twice(recipe: Recipe, digest: str) -> None:
    if recipe.photos.filter(digest=digest).exists():
        raise PhotoRefused("The recipe has this photo already.")


def change_photo(*, photo: Photo, alt: str, focal_x: float, focal_y: float) -> None:
    """Set a photo's words and the point that stays in view when it is cropped (0..1 from the left and the top).

    A new point cuts the crops anew, from the deep file and not from older crops; published editions keep theirs.
    """
    before = files_of(photo)
    photo.alt, photo.focal_x, photo.focal_y = alt, focal_x, focal_y
    source = _deep_file(photo)
    if source is not None and not _is_cut_there(photo):
        files, sizes = recut(source.read_bytes(), stem=stem_of(photo.wide), focal_x=focal_x, focal_y=focal_y)
        write_files(files)
        kept = {name: size for name, size in photo.crops.items() if not is_crop(name)}
        photo.crops = {**kept, **{name: list(size) for name, size in sizes.items()}}
    with transaction.atomic():
        photo.save(update_fields=["alt", "focal_x", "focal_y", "crops"])
        remove_files_after_commit(before - files_of(photo))


def _is_cut_there(photo: Photo) -> bool:
    """Whether the photo's crops are cut around its point already."""
    name = crop_name(stem_of(photo.wide), SHAPES[0], 0, focal=(photo.focal_x, photo.focal_y), kind="jpg")
    ending = name.split("-0-", 1)[1]
    return any(is_crop(crop) and crop.endswith(ending) for crop in photo.crops)


def _deep_file(photo: Photo) -> Path | None:
    """Return the file that crops are cut from; the wide one for a photo from before there were deep ones."""
    deep = [name for name, _ in further_files(photo.crops, "deep", "webp")]
    paths = [Path(settings.MEDIA_ROOT) / name for name in [*deep, photo.wide]]
    return next((path for path in paths if path.exists()), None)


@transaction.atomic
def lead_with(*, photo: Photo) -> None:
    """Show this photo at the head of its recipe."""
    hold_recipe(photo.recipe_id)
    Photo.objects.filter(recipe=photo.recipe_id, leads=True).update(leads=False)
    Photo.objects.filter(pk=photo.pk).update(leads=True)


@transaction.atomic
def remove_photo(*, photo: Photo) -> None:
    """Take a photo away; its files stay where an edition or another recipe still shows them. The next photo leads."""
    files = files_of(photo)
    recipe = photo.recipe
    photo.delete()
    following = recipe.photos.first()
    if following is not None and not recipe.photos.filter(leads=True).exists():
        lead_with(photo=following)
    remove_files_after_commit(files)


def files_of(photo: Photo) -> set[str]:
    """Return the names of all files that a photo has."""
    return {photo.wide, photo.small, *photo.crops}


def photo_paths() -> Iterator[Path]:
    """Yield the photos' files in their folder, whether anything shows them or not."""
    folder = Path(settings.MEDIA_ROOT)
    if folder.is_dir():
        with os.scandir(folder) as entries:
            yield from (Path(entry.path) for entry in entries if PHOTO_NAME.match(entry.name) and entry.is_file())


def remove_files_after_commit(files: Iterable[str]) -> None:
    """Remove those of these photo files that nothing shows any more, once the transaction is safe in the tables."""
    for stem, names in groupby(sorted(files), key=stem_of):
        transaction.on_commit(partial(_remove_unless_shown, stem, frozenset(names)))


def _shown(stem: str) -> set[str]:
    """Return the files of one picture that a photo or an edition's facts still name. Two recipes may have the same picture."""
    shown: set[str] = set()
    for photo in Photo.objects.filter(wide__startswith=stem):
        shown |= files_of(photo)
    editions = Edition.objects.annotate(spelled=Cast("facts", TextField())).filter(spelled__contains=stem)
    for facts in editions.values_list("facts", flat=True).iterator():
        shown.update(_words_in(facts))
    return shown


def _words_in(facts: object) -> Iterator[str]:
    """Yield every word and every name of a value that facts hold."""
    if isinstance(facts, dict):
        yield from facts
        for value in facts.values():
            yield from _words_in(value)
    elif isinstance(facts, list):
        for value in facts:
            yield from _words_in(value)
    elif isinstance(facts, str):
        yield facts


def note_pictures(edition: Edition) -> None:
    """Write down which pictures an edition shows, so that readers may fetch them. Call it for each edition that is made."""
    stems = stems_in(json.dumps(edition.facts))
    ShownPicture.objects.bulk_create((ShownPicture(edition=edition, stem=stem) for stem in sorted(stems)), ignore_conflicts=True)


def write_files(files: Mapping[str, bytes]) -> None:
    """Write those photo files that are not there yet; a name never stands for another content.

    Afterwards they are on the disk under their names, whatever happens to the power: their bytes first, then their folder.
    """
    missing = [name for name in files if not (Path(settings.MEDIA_ROOT) / name).exists()]
    for name in missing:
        _write_whole(name, files[name])
    if missing:
        _keep_names()


def _keep_names() -> None:
    """Let the disk keep the names that files were moved to."""
    folder = os.open(settings.MEDIA_ROOT, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(folder)
    finally:
        os.close(folder)


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


def _remove_unless_shown(stem: str, names: frozenset[str]) -> None:
    if take_away(names - _shown(stem)):
        remove_what_waited()


def remove_what_waited() -> None:
    """Take away the files that had to wait while a backup read them, unless something shows them again."""
    for stem, names in groupby(sorted(written_down()), key=stem_of):
        take_away({*names} - _shown(stem))
