"""Restoring a backup: into empty tables, all of it or nothing, and compared row by row before it counts."""

from __future__ import annotations

import hashlib
import os
import tarfile
import tempfile
from collections.abc import Callable, Collection, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, BinaryIO, cast

from django.conf import settings
from django.core.management import call_command
from django.db import DataError, IntegrityError, connection
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from deploy.backup.document import PHOTOS, Backup, TableNote
from deploy.backup.rows import Model, digest_of_table, first_difference, number_on, put_rows, read_rows, tables_of
from deploy.backup.snapshot import Node, own_tables, unknown_migrations
from deploy.backup.whole_change import check_references, whole_change
from kitchen.archivists import ArchiveRefused
from kitchen.domain.archive import PHOTO_NAME

_PIECE = 256 * 1024
Say = Callable[[str], None]


def restore(backup: Backup, say: Say = lambda words: None) -> None:
    """Put a backup into the tables and the photo folder of this place; what the tables held before is gone then.

    Every byte is looked at first. The tables are then made as the backup's program had them, filled, compared with the backup
    and brought up to date, in one transaction.

    Raises
    ------
    ArchiveRefused
        If the backup is not whole, is newer than this program, or came out otherwise than it went in. Nothing has changed then.
    """
    backup.verify()
    nodes = [_node(name) for name in backup.manifest.migrations]
    _refuse_newer(nodes)
    written: list[Path] = []
    try:
        with _in_plain_words(), whole_change():
            empty_tables()
            models = _tables_of_then(nodes, backup.manifest.tables)
            check_references("DEFERRED")
            for note, model in models:
                put_rows(model, read_rows(backup.stream(note.member), note.name), note.columns)
            number_on([model for _, model in models])
            _compare(backup, models)
            say(f"Every one of {backup.manifest.rows:,} rows in {len(models)} tables is as it was.")
            written += restore_photos(backup)
            say(_photos_said(backup))
            call_command("migrate", verbosity=0, interactive=False)
    except BaseException:
        for path in written:
            path.unlink(missing_ok=True)
        raise


def _photos_said(backup: Backup) -> str:
    if backup.manifest.rows_alone:
        return "This backup is of the rows alone; the photo files that are here stay as they are."
    return f"Every one of {backup.manifest.photos:,} photo files is as it was."


def _node(name: str) -> Node:
    app, _, migration = name.partition(".")
    return app, migration


def _refuse_newer(nodes: list[Node]) -> None:
    loader = MigrationLoader(None)
    for app, name in unknown_migrations(loader, nodes)[:1]:
        raise ArchiveRefused(
            f"This backup is of a newer program: this one does not know {app}.{name}. Update the program, then restore it."
        )


@contextmanager
def _in_plain_words() -> Iterator[None]:
    try:
        yield
    except (IntegrityError, DataError) as error:
        raise ArchiveRefused("The backup holds rows that do not fit together. Nothing was changed.") from error


def empty_tables() -> None:
    """Take the program's tables away with all that is in them."""
    names = [connection.ops.quote_name(name) for name in own_tables()]
    with connection.cursor() as cursor:
        if names and connection.vendor == "postgresql":
            cursor.execute(f"DROP TABLE {', '.join(names)} CASCADE")
        elif names:
            for name in names:
                cursor.execute(f"DROP TABLE {name}")


def _tables_of_then(nodes: list[Node], notes: tuple[TableNote, ...]) -> list[tuple[TableNote, Model]]:
    """Make the tables as they stood after these migrations, empty, and return each with its note."""
    executor = MigrationExecutor(connection)
    wanted = set(nodes)
    ends = [node for node in nodes if not wanted & {child.key for child in executor.loader.graph.node_map[node].children}]
    executor.migrate(ends)
    models = {model._meta.db_table: model for model in tables_of(executor.loader, nodes)}
    if set(models) != {note.name for note in notes}:
        raise ArchiveRefused("The backup lacks a table that its migrations make, or holds another.")
    with connection.cursor() as cursor:
        for name in models:
            cursor.execute(f"DELETE FROM {connection.ops.quote_name(name)}")
    return [(note, models[note.name]) for note in notes]


def _compare(backup: Backup, models: list[tuple[TableNote, Model]]) -> None:
    """Read every row again and refuse where one differs from the backup's."""
    check_references("IMMEDIATE")
    digests = {note.name: note.sha256 for note in backup.manifest.files}
    for note, model in models:
        digest, rows = digest_of_table(model)
        if rows != note.rows:
            raise ArchiveRefused(f"{note.name} has {rows:,} rows and not {note.rows:,}. Nothing was changed.")
        number = 0 if digest == digests[note.member] else first_difference(model, backup.stream(note.member))
        if number:
            raise ArchiveRefused(f"Row {number:,} of {note.name} came out otherwise than it went in. Nothing was changed.")


def restore_photos(backup: Backup, wanted: Collection[str] | None = None) -> list[Path]:
    """Put the photos' files into their folder, read each again and compare it; return those that were not there before.

    ``wanted`` are the names of those that are put back; None means all.
    """
    folder = Path(settings.MEDIA_ROOT)
    folder.mkdir(parents=True, exist_ok=True)
    if PHOTOS not in backup:
        return []
    written: list[Path] = []
    try:
        with tarfile.open(fileobj=backup.stream(PHOTOS), mode="r|") as tar:
            for info in tar:
                cast("Any", tar).members = []  # it would remember every one
                content = tar.extractfile(info)
                if not info.isreg() or not PHOTO_NAME.match(info.name) or content is None:
                    raise ArchiveRefused(f"{PHOTOS} holds something that is no photo. Nothing was changed.")
                if (wanted is None or info.name in wanted) and _put_photo(folder / info.name, content):
                    written.append(folder / info.name)
    except BaseException:
        for path in written:
            path.unlink(missing_ok=True)
        raise
    return written


def _put_photo(path: Path, content: Any) -> bool:
    """Write a photo's file beside its place and move it there; False where the same one is there already."""
    was_there = path.exists()
    handle, beside = tempfile.mkstemp(dir=path.parent, prefix=".coming-")
    try:
        with os.fdopen(handle, "w+b") as file:
            digest = _copied(content, file)
            file.seek(0)
            if _digest(file) != digest:
                raise ArchiveRefused(f"The photo {path.name} came out otherwise than it went in. Is the disk sound?")
            os.fsync(file.fileno())
        Path(beside).chmod(0o644)
        Path(beside).replace(path)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
    return not was_there


def _copied(content: Any, file: BinaryIO) -> str:
    digest = hashlib.sha256()
    while piece := content.read(_PIECE):
        file.write(piece)
        digest.update(piece)
    return digest.hexdigest()


def _digest(file: BinaryIO) -> str:
    digest = hashlib.sha256()
    while piece := file.read(_PIECE):
        digest.update(piece)
    return digest.hexdigest()


def what_is_here() -> str:
    """Return in a few words what this place holds already; empty where nobody has used it yet."""
    there, counted = own_tables(), []
    with connection.cursor() as cursor:
        for table, kind in (("auth_user", "accounts"), ("kitchen_recipe", "recipes"), ("energy_run", "runs")):
            if table in there:
                cursor.execute(f"SELECT COUNT(*) FROM {table}")
                counted.append((cursor.fetchone()[0], kind))
    return ", ".join(f"{count:,} {kind.removesuffix('s') if count == 1 else kind}" for count, kind in counted if count)
