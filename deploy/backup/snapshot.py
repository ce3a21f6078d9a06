"""Reading every table as it stood at one moment, while the site goes on writing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, cast

from django.apps import apps
from django.db import connection, transaction
from django.db.migrations.loader import MigrationLoader

Node = tuple[str, str]


@contextmanager
def snapshot() -> Iterator[None]:
    """Read from one moment inside the ``with`` block; nobody who writes meanwhile waits for it or is seen.

    PostgreSQL gives one repeatable-read transaction that may only read. SQLite gives a transaction that takes no lock for
    writing: in write-ahead mode its first read fixes what it sees.
    """
    if connection.vendor == "postgresql":
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            yield
        return
    connection.ensure_connection()
    sqlite: Any = connection
    usual, sqlite.transaction_mode = sqlite.transaction_mode, "DEFERRED"
    try:
        with transaction.atomic():
            yield
    finally:
        sqlite.transaction_mode = usual


def seen_migrations(loader: MigrationLoader) -> list[Node]:
    """Return the migrations that the tables have seen, in order."""
    return sorted(cast("dict[Node, object]", loader.applied_migrations))


def unknown_migrations(loader: MigrationLoader, seen: list[Node]) -> list[Node]:
    """Return those that this program does not know: the tables are of a newer one."""
    return [node for node in seen if node not in loader.disk_migrations]


def own_tables() -> list[str]:
    """Return the tables in this database that belong to the program, whichever version made them."""
    prefixes = tuple(f"{app.label}_" for app in apps.get_app_configs()) + ("django_",)
    return sorted(name for name in connection.introspection.table_names() if name.startswith(prefixes))
