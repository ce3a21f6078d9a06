"""A store of answers that are the same for everybody: files that may go at any moment, for whoever asks makes them again.

Nothing here raises for what the disk does: a store that is lost, broken, full or only to be read makes pages slower, no more.
"""

from __future__ import annotations

import fcntl
import hashlib
import os
import secrets
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from kitchen.operations.room import need_room

FAMILY = 8
"""How many signs of a name stand for whose answer it is."""

MOST_BYTES = 64 << 20
MOST_OF_ONE = 200
"""Answers that one recipe may have here: so many sizes and measures that a robot walks through push out no other recipe."""

_LARGEST = 1 << 20
_LOOK_EVERY = 32
_CHECK = 16
_LOCKS = 64


class AnswerStore:
    """Answers by name, the oldest removed first; the first signs of a name stand for whose it is.

    The bound is kept at every look around, of which there is one in 32 new answers of a process.
    """

    def __init__(self, folder: Path, *, most_bytes: int = MOST_BYTES, most_of_one: int = MOST_OF_ONE) -> None:
        self.folder, self._most_bytes, self._most_of_one = folder, most_bytes, most_of_one
        self._put = 0

    def get(self, name: str) -> bytes | None:
        """Return an answer as it was kept, or None: one that was cut short or changed counts as lost."""
        try:
            kept = (self.folder / name).read_bytes()
        except OSError:
            return None
        body = kept[_CHECK:]
        return body if body and _check(body) == kept[:_CHECK] else None

    def put(self, name: str, body: bytes) -> None:
        """Keep an answer, where there is room; what was there under this name is replaced as a whole."""
        if len(body) > _LARGEST:
            return
        new = self.folder / f"{name}.{secrets.token_hex(4)}"
        try:
            need_room(len(body))
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            new.write_bytes(_check(body) + body)
            new.replace(self.folder / name)
        except OSError:
            with suppress(OSError):
                new.unlink(missing_ok=True)
        if self._put % _LOOK_EVERY == 0:
            self.look_around()
        self._put += 1

    def look_around(self) -> None:
        """Remove the oldest beyond what all may take, and beyond what one may have."""
        taken, of_one = 0, Counter[str]()
        for _at, name, size in sorted(self._found(), reverse=True):
            taken += size
            of_one[name[:FAMILY]] += 1
            if taken > self._most_bytes or of_one[name[:FAMILY]] > self._most_of_one:
                with suppress(OSError):
                    (self.folder / name).unlink()

    def _found(self) -> list[tuple[int, str, int]]:
        """Return when each file was made, its name and its bytes."""
        found = []
        with suppress(OSError), os.scandir(self.folder) as entries:
            for entry in entries:
                with suppress(OSError):
                    if entry.is_file():
                        found.append((entry.stat().st_mtime_ns, entry.name, entry.stat().st_size))
        return found

    @contextmanager
    def turn(self, name: str) -> Iterator[None]:
        """Let one make an answer while others of this computer who want it wait; whoever dies gives its turn back."""
        try:
            place = self.folder / "turns"
            place.mkdir(mode=0o700, parents=True, exist_ok=True)
            lock = os.open(place / str(int(name, 16) % _LOCKS), os.O_CREAT | os.O_RDWR, 0o600)
        except OSError:
            yield
            return
        try:
            with suppress(OSError):
                fcntl.flock(lock, fcntl.LOCK_EX)
            yield
        finally:
            os.close(lock)


def _check(body: bytes) -> bytes:
    return hashlib.sha256(body).digest()[:_CHECK]
