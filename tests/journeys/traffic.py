"""What the server in the test is still answering: a page that closes sends its last words, and they may come late."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock

from django.core.signals import request_finished, request_started

QUIET_S = 0.25
MOST_WAIT_S = 10


class Traffic:
    """How many requests have begun and ended, and when the last of either was."""

    def __init__(self) -> None:
        self.lock = Lock()
        self.under_way = 0
        self.moved_at = time.monotonic()

    def began(self, **_) -> None:
        self._count(1)

    def ended(self, **_) -> None:
        self._count(-1)

    def _count(self, step: int) -> None:
        with self.lock:
            self.under_way += step
            self.moved_at = time.monotonic()

    def is_quiet(self) -> bool:
        """Whether nothing is under way and nothing has been for a moment."""
        return self.under_way <= 0 and time.monotonic() - self.moved_at >= QUIET_S


@contextmanager
def until_quiet() -> Iterator[None]:
    """Run something, then wait until the server has answered everything, so that nobody reads tables that are being emptied."""
    traffic = Traffic()
    request_started.connect(traffic.began)
    request_finished.connect(traffic.ended)
    try:
        yield
        traffic.moved_at = time.monotonic()
        deadline = traffic.moved_at + MOST_WAIT_S
        while not traffic.is_quiet() and time.monotonic() < deadline:
            time.sleep(0.02)
    finally:
        request_started.disconnect(traffic.began)
        request_finished.disconnect(traffic.ended)
