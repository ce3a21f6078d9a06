"""Whether the collected styles, fonts and scripts are those of this program."""

from __future__ import annotations

import hashlib
from pathlib import Path

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders

MARK = "collected.mark"


def styles_are_current() -> bool:
    """Whether what was collected last are the files that would be collected now."""
    mark = Path(settings.STATIC_ROOT) / MARK
    return mark.exists() and mark.read_text(encoding="ascii") == digest_of_sources()


def mark_as_current() -> None:
    """Keep that what is collected are the files of now."""
    (Path(settings.STATIC_ROOT) / MARK).write_text(digest_of_sources(), encoding="ascii")


def digest_of_sources() -> str:
    """Return a digest of every file that would be collected: its name, size and time."""
    digest = hashlib.sha256()
    for finder in get_finders():
        for name, storage in finder.list([]):
            kept = Path(storage.path(name)).stat()
            digest.update(f"{name} {kept.st_size} {kept.st_mtime_ns}\n".encode())
    return digest.hexdigest()
