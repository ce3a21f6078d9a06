"""Taking turns at work that keeps a whole core busy, so that people who only look never take the site from those who cook.

Each kind of turn has few places at once in a worker process and a short queue; who finds the queue full, or waits in it too
long, is told when to come again.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager


class Busy(Exception):
    """Too many ask for the same heavy work at this moment; ``wait_s`` says when to come again. [s]"""

    def __init__(self, wait_s: int) -> None:
        super().__init__(f"come again in {wait_s} s")
        self.wait_s = wait_s


class Turns:
    """So many at once, so many waiting at most, each at most so long. [s]"""

    def __init__(self, *, at_once: int, waiting: int, longest_s: float, again_s: int) -> None:
        self._places = threading.BoundedSemaphore(at_once)
        self._inside = threading.BoundedSemaphore(at_once + waiting)
        self._longest_s, self._again_s = longest_s, again_s

    @contextmanager
    def turn(self) -> Iterator[None]:
        """Wait for a place and keep it while the block runs; raises Busy where the queue is full or the wait too long."""
        if not self._inside.acquire(blocking=False):
            raise Busy(self._again_s)
        try:
            if not self._places.acquire(timeout=self._longest_s):
                raise Busy(self._again_s)
            try:
                yield
            finally:
                self._places.release()
        finally:
            self._inside.release()


PRINTING_FOR_STRANGERS = Turns(at_once=1, waiting=2, longest_s=8.0, again_s=10)
"""Cards and pictures for people who are not signed in."""

DECKS_FOR_STRANGERS = Turns(at_once=1, waiting=1, longest_s=20.0, again_s=20)
"""Decks of cards for people who are not signed in: single cards have their turn between the parts of one."""

PASSWORDS_OF_STRANGERS = Turns(at_once=1, waiting=1, longest_s=5.0, again_s=5)
"""Comparing passwords that come from devices on which nobody has signed in before."""

PASSWORDS_OF_COOKS = Turns(at_once=1, waiting=3, longest_s=20.0, again_s=5)
"""Comparing passwords that come from devices on which this cook has signed in before."""
