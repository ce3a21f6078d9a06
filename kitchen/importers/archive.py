"""Reading an archive that anybody may have made: nothing is believed before it is checked, and nothing is unpacked to a path.

Members are read by name through the limits below and never written where their names point. Every refusal is one plain sentence.
"""

from __future__ import annotations

import hashlib
import json
import math
import re
import zipfile
import zlib
from collections.abc import Iterator
from typing import Any, BinaryIO, Generic, NoReturn, Protocol, TypeVar

from kitchen.archivists import ArchiveRefused
from kitchen.domain import record
from kitchen.domain.archive import FORMAT, SCHEMA, Document, FileNote, Manifest

MOST_MEMBERS = 200_000
MOST_DOCUMENT_BYTES = 48 * 1024 * 1024
MOST_PHOTO_BYTES = 12 * 1024 * 1024
MOST_MANIFEST_BYTES, MOST_NOTE_BYTES = 4 * 1024 * 1024, 512
# JSON takes memory by its values and not by its bytes. What the program writes has at least 20 bytes a value and 80 a container;
# written as tightly as can be, 12 and 50.
LEAST_VALUE_BYTES, LEAST_CONTAINER_BYTES, FEW_VALUES = 8, 32, 2000
MOST_DEPTH = 60
_PIECE = 256 * 1024
_UID = r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}"
_MEMBER = re.compile(
    rf"(?:manifest|site|foods)\.json|recipes/{_UID}\.json|apps/[a-z][a-z-]{{0,30}}(?:/{_UID})?\.json"
    r"|photos/[0-9a-f]{24}-[0-9a-z-]{4,32}\.(?:jpg|webp)"
)
_UNREADABLE = (zipfile.BadZipFile, zlib.error, OSError, EOFError, NotImplementedError, RuntimeError, ValueError, KeyError)
_AGAIN = "Copy it again from where it was packed, and try once more."

T = TypeVar("T")


class Noting(Protocol):
    """What the manifest of any archive says: its format and schema, and a note of each member."""

    @property
    def format(self) -> str:
        """Which kind of archive it is."""
        ...

    @property
    def schema(self) -> int:
        """The number of its shape."""
        ...

    @property
    def files(self) -> tuple[FileNote, ...]:
        """A note of each member but the manifest itself."""
        ...


M = TypeVar("M", bound=Noting)


class NotedZip(Generic[M]):
    """A ZIP whose list of members and manifest make sense; ``verify`` looks at every byte.

    A kind of archive says what its manifest is, what it and its reading are called in a sentence, and how long a member may be.
    """

    shape: type[M]
    format: str
    schema: int
    called: str
    verb: str
    member_names: re.Pattern[str]

    def __init__(self, file: BinaryIO) -> None:
        """Open an archive; raises ArchiveRefused for what is none, for another format and for a newer schema."""
        try:
            self._zip = zipfile.ZipFile(file)
            infos = [info for info in self._zip.infolist() if not info.is_dir()]
        except _UNREADABLE:
            raise ArchiveRefused(f"This is not an archive of {self.called}, or it broke off on the way. {_AGAIN}") from None
        self._infos = {info.filename: info for info in infos}
        _refuse_members(infos, self._infos, self.member_names, self.called)
        self.manifest = self._read_manifest()
        self._notes = {note.name: note for note in self.manifest.files}
        self._refuse_differing_lists()

    def most_bytes(self, name: str) -> int:
        """Return how many bytes a member of this name may have."""
        raise NotImplementedError

    def names(self, folder: str) -> list[str]:
        """Return the names of the members of a folder, in order."""
        return sorted(name for name in self._notes if name.startswith(folder))

    def __contains__(self, name: str) -> bool:
        return name in self._notes

    def verify(self) -> None:
        """Read every member once and compare its digest; raises ArchiveRefused at the first that differs."""
        for note in self.manifest.files:
            digest = hashlib.sha256()
            for piece in self.pieces(note.name):
                digest.update(piece)
            if digest.hexdigest() != note.sha256:
                raise ArchiveRefused(f"{note.name} is not what was packed: its digest differs. {_AGAIN}")

    def document(self, name: str) -> Document:
        """Return a JSON document, checked for what no document holds (NaN, null characters, endless nesting)."""
        return _parsed(name, b"".join(self.pieces(name)))

    def record(self, name: str, shape: type[T]) -> T:
        """Return a document as a record; raises ArchiveRefused where it does not hold one."""
        try:
            return record.read(shape, self.document(name))
        except record.UnreadableRecord as error:
            raise ArchiveRefused(f"{name}: {error}.") from None

    def file(self, name: str) -> bytes:
        """Return a file's bytes."""
        return b"".join(self.pieces(name))

    def pieces(self, name: str) -> Iterator[bytes]:
        """Yield a member's bytes; raises ArchiveRefused for more of them than its kind may have."""
        most = self._most_manifest() if name == "manifest.json" else self.most_bytes(name)
        info, read = self._infos.get(name), 0
        if info is None:
            raise ArchiveRefused(f"The archive lacks {name}. {_AGAIN}")
        try:
            with self._zip.open(info) as member:
                while piece := member.read(_PIECE):
                    read += len(piece)
                    if read > most:
                        raise ArchiveRefused(f"{name} has more than {most // 2**20} MB, so it was not packed by this program.")
                    yield piece
        except ArchiveRefused:
            raise
        except _UNREADABLE:
            raise ArchiveRefused(f"{name} cannot be read: the archive is damaged. {_AGAIN}") from None

    def _most_manifest(self) -> int:
        return min(MOST_DOCUMENT_BYTES, MOST_MANIFEST_BYTES + MOST_NOTE_BYTES * len(self._infos))

    def _read_manifest(self) -> M:
        if "manifest.json" not in self._infos:
            raise ArchiveRefused(f"This ZIP file holds no manifest.json, so it is not {self.called}.")
        held = self.document("manifest.json")
        if held.get("format") != self.format:
            raise ArchiveRefused(f"This ZIP file is not {self.called} of this program.")
        schema = held.get("schema")
        if isinstance(schema, int) and schema > self.schema:
            raise ArchiveRefused(
                f"This archive has schema {schema}; this program reads schemas up to {self.schema}. "
                f"Update the program, then {self.verb} it."
            )
        try:
            return record.read(self.shape, held)
        except record.UnreadableRecord as error:
            raise ArchiveRefused(f"manifest.json: {error}.") from None

    def _refuse_differing_lists(self) -> None:
        listed, there = set(self._notes), set(self._infos) - {"manifest.json"}
        if len(listed) != len(self.manifest.files):
            raise ArchiveRefused("The manifest names a member twice.")
        for name in sorted(listed - there)[:1]:
            raise ArchiveRefused(f"The archive lacks {name}. {_AGAIN}")
        for name in sorted(there - listed)[:1]:
            raise ArchiveRefused(f"The archive holds {name}, which its manifest does not name.")
        for note in self.manifest.files:
            _refuse_other_size(note, self._infos[note.name])


