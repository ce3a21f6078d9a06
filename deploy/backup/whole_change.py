"""Changes to tables and rows that happen whole or not at all, on either database."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction


@contextmanager
def whole_change() -> Iterator[None]:
    """Let everything inside the ``with`` block, changes to the tables themselves included, happen whole or not at all.

    SQLite changes tables only while references are unchecked, and can be told so outside a transaction only; they are checked
    before the end. PostgreSQL changes no table in which checks are due, so that each is made at once.
    """
    with _unchecked_on_sqlite(), transaction.atomic():
        if connection.vendor == "postgresql":
            with connection.cursor() as cursor:
                cursor.execute("SET LOCAL lock_timeout = '30s'")
        check_references("IMMEDIATE")
        yield
        connection.check_constraints()


def check_references(when: str) -> None:
    """Let PostgreSQL check references ``DEFERRED``, at the end, or ``IMMEDIATE``, those that are due and each row from now on."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute(f"SET CONSTRAINTS ALL {when}")


@contextmanager
def _unchecked_on_sqlite() -> Iterator[None]:
    if connection.vendor != "sqlite":
        yield
        return
    connection.disable_constraint_checking()
    try:
        yield
    finally:
        connection.enable_constraint_checking()
