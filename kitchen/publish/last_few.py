"""The last few things that were made: looked up without waiting for whoever makes another one."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Hashable


class LastFew:
    """Bytes by what they were made of; the one that was asked for longest ago goes first."""

    def __init__(self, most: int) -> None:
        self._most, self._held = most, OrderedDict[Hashable, bytes]()
        self._lock = threading.Lock()

    def get(self, key: Hashable) -> bytes | None:
        """Return what was made of this, or None."""
        with self._lock:
            if key in self._held:
                self._held.move_to_end(key)
            return self._held.get(key)

    def keep(self, key: Hashable, made: bytes) -> bytes:
        """Keep what was made, and return it."""
        with self._lock:
            self._held[key] = made
            self._held.move_to_end(key)
            while len(self._held) > self._most:
                self._held.popitem(last=False)
        return made
