"""Room on the disk: what can wait stops while there is still enough for readings."""

from __future__ import annotations

import errno
import shutil
from pathlib import Path

from django.conf import settings

RESERVE_BYTES = 200 << 20
"""Below this much free, photos, archives and files are refused; presses and readings go on to the last byte."""


class DiskFull(OSError):
    """What was sent does not fit; the message says where, in a sentence."""

    def __init__(self, words: str) -> None:
        super().__init__(errno.ENOSPC, words)
        self.words = words


def need_room(bytes_wanted: int = 0) -> None:
    """Make sure that so many bytes fit and the reserve for readings stays.

    Raises
    ------
    DiskFull
        If they do not.
    """
    folder = Path(settings.MEDIA_ROOT)
    there = next(place for place in (folder, *folder.parents) if place.exists())
    if shutil.disk_usage(there).free < bytes_wanted + RESERVE_BYTES:
        raise DiskFull("The kitchen’s disk is nearly full, and what is left is kept for readings.")
