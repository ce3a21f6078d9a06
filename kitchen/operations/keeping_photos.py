"""Taking photo files away, and waiting with it while a backup reads them.

Whoever takes a file away holds the folder's lock together with others; a backup holds it alone. What cannot be taken away now is
written down and goes with the next that can, or when the backup ends.
"""

from __future__ import annotations

import fcntl
import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings

_LATER = ".to-remove"


@contextmanager
def no_photo_goes() -> Iterator[None]:
    """Inside the ``with`` block no photo file is taken away; removals wait until it ends."""
    with _locked(fcntl.LOCK_EX) as locked:
        if not locked:
            raise BlockingIOError("the folder's lock cannot be taken")
        yield


def take_away(names: Iterable[str]) -> bool:
    """Take photo files away; False, and written down for later, while a backup reads them."""
    with _locked(fcntl.LOCK_SH | fcntl.LOCK_NB) as locked:
        if not locked:
            _write_down(names)
            return False
        for name in names:
            (Path(settings.MEDIA_ROOT) / name).unlink(missing_ok=True)
    return True


def written_down() -> set[str]:
    """Return what waits to be taken away, and forget it."""
    path = Path(settings.MEDIA_ROOT) / _LATER
    try:
        handed = path.with_name(f"{_LATER}-{os.getpid()}")
        path.replace(handed)
        names = set(handed.read_text(encoding="ascii").split())
        handed.unlink()
    except OSError:
        return set()
    return names


def _write_down(names: Iterable[str]) -> None:
    with (Path(settings.MEDIA_ROOT) / _LATER).open("a", encoding="ascii") as later:
        later.write("".join(f"{name}\n" for name in names))


@contextmanager
def _locked(how: int) -> Iterator[bool]:
    folder = Path(settings.MEDIA_ROOT)
    folder.mkdir(parents=True, exist_ok=True)
    handle = os.open(folder, os.O_RDONLY | os.O_CLOEXEC)
    try:
        try:
            fcntl.flock(handle, how)
        except BlockingIOError:
            yield False
        else:
            yield True
    finally:
        os.close(handle)
