"""Rows on their way out of the tables and into them, the same on every database; a table is never held in memory."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Iterable, Iterator
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.core.management.color import no_style
from django.db import connection, models
from django.db.migrations.loader import MigrationLoader

from kitchen.archivists import ArchiveRefused

LEFT_OUT = frozenset({"sessions.Session"})
"""Whoever was signed in signs in again."""

AT_ONCE = 2000
_LONGEST_ROW = 256 * 1024 * 1024

Model = type[models.Model]


def tables_of(loader: MigrationLoader, nodes: list[tuple[str, str]]) -> list[Model]:
    """Return the models of the tables as they stand after these migrations, by the names of their tables."""
    apps = loader.project_state(nodes, at_end=True).apps if nodes else None
    found = [] if apps is None else apps.get_models(include_auto_created=True)
    kept = [model for model in found if model._meta.managed and not model._meta.proxy and model._meta.label not in LEFT_OUT]
    return sorted(kept, key=lambda model: model._meta.db_table)


def columns_of(model: Model) -> list[models.Field[Any, Any]]:
    """Return a model's own columns, in the order in which each row is written."""
    return list(model._meta.concrete_fields)


def spelled_rows(model: Model) -> Iterator[bytes]:
    """Yield the rows of a table, each a line, in the order of their keys."""
    names = [field.attname for field in columns_of(model)]
    rows = model._default_manager.order_by("pk").values_list(*names)
    spell = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"), default=_spelled).encode
    for row in rows.iterator(chunk_size=AT_ONCE):
        yield spell(row).encode() + b"\n"


def _spelled(value: Any) -> str:
    """Return what JSON has no word for: as text that the column's field reads again."""
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, Decimal | UUID):
        return str(value)
    if isinstance(value, Fraction):
        return f"{value.numerator}/{value.denominator}"
    if isinstance(value, bytes | memoryview):
        return base64.b64encode(bytes(value)).decode("ascii")
    raise TypeError(f"{type(value).__name__} is not known to any column")


def read_rows(lines: Iterable[bytes], table: str) -> Iterator[list[Any]]:
    """Yield the rows that lines hold; raises ArchiveRefused for one that is none."""
    for number, line in enumerate(lines, 1):
        try:
            row = json.loads(line) if len(line) <= _LONGEST_ROW else None
        except (ValueError, RecursionError):
            row = None
        if not isinstance(row, list):
            raise ArchiveRefused(f"Row {number} of {table} is no row, so this backup was not made by this program.")
        yield row


def put_rows(model: Model, rows: Iterable[list[Any]], columns: tuple[str, ...]) -> int:
    """Write rows into an empty table and return how many; raises ArchiveRefused for one that does not fit."""
    fields = {field.attname: field for field in columns_of(model)}
    if set(columns) != set(fields):
        raise ArchiveRefused(f"The table {model._meta.db_table} of the backup has other columns than its migrations say.")
    ordered = [fields[name] for name in columns]
    quote = connection.ops.quote_name
    places = ", ".join(["%s"] * len(ordered))
    into = ", ".join(quote(str(field.column)) for field in ordered)
    order = f"INSERT INTO {quote(model._meta.db_table)} ({into}) VALUES ({places})"
    put, source = 0, iter(rows)
    with connection.cursor() as cursor:
        while batch := [_prepared(row, ordered, model._meta.db_table) for row in islice(source, AT_ONCE)]:
            cursor.executemany(order, batch)
            put += len(batch)
    return put


def _prepared(row: list[Any], fields: list[models.Field[Any, Any]], table: str) -> list[Any]:
    if len(row) != len(fields):
        raise ArchiveRefused(f"A row of {table} has another number of columns than the table.")
    try:
        return [_for_column(field, value) for field, value in zip(fields, row, strict=True)]
    except (ValidationError, ValueError, TypeError, OverflowError):
        raise ArchiveRefused(f"A row of {table} holds a value that its column cannot.") from None


def _for_column(field: models.Field[Any, Any], value: Any) -> Any:
    """Return a value as the database takes it."""
    if isinstance(field, models.JSONField):
        if value is None and field.null:
            return None
        return connection.ops.adapt_json_value(value, field.encoder)
    if isinstance(field, models.BinaryField) and value is not None:
        value = base64.b64decode(value)
    return field.get_db_prep_save(field.to_python(value), connection)


def digest_of_table(model: Model) -> tuple[str, int]:
    """Return the SHA-256 of a table's rows as they would be written, and how many they are."""
    digest, rows = hashlib.sha256(), 0
    for line in spelled_rows(model):
        digest.update(line)
        rows += 1
    return digest.hexdigest(), rows


def first_difference(model: Model, lines: Iterable[bytes]) -> int:
    """Return the number, from 1, of the first row that a table says otherwise than these lines; 0 where every row says the same.

    Numbers are compared by what they are: PostgreSQL gives a whole number back where JSON that it keeps had ``1e16``.
    """
    theirs = iter(lines)
    for number, ours in enumerate(spelled_rows(model), 1):
        line = next(theirs, b"null")
        if line != ours and json.loads(line) != json.loads(ours):
            return number
    return 0


def number_on(tables: list[Model]) -> None:
    """Let the database count on from the rows that are there."""
    with connection.cursor() as cursor:
        for order in connection.ops.sequence_reset_sql(no_style(), tables):
            cursor.execute(order)
