"""Making a backup: rows from one moment first, then the photos, of which none is taken away meanwhile."""

from __future__ import annotations

import os
import re
import tarfile
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any, BinaryIO, cast
from zipfile import ZIP_STORED

from django.conf import settings
from django.db import DatabaseError, connection
from django.db.migrations.loader import MigrationLoader

from deploy.backup.document import FORMAT, PHOTOS, BackupManifest, TableNote
from deploy.backup.places import COMING, LastBackup, keep_note, name_at, own_folder, remove_broken_off, remove_older_rows
from deploy.backup.rows import columns_of, spelled_rows, tables_of
from deploy.backup.sealing import Sealing
from deploy.backup.snapshot import seen_migrations, snapshot, unknown_migrations
from kitchen.operations.keeping_photos import no_photo_goes
from kitchen.operations.packing import version
from kitchen.operations.photos import photo_paths, remove_what_waited
from kitchen.publish.archive import ArchiveWriter

_NAMED = re.compile(rb"[0-9a-f]{24}-[0-9a-z-]{4,32}\.(?:jpg|webp)")
_MOST_MISSING = 1000


class CannotBackUp(Exception):
    """No backup can be made; the message says why and what to do."""


@dataclass(frozen=True)
class Made:
    """A backup that was made: where it lies, and its manifest."""

    path: Path
    manifest: BackupManifest
    size: int
    sealed: bool

    def note(self, proved: datetime | None = None) -> LastBackup:
        """Return what is kept of it for the bench and the doctor."""
        made, manifest = self.manifest.made_at.isoformat(), self.manifest
        proof = "" if proved is None else proved.isoformat()
        return LastBackup(made, str(self.path.resolve()), self.size, manifest.rows, manifest.photos, self.sealed, proof)


def make_backup(*, folder: Path, at: datetime, passphrase: bytes | None = None, rows_alone: bool = False) -> Made:
    """Put a backup of everything into a folder, whole or not at all, readable by nobody else; and keep a note of it.

    One of the rows alone is what an upgrade needs, which touches no photo: it is small and quick, and no note is kept of it.

    Raises
    ------
    CannotBackUp
        If there are no tables yet, or those of a newer program.
    OSError
        If the folder cannot be written; nothing is left there then.
    """
    remove_broken_off(folder)
    handle, beside = tempfile.mkstemp(dir=folder, prefix=COMING, suffix=".backup")  # made with mode 600
    try:
        with os.fdopen(handle, "wb") as out:
            with _sealed(out, passphrase) as into:
                manifest = write_backup(into, at=at, rows_alone=rows_alone)
            out.flush()
            os.fsync(out.fileno())
        path = name_at(folder, at, rows_alone=rows_alone)
        Path(beside).replace(path)
        _sync(folder)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
    finally:
        with suppress(DatabaseError):  # tables that wait for their newest columns
            remove_what_waited()
    made = Made(path, manifest, path.stat().st_size, passphrase is not None)
    if not rows_alone:
        keep_note(made.note())
    return made


def keep_rows(at: datetime) -> Path:
    """Make a backup of the rows alone in the data folder, before something changes them, and return where it lies."""
    folder = own_folder()
    folder.mkdir(mode=0o700, exist_ok=True)
    made = make_backup(folder=folder, at=at, rows_alone=True)
    remove_older_rows(folder)
    return made.path


@contextmanager
def _sealed(out: BinaryIO, passphrase: bytes | None) -> Iterator[BinaryIO]:
    if passphrase is None:
        yield out
        return
    with Sealing(out, passphrase) as into:
        yield cast("BinaryIO", into)


def _sync(folder: Path) -> None:
    """Bring the folder's list of names onto the disk, too."""
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def write_backup(out: BinaryIO, *, at: datetime, rows_alone: bool = False) -> BackupManifest:
    """Write all tables, and the photos unless the rows alone are wanted, into a file that is written forwards alone."""
    with ArchiveWriter(out, at=at) as archive, no_photo_goes():
        missing: set[str] = set()
        with snapshot():
            loader = MigrationLoader(connection)
            seen = seen_migrations(loader)
            if not seen:
                raise CannotBackUp("There is nothing to back up: this database has no tables yet.")
            for app, name in unknown_migrations(loader, seen)[:1]:
                raise CannotBackUp(f"The tables are of a newer program: this one does not know {app}.{name}. Update it first.")
            tables = tuple(_write_table(archive, model, missing) for model in tables_of(loader, seen))
        photos, photo_bytes = (0, 0) if rows_alone else _write_photos(archive)
        manifest = BackupManifest(
            format=FORMAT,
            made_at=at,
            made_by=f"wattfare {version()}",
            engine=connection.vendor,
            migrations=tuple(".".join(node) for node in seen),
            tables=tables,
            photos=photos,
            photo_bytes=photo_bytes,
            files=archive.notes,
            missing=tuple(sorted(missing)[:_MOST_MISSING]),
            surroundings=surroundings(),
            rows_alone=rows_alone,
        )
        archive.close_with(manifest)
        return manifest


def _write_table(archive: ArchiveWriter, model: Any, missing: set[str]) -> TableNote:
    note = TableNote(model._meta.db_table, model._meta.label, tuple(field.attname for field in columns_of(model)), 0)
    rows = 0
    with archive.member(note.member) as member:
        for line in spelled_rows(model):
            member.write(line)
            rows += 1
            if b".webp" in line or b".jpg" in line:
                missing |= {name for name in _photos_in(line) if not (Path(settings.MEDIA_ROOT) / name).exists()}
    return TableNote(note.name, note.model, note.columns, rows)


def _photos_in(line: bytes) -> set[str]:
    return {name.decode("ascii") for name in _NAMED.findall(line)}


def _write_photos(archive: ArchiveWriter) -> tuple[int, int]:
    count = size = 0
    with archive.member(PHOTOS, ZIP_STORED) as member, tarfile.open(fileobj=cast("BinaryIO", member), mode="w|") as tar:
        for path in photo_paths():
            with path.open("rb") as file:
                info = tarfile.TarInfo(path.name)
                info.size, info.mode, info.mtime = os.fstat(file.fileno()).st_size, 0o644, int(os.fstat(file.fileno()).st_mtime)
                tar.addfile(info, file)
            cast("Any", tar).members = []  # it would remember every one
            count, size = count + 1, size + info.size
    return count, size


def surroundings() -> dict[str, Any]:
    """Return the settings that are no secret and no place on this computer's disk."""
    said = settings.ENVIRONMENT
    return {
        "WATTFARE_HOSTS": ",".join(host for host in said.hosts if host not in {"127.0.0.1", "localhost", "[::1]"}),
        "WATTFARE_HTTPS": "1" if said.https else "0",
        "WATTFARE_BEHIND_PROXY": "1" if said.behind_proxy else "0",
        "WATTFARE_TIME_ZONE": said.time_zone,
    }
