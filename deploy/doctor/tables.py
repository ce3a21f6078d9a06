"""The database: whether it is sound, and whether its tables are those of this program."""

from __future__ import annotations

from collections.abc import Iterator

from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from deploy.backup.snapshot import own_tables, seen_migrations, unknown_migrations
from deploy.doctor.findings import Finding, ill, well

ABOUT = "Database"
_BACK = "manage.py restore --replace FILE, with the newest proved backup"


def database() -> Iterator[Finding]:
    """Read the whole database once."""
    found = list(_wrong_on_sqlite() if connection.vendor == "sqlite" else _wrong_on_postgresql())
    yield from (ill(ABOUT, words, _BACK) for words in found)
    if not found:
        kind = "SQLite" if connection.vendor == "sqlite" else "PostgreSQL"
        yield well(ABOUT, f"{kind} read every row and found nothing wrong.")


def _wrong_on_sqlite() -> Iterator[str]:
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA integrity_check(20)")
        for (said,) in cursor.fetchall():
            if said != "ok":
                yield f"The database file is damaged: {said}."
        cursor.execute("PRAGMA foreign_key_check")
        for table, row, parent, _ in cursor.fetchmany(20):
            yield f"Row {row} of {table} names a row of {parent} that is not there."


def _wrong_on_postgresql() -> Iterator[str]:
    quote = connection.ops.quote_name
    with connection.cursor() as cursor:
        for table in own_tables():
            cursor.execute(f"SELECT SUM(LENGTH(row_of::text)) FROM {quote(table)} AS row_of")
        cursor.execute("SELECT c.relname FROM pg_index i JOIN pg_class c ON c.oid = i.indexrelid WHERE NOT i.indisvalid")
        for (name,) in cursor.fetchall():
            yield f"The index {name} is not valid: REINDEX INDEX {name} makes it anew."
        cursor.execute("SELECT conname FROM pg_constraint WHERE NOT convalidated")
        for (name,) in cursor.fetchall():
            yield f"The constraint {name} was never checked."
        cursor.execute("SELECT COALESCE(checksum_failures, 0) FROM pg_stat_database WHERE datname = current_database()")
        (failures,) = cursor.fetchone() or (0,)
        if failures:
            yield f"PostgreSQL met {failures} pages whose checksum does not fit."


def migrations() -> Iterator[Finding]:
    """Compare the tables with what this program knows."""
    executor = MigrationExecutor(connection)
    for app, name in unknown_migrations(executor.loader, seen_migrations(executor.loader))[:1]:
        words = f"The tables are of a newer program: this one does not know {app}.{name}."
        yield ill("Tables", words, "start the newer program again")
        return
    waiting = len(executor.migration_plan(executor.loader.graph.leaf_nodes()))
    if waiting:
        yield ill("Tables", f"{waiting} changes to the tables wait.", "manage.py prepare")
    else:
        yield well("Tables", "The tables are those of this program.")
