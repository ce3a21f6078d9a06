"""How far something is that takes a while to be made: a small file that any worker may read, gone when it is done."""

from __future__ import annotations

import hashlib
from contextlib import suppress
from pathlib import Path

from django.conf import settings

MAKING_DIGITS = 64
"""How many signs a name has."""


def making_name(*made_of: object) -> str:
    """Return the name of what is being made of these."""
    return hashlib.sha256(repr(made_of).encode()).hexdigest()


def note_making(name: str, done: int, of: int) -> None:
    """Write down that so many of so many parts are done; where nothing can be written nobody hears how far it is."""
    with suppress(OSError):
        place = _folder() / name
        if done >= of:
            place.unlink(missing_ok=True)
            return
        place.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        place.write_text(f"{done} {of}", "ascii")


def how_far(name: str) -> tuple[int, int]:
    """Return how many parts of how many are done; 0 of 0 where nothing is being made."""
    try:
        done, of = (_folder() / name).read_text("ascii").split()
        return int(done), int(of)
    except (OSError, ValueError):
        return 0, 0


def _folder() -> Path:
    return Path(settings.ANSWERS_DIR) / "making"
