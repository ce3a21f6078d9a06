"""What a backup looks like: one ZIP for every database, whose tables are JSON lines and whose photos are one tar.

Its members are::

    manifest.json            what is in it: tables with their columns and rows, migrations, the digest of each member
    tables/<table>.jsonl     one row a line, a JSON array in the order of the manifest's columns
    photos.tar               the photos' files

Unlike a packed library it holds rows as they are, accounts and devices included, and goes back into an empty place only. What is
no number, word or truth travels as text: an instant as RFC 3339 in UTC, a decimal and a fraction digit by digit.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, BinaryIO, cast

from deploy.backup.sealing import SEALED, Unsealed, WrongPassphrase
from kitchen.archivists import ArchiveRefused
from kitchen.domain.archive import FileNote
from kitchen.importers.archive import NotedZip

FORMAT = "wattfare backup"
SCHEMA = 1
PHOTOS = "photos.tar"
_MEMBER = re.compile(r"manifest\.json|photos\.tar|tables/[a-z][a-z0-9_]{0,62}\.jsonl")
_MOST_BYTES = 1 << 40


@dataclass(frozen=True)
class TableNote:
    """A table of the backup: its model as ``app.Model``, its columns in the order of each row, and how many rows it has."""

    name: str
    model: str
    columns: tuple[str, ...]
    rows: int

    @property
    def member(self) -> str:
        """The member that holds its rows."""
        return f"tables/{self.name}.jsonl"


@dataclass(frozen=True)
class BackupManifest:
    """What the backup is; ``migrations`` are those that its tables had seen, each as ``app.name``.

    ``missing`` names photo files that a row mentions and that were not there; ``surroundings`` are settings that are no secret,
    for whoever sets the kitchen up again elsewhere. One of the rows alone is made before something changes them in their place.
    """

    format: str
    made_at: datetime
    made_by: str
    engine: str
    migrations: tuple[str, ...]
    tables: tuple[TableNote, ...]
    photos: int
    photo_bytes: int
    files: tuple[FileNote, ...]
    missing: tuple[str, ...] = ()
    surroundings: dict[str, Any] = field(default_factory=dict)
    rows_alone: bool = False
    schema: int = SCHEMA

    @property
    def rows(self) -> int:
        """How many rows all tables have."""
        return sum(table.rows for table in self.tables)


class Backup(NotedZip[BackupManifest]):
    """A backup that is opened; ``verify`` looks at every byte before anything of it is used."""

    shape, format, schema, member_names = BackupManifest, FORMAT, SCHEMA, _MEMBER
    called, verb = "a backup", "restore"

    def most_bytes(self, name: str) -> int:
        """Return how many bytes a member may have: none is held in memory."""
        return _MOST_BYTES

    def stream(self, name: str) -> BinaryIO:
        """Return a member as a file that is read forwards."""
        return cast("BinaryIO", self._zip.open(self._infos[name]))


def open_backup(file: BinaryIO, passphrase: bytes | None) -> Backup:
    """Open a backup, sealed or not.

    Raises
    ------
    ArchiveRefused
        If it is none, is newer than this program, or is sealed and the passphrase does not open it.
    """
    sealed = file.read(len(SEALED)) == SEALED
    file.seek(0)
    if not sealed:
        return Backup(file)
    if passphrase is None:
        raise ArchiveRefused("This backup is sealed. Name the file that holds its passphrase: --passphrase-file FILE.")
    try:
        return Backup(cast("BinaryIO", Unsealed(file, passphrase)))
    except WrongPassphrase:
        raise ArchiveRefused("The passphrase does not open this backup, or the backup is damaged at its head.") from None


def passphrase_in(path: Path | None) -> bytes | None:
    """Return the first line of a passphrase's file; None where no file is named.

    Raises
    ------
    ArchiveRefused
        If the file cannot be read, or holds nothing that would keep anybody out.
    """
    if path is None:
        return None
    try:
        words = b"".join(path.read_bytes().splitlines()[:1]).strip()
    except OSError as error:
        raise ArchiveRefused(f"The passphrase's file {path} cannot be read ({error.strerror}).") from None
    if len(words) < SHORTEST_PASSPHRASE:
        raise ArchiveRefused(
            f"The first line of {path} is shorter than {SHORTEST_PASSPHRASE} characters. Use a longer passphrase."
        )
    return words


SHORTEST_PASSPHRASE = 12
