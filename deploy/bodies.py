"""How long a body may be, and where it waits until all of it has come: in memory, in a file, beyond its length nowhere."""

from __future__ import annotations

import re

from django.conf import settings
from waitress.buffers import OverflowableBuffer

IN_MEMORY_BYTES = 1 << 19


def most_bytes(path: str, *, has_session: bool) -> int:
    """Return how much may be sent to an address: more where a cook who has a session sends a meter's file."""
    sends_log = has_session and re.fullmatch(settings.LOG_ADDRESSES, path)
    return int(settings.MAX_LOG_BYTES + (1 << 20) if sends_log else settings.MAX_REQUEST_BYTES)


class LimitedBody(OverflowableBuffer):  # type: ignore[misc]  # its package brings no types
    """Keeps what an address takes, and counts what is longer without keeping it, so that its length says so."""

    def __init__(self, most: int) -> None:
        super().__init__(IN_MEMORY_BYTES)
        self.most, self.beyond = most, 0

    def append(self, piece: bytes) -> None:
        """Take one more piece in."""
        if self.beyond or super().__len__() + len(piece) > self.most:
            self.beyond += len(piece)
        else:
            super().append(piece)

    def __len__(self) -> int:
        return int(super().__len__()) + self.beyond
