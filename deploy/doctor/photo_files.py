"""Photos: files that no row names, rows whose files are not there, and what a crash left half done."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from django.conf import settings

from deploy.doctor.findings import Finding, ill, mind, well
from kitchen.domain.archive import PHOTO_NAME, words_in
from kitchen.models import Edition, Photo
from kitchen.operations.photos import files_of, photo_paths

ABOUT = "Photos"
_SETTLED_S = 3600.0
_HALF_DONE = (".coming-*", ".packing-*")


def named_files() -> set[str]:
    """Return the photo files that rows and editions name."""
    named: set[str] = set()
    for photo in Photo.objects.iterator():
        named |= files_of(photo)
    for facts, plate in Edition.objects.values_list("facts", "plate").iterator(chunk_size=50):
        named |= {word for word in words_in(facts) | words_in(plate) if PHOTO_NAME.match(word)}
    return named


def missing_files(named: set[str]) -> list[str]:
    """Return those of the named files that are not there."""
    return sorted(name for name in named if not (Path(settings.MEDIA_ROOT) / name).exists())


def files_without_rows(named: set[str]) -> list[Path]:
    """Return the photo files that nothing names, those of the last hour left out: their row may be on its way."""
    settled = time.time() - _SETTLED_S
    return [path for path in photo_paths() if path.name not in named and path.stat().st_mtime < settled]


def half_done_files() -> list[Path]:
    """Return what a crash left of files that were being written."""
    folder, settled = Path(settings.MEDIA_ROOT), time.time() - 24 * _SETTLED_S
    return [path for pattern in _HALF_DONE for path in folder.glob(pattern) if path.stat().st_mtime < settled]


def photos() -> Iterator[Finding]:
    """Compare the photo folder with the rows."""
    named = named_files()
    missing = missing_files(named)
    spare, half_done = files_without_rows(named), half_done_files()
    if missing:
        words = f"{len(missing):,} photo files are named and not there, {missing[0]} among them."
        yield ill(ABOUT, words, "manage.py restore --photos FILE, with a backup that has them")
    if spare:
        words = f"{len(spare):,} photo files are named by nothing, {spare[0].name} among them."
        yield mind(ABOUT, words, "manage.py doctor --mend photos")
    if half_done:
        yield mind(ABOUT, f"{len(half_done):,} unfinished files were left by a crash.", "manage.py doctor --mend photos")
    if not (missing or spare or half_done):
        yield well(ABOUT, f"Each of {len(named):,} photo files that rows name is there, and no other.")


def put_aside() -> str:
    """Move the files that nothing names out of the photo folder, remove unfinished ones, and return what was done in words."""
    aside = Path(settings.DATA_DIR) / "photos-without-rows"
    spare, half_done = files_without_rows(named_files()), half_done_files()
    for path in spare:
        aside.mkdir(mode=0o700, exist_ok=True)
        path.replace(aside / path.name)
    for path in half_done:
        path.unlink(missing_ok=True)
    return f"{len(spare):,} photo files were moved to {aside}, {len(half_done):,} unfinished ones removed."
