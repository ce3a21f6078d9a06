"""Writing an archive: one ZIP, member by member, each read and written a piece at a time; the manifest comes last."""

from __future__ import annotations

import hashlib
import json
import time
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import Any, BinaryIO
from zipfile import ZIP_DEFLATED, ZIP_STORED, ZipFile, ZipInfo

from kitchen.domain import record
from kitchen.domain.archive import FORMAT, FileNote, Manifest

_PIECE = 256 * 1024


class NotedMember:
    """A member while it is written: counts its bytes and works out their digest on the way."""

    def __init__(self, into: Any) -> None:
        """Begin a member that goes into what ``into.write`` takes."""
        self._into, self._digest, self.size = into, hashlib.sha256(), 0

    def write(self, piece: bytes) -> int:
        """Add some bytes."""
        self._into.write(piece)
        self._digest.update(piece)
        self.size += len(piece)
        return len(piece)

    def note(self, name: str) -> FileNote:
        """Return what a manifest says of the member."""
        return FileNote(name, self.size, self._digest.hexdigest())


class ArchiveWriter:
    """A ZIP that grows; leaving its ``with`` block closes it. What is written stays out of memory."""

    def __init__(self, out: BinaryIO, *, at: datetime) -> None:
        """Begin an archive in a file that can be written; ``at`` is the moment that its members bear."""
        self._zip = ZipFile(out, "w", allowZip64=True)
        self._at = at
        self._notes: list[FileNote] = []
        self.counts: Counter[str] = Counter()

    def __enter__(self) -> ArchiveWriter:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self._zip.close()

    def add_document(self, name: str, document: Any) -> None:
        """Add a record, or what is plain JSON already."""
        spelled = json.dumps(record.write(document), ensure_ascii=False, sort_keys=True, indent=1, allow_nan=False)
        self._add(name, [spelled.encode()], ZIP_DEFLATED)

    def add_file(self, name: str, path: Path) -> bool:
        """Add a file as it is; False where there is none."""
        try:
            with path.open("rb") as file:
                self._add(name, iter(lambda: file.read(_PIECE), b""), ZIP_STORED)
        except FileNotFoundError:
            return False
        return True

    @contextmanager
    def member(self, name: str, method: int = ZIP_DEFLATED) -> Iterator[NotedMember]:
        """Add a member that is written piece by piece inside the ``with`` block."""
        with self._zip.open(self._info(name, method), "w", force_zip64=True) as into:
            growing = NotedMember(into)
            yield growing
        self._notes.append(growing.note(name))

    @property
    def notes(self) -> tuple[FileNote, ...]:
        """What a manifest says of the members so far."""
        return tuple(self._notes)

    def close_with(self, manifest: Any) -> None:
        """Add the manifest, a record that holds the notes of all members."""
        spelled = json.dumps(record.write(manifest), ensure_ascii=False, indent=1)
        with self._zip.open(self._info("manifest.json", ZIP_DEFLATED), "w") as member:
            member.write(spelled.encode())

    def finish(self, *, made_by: str, missing: Iterable[str], left_out: Mapping[str, int]) -> Manifest:
        """Add the manifest of a packed library and return it."""
        manifest = Manifest(FORMAT, self._at, made_by, dict(self.counts), self.notes, tuple(missing), dict(left_out))
        self.close_with(manifest)
        return manifest

    def _add(self, name: str, pieces: Iterable[bytes], method: int) -> None:
        with self.member(name, method) as growing:
            for piece in pieces:
                growing.write(piece)

    def _info(self, name: str, method: int) -> ZipInfo:
        moment = time.gmtime(self._at.timestamp())
        info = ZipInfo(name, moment[:6])
        info.compress_type = method
        info.external_attr = 0o644 << 16
        return info
