"""Writers to one SQLite file take turns.

SQLite itself lets a writer that finds the file locked sleep and try again, longer each time: among many writers a few are always
unlucky, for seconds, and some give up ("database is locked"). Here a transaction first waits in a queue for its turn: two locks
on files beside the database, which the kernel takes back from a process that dies. Where the files cannot be written, or a turn
does not come in the time that a writer waits anyway, SQLite's own lock decides as before.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import time
from collections.abc import Iterator
from typing import Any

from django.db.backends.sqlite3 import base

ASKED_EVERY_S = 0.001
_OPENED = os.O_CREAT | os.O_RDWR | os.O_CLOEXEC


class DatabaseWrapper(base.DatabaseWrapper):
    """A connection whose transactions wait for their turn."""

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        self._turn: int | None = None

    def _start_transaction_under_autocommit(self) -> None:
        self._take_turn()
        try:
            super()._start_transaction_under_autocommit()  # type: ignore[misc]  # Django's stubs leave it out
        except BaseException:
            self._end_turn()
            raise

    def _commit(self) -> None:
        try:
            super()._commit()  # type: ignore[misc]  # Django's stubs leave it out
        finally:
            self._end_turn_outside_transaction()

    def _rollback(self) -> None:
        try:
            super()._rollback()  # type: ignore[misc]  # Django's stubs leave it out
        finally:
            self._end_turn_outside_transaction()

    def close(self) -> None:
        """Close it, and let others have their turn."""
        try:
            super().close()
        finally:
            self._end_turn_outside_transaction()

    def _take_turn(self) -> None:
        if self._turn is not None or self.is_in_memory_db():
            return
        until = time.monotonic() + float(self.settings_dict["OPTIONS"].get("timeout", 5.0))
        with contextlib.suppress(OSError):
            self._turn = _in_turn(f"{self.settings_dict['NAME']}", until)

    def _end_turn_outside_transaction(self) -> None:
        """End the turn, unless a commit failed and left the transaction open."""
        if self.connection is None or not self.connection.in_transaction:
            self._end_turn()

    def _end_turn(self) -> None:
        if self._turn is not None:
            os.close(self._turn)
            self._turn = None


def _in_turn(name: str, until: float) -> int | None:
    """Return the open file that holds the turn; None where it did not come before a moment of the monotonic clock.

    Whoever is first in the queue asks for the turn, so that nobody who just had it gets it again before the others.
    """
    with _opened(f"{name}-queue") as queue:
        fcntl.flock(queue, fcntl.LOCK_EX)
        turn = os.open(f"{name}-turn", _OPENED, 0o600)
        while True:
            try:
                fcntl.flock(turn, fcntl.LOCK_EX | fcntl.LOCK_NB)
            except BlockingIOError:
                if time.monotonic() >= until:
                    os.close(turn)
                    return None
                time.sleep(ASKED_EVERY_S)
            else:
                return turn


@contextlib.contextmanager
def _opened(name: str) -> Iterator[int]:
    handle = os.open(name, _OPENED, 0o600)
    try:
        yield handle
    finally:
        os.close(handle)
