"""What the server in the test is still answering: a page that closes sends its last words, and they may come late."""

import time
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock, current_thread, main_thread

from django.core.handlers.wsgi import WSGIHandler
from django.core.signals import request_finished, request_started

from tests.journeys.waiting import PATIENCE_S

QUIET_S = 0.25


def is_server(sender: type | None) -> bool:
    """Whether a request was made to the journeys' server, not by the tests' own client nor to a server that a test made."""
    return sender is not None and issubclass(sender, WSGIHandler) and sender.__module__.startswith("django.")


def is_tests_own() -> bool:
    """Whether a test asks the application itself, in its own thread: the server answers in threads of its own."""
    return current_thread() is main_thread()


class Traffic:
    """How many requests have begun and ended, when the last of either was, and whether any is still let in."""

    def __init__(self) -> None:
        self.lock = Lock()
        self.under_way = 0
        self.moved_at = time.monotonic()
        self.is_open = False

    def began(self, sender: type | None, **_) -> None:
        """Count a request to the server; one that comes when the journey is over is dropped without a word."""
        if not is_server(sender) or is_tests_own():
            return
        with self.lock:
            if not self.is_open:
                raise ConnectionAbortedError("the journey is over")
            self._count(1)

    def ended(self, sender: type | None, **_) -> None:
        if is_server(sender) and not is_tests_own():
            with self.lock:
                self._count(-1)

    def _count(self, step: int) -> None:
        self.under_way += step
        self.moved_at = time.monotonic()

    def is_quiet(self) -> bool:
        """Whether nothing is under way and nothing has been for a moment."""
        return self.under_way <= 0 and time.monotonic() - self.moved_at >= QUIET_S

    @contextmanager
    def until_quiet(self) -> Iterator[None]:
        """Let requests in; afterwards wait until all are answered and let none in, so that nobody reads tables being emptied."""
        self.under_way, self.is_open = 0, True
        try:
            yield
        finally:
            self.close()

    def close(self) -> None:
        self.moved_at = time.monotonic()
        deadline = self.moved_at + PATIENCE_S
        while True:
            with self.lock:
                self.is_open = not self.is_quiet()
            if not self.is_open:
                return
            assert time.monotonic() < deadline, f"{self.under_way} requests are still being answered"
            time.sleep(0.02)


TRAFFIC = Traffic()
request_started.connect(TRAFFIC.began)
request_finished.connect(TRAFFIC.ended)