class Archive(NotedZip[Manifest]):
    """A packed library."""

    shape, format, schema, member_names = Manifest, FORMAT, SCHEMA, _MEMBER
    called, verb = "a packed library", "unpack"

    def most_bytes(self, name: str) -> int:
        """Return how many bytes a member of this name may have."""
        return MOST_PHOTO_BYTES if name.startswith("photos/") else MOST_DOCUMENT_BYTES


def _refuse_members(
    infos: list[zipfile.ZipInfo], by_name: dict[str, zipfile.ZipInfo], names: re.Pattern[str], called: str
) -> None:
    if len(infos) > MOST_MEMBERS:
        raise ArchiveRefused(f"The archive has more than {MOST_MEMBERS:,} members, so it was not packed by this program.")
    if len(by_name) != len(infos):
        raise ArchiveRefused("The archive holds two members of one name, so it was not packed by this program.")
    for info in infos:
        if not names.fullmatch(info.filename):
            raise ArchiveRefused(f"The archive holds “{_short(info.filename)}”, which has no place in {called}.")
        if info.flag_bits & 1:
            raise ArchiveRefused("The archive is locked with a password. Unlock it first.")


def _refuse_other_size(note: FileNote, info: zipfile.ZipInfo) -> None:
    if info.file_size != note.size:
        raise ArchiveRefused(f"{note.name} is not what was packed: its size differs. {_AGAIN}")


def _parsed(name: str, spelled: bytes) -> Document:
    _refuse_crowd(name, spelled)
    try:
        held = json.loads(spelled.decode("utf-8"), parse_constant=_no_number, parse_float=_finite)
        _refuse_nonsense(held, 0)
    except (ValueError, RecursionError, OverflowError):
        raise ArchiveRefused(f"{name} is not a document of this program, or it is damaged. {_AGAIN}") from None
    if not isinstance(held, dict):
        raise ArchiveRefused(f"{name} should hold one object.")
    return held


def _refuse_crowd(name: str, spelled: bytes) -> None:
    """Refuse a document that is all brackets and commas before it is taken apart: each value would take fifty bytes."""
    containers = spelled.count(b"[") + spelled.count(b"{")
    values = containers + spelled.count(b",")
    if containers > FEW_VALUES + len(spelled) // LEAST_CONTAINER_BYTES or values > FEW_VALUES + len(spelled) // LEAST_VALUE_BYTES:
        raise ArchiveRefused(f"{name} holds more values than any document of this program of its length.")


def _no_number(word: str) -> NoReturn:
    raise ValueError(word)


def _finite(spelled: str) -> float:
    number = float(spelled)
    if not math.isfinite(number):
        raise ValueError(spelled)
    return number


def _refuse_nonsense(value: Any, depth: int) -> None:
    if depth > MOST_DEPTH:
        raise ValueError("nested too deep")
    if isinstance(value, str):
        value.encode("utf-8")  # half a character pair is none
        if "\0" in value:
            raise ValueError(value)
    elif isinstance(value, dict):
        for key, inner in value.items():
            _refuse_nonsense(key, depth + 1)
            _refuse_nonsense(inner, depth + 1)
    elif isinstance(value, list):
        for inner in value:
            _refuse_nonsense(inner, depth + 1)
    elif isinstance(value, int) and abs(value) > 10**18:
        raise ValueError("number")


def _short(name: str) -> str:
    plain = name.encode("ascii", "replace").decode()
    return plain if len(plain) <= 60 else plain[:57] + "..."
