"""How long a body may be, and where it waits until all of it has come: in memory, in a file, beyond its length nowhere."""

from __future__ import annotations

import errno
import re
import threading

from django.conf import settings
from waitress.buffers import OverflowableBuffer

IN_MEMORY_BYTES = 1 << 19


class TooMuchWaits(OSError):
    """So much is being sent by others at this moment that no more can wait here."""


class Waiting:
    """What the bodies of all connections of a worker take together while they come in. [bytes]"""

    def __init__(self, most: int) -> None:
        self.most, self.taken = most, 0
        self._lock = threading.Lock()

    def take(self, size: int) -> None:
        """Count some more in.

        Raises
        ------
        TooMuchWaits
            Where that is more than there is room for.
        """
        with self._lock:
            if self.taken + size > self.most:
                raise TooMuchWaits(errno.EBUSY, "too much is being sent at this moment")
            self.taken += size

    def give_back(self, size: int) -> None:
        """Count out what has gone."""
        with self._lock:
            self.taken -= size


OF_COOKS, OF_STRANGERS = Waiting(512 << 20), Waiting(64 << 20)
"""A cookie is easily made up, so what comes with one is bounded too: by two of the longest meters' files."""


def most_bytes(path: str, *, has_session: bool) -> int:
    """Return how much may be sent to an address: little without a session, more where a cook sends a meter's file."""
    if not has_session:
        return int(settings.MAX_STRANGER_BYTES)
    sends_log = re.fullmatch(settings.LOG_ADDRESSES, path)
    return int(settings.MAX_LOG_BYTES + (1 << 20) if sends_log else settings.MAX_REQUEST_BYTES)


class LimitedBody(OverflowableBuffer):  # type: ignore[misc]  # its package brings no types
    """Keeps what an address takes, and counts what is longer without keeping it, so that its length says so."""

    def __init__(self, most: int, waiting: Waiting) -> None:
        super().__init__(IN_MEMORY_BYTES)
        self.most, self.beyond, self.taken, self.waiting = most, 0, 0, waiting

    def append(self, piece: bytes) -> None:
        """Take one more piece in; ``TooMuchWaits`` and what the disk says (OSError) are for whoever reads the connection."""
        if self.beyond or super().__len__() + len(piece) > self.most:
            self.beyond += len(piece)
            return
        self.waiting.take(len(piece))
        self.taken += len(piece)
        super().append(piece)

    def __len__(self) -> int:
        return int(super().__len__()) + self.beyond

    def close(self) -> None:
        """Let go of what came, once however often it is asked."""
        self.waiting.give_back(self.taken)
        self.taken = 0
        super().close()

    def __del__(self) -> None:
        """A connection that breaks off closes nothing."""
        self.waiting.give_back(self.taken)
