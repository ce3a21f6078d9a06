"""Writers to one SQLite file take turns."""

from __future__ import annotations

import os
import threading
import time
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from django.db import ConnectionHandler

WRITERS, TURNS = 8, 20


def opened(path: Path) -> Any:
    """Return a connection of its own, as the server makes it."""
    options = {"transaction_mode": "IMMEDIATE", "timeout": 20, "init_command": "PRAGMA journal_mode=WAL"}
    return ConnectionHandler({"default": {"ENGINE": "deploy.sqlite", "NAME": str(path), "OPTIONS": options}})["default"]


def write(connection: Any, who: int, hold_s: float = 0.0) -> None:
    """Write a row in a transaction, as ``atomic`` does."""
    connection.set_autocommit(False, force_begin_transaction_with_broken_autocommit=True)
    try:
        with connection.cursor() as cursor:
            cursor.execute("INSERT INTO turns VALUES (%s)", [who])
        time.sleep(hold_s)
        connection.commit()
    finally:
        connection.set_autocommit(True)


@pytest.fixture
def path(tmp_path, django_db_blocker):
    with django_db_blocker.unblock():
        connection = opened(tmp_path / "kitchen.sqlite3")
        with connection.cursor() as cursor:
            cursor.execute("CREATE TABLE turns (who INTEGER)")
        connection.close()
        yield tmp_path / "kitchen.sqlite3"


def written(path: Path) -> list[int]:
    connection = opened(path)
    with connection.cursor() as cursor:
        rows = [who for (who,) in cursor.execute("SELECT who FROM turns ORDER BY rowid")]
    connection.close()
    return rows


def test_nobody_has_turn_after_turn_while_others_wait(path):
    ready = threading.Barrier(WRITERS)

    def keep_writing(who: int) -> None:
        connection = opened(path)
        connection.ensure_connection()
        ready.wait()
        for _ in range(TURNS):
            write(connection, who, hold_s=0.002)
        connection.close()

    threads = [threading.Thread(target=keep_writing, args=(who,)) for who in range(WRITERS)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    rows = written(path)
    assert len(rows) == WRITERS * TURNS
    half = Counter(rows[: len(rows) // 2])
    assert min(half[who] for who in range(WRITERS)) >= TURNS / 4


def test_who_is_cut_off_holds_nobody_up(path):
    gone, next_one = opened(path), opened(path)
    gone.set_autocommit(False, force_begin_transaction_with_broken_autocommit=True)
    gone.close()
    write(next_one, 1)
    next_one.close()
    assert written(path) == [1]


def test_where_no_turn_can_be_kept_the_database_decides(path):
    Path(f"{path}-queue").unlink(missing_ok=True)
    os.mkdir(f"{path}-queue")
    connection = opened(path)
    write(connection, 1)
    connection.close()
    assert written(path) == [1]
