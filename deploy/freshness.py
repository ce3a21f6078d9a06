"""What a database says of itself that changes whenever anything in it is changed: asked in microseconds, by one connection.

SQLite counts the writes of others (``PRAGMA data_version``); PostgreSQL names the transactions that can be seen (the text of
``pg_current_snapshot()``). Each is compared with what the same connection said before, and nothing else.
"""

from __future__ import annotations

import sqlite3
import threading
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from django.db import connections

Mark = tuple[object, ...]


class Freshness:
    """The mark of a database. Whoever read something after a mark was taken may keep it for as long as the mark is the same."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._asks: Any = None
        self._number = 0

    def mark(self) -> Mark | None:
        """Return the mark of this moment; None where the database cannot be asked."""
        try:
            with self._lock:
                if self._asks is None:
                    self._asks = _SQLite() if connections["default"].vendor == "sqlite" else _PostgreSQL()
                    self._number += 1
                return (self._number, self._asks())
        except Exception:  # whatever is wrong with it: the site itself will meet it, and say so
            self._asks = None
            return None


class _SQLite:
    def __init__(self) -> None:
        name = str(connections["default"].settings_dict["NAME"])
        self._file = Path(urlsplit(name).path if name.startswith("file:") else name)
        self._opened = self._file.stat().st_ino
        self._connection = sqlite3.connect(name, uri=name.startswith("file:"), check_same_thread=False, isolation_level=None)

    def __call__(self) -> object:
        if self._file.stat().st_ino != self._opened:
            raise OSError("another file lies there now")
        return self._connection.execute("PRAGMA data_version").fetchone()[0]


class _PostgreSQL:
    def __init__(self) -> None:
        self._connection = (
            connections["default"].copy("freshness").get_new_connection(connections["default"].get_connection_params())
        )
        self._connection.autocommit = True

    def __call__(self) -> object:
        return self._connection.execute("SELECT pg_current_snapshot()::text").fetchone()[0]
