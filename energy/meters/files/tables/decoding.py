"""From bytes to lines of text: encodings, byte order marks, and what is no text at all."""

from __future__ import annotations

import codecs
from collections.abc import Iterable, Iterator
from typing import Any

from energy.meters.files.columns.shape import UnreadableFile

LONGEST_LINE = 1 << 20
_MAGIC = {
    b"PK\x03\x04": "a spreadsheet or a packed folder",
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"\xd0\xcf\x11\xe0": "an old spreadsheet",
    b"\x1f\x8b": "a packed file",
    b"SQLite": "a database",
}


def encoding_of(head: bytes) -> str:
    """Return the encoding of a file by its first bytes.

    Raises
    ------
    UnreadableFile
        If it is no text.

    Examples
    --------
    >>> encoding_of(b"time,w"), encoding_of("Zeit;Zähler".encode("cp1252")), encoding_of("a\\tb".encode("utf-16"))
    ('utf-8', 'cp1252', 'utf-16')
    """
    for magic, words in _MAGIC.items():
        if head.startswith(magic):
            raise UnreadableFile(f"This is {words}, not a text file. Save or export the log as CSV, then try again.")
    start = head.removeprefix(codecs.BOM_UTF8).lstrip()[:200].lower()
    if start.startswith((b"<!doctype html", b"<html")):
        raise UnreadableFile("This is a web page, not a log. Save or export the log itself as CSV, then try again.")
    if start.startswith((b"<?xml", b"<feed", b"<svg")) and b"IntervalBlock" not in head and b"naesb.org/espi" not in head:
        raise UnreadableFile(
            "This is XML, but not of the open standard for intervals of energy. Export the log as CSV, then try again."
        )
    if head.startswith(codecs.BOM_UTF8):
        return "utf-8-sig"
    if head.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    nuls = head.count(0)
    if nuls > len(head) // 4:
        return "utf-16-le" if head[1::2].count(0) > head[::2].count(0) else "utf-16-be"
    if nuls:
        raise UnreadableFile("This is not a text file. Save or export the log as CSV, then try again.")
    try:
        codecs.getincrementaldecoder("utf-8")().decode(head)
    except UnicodeDecodeError:
        return "cp1252"
    return "utf-8"


def pieces(stream: Any, size: int = 1 << 16) -> Iterator[bytes]:
    """Yield the bytes of a file, or of whatever is already in pieces."""
    read = getattr(stream, "read", None)
    if read is None:
        yield from stream
        return
    while piece := read(size):
        yield piece


def lines(chunks: Iterable[bytes], encoding: str) -> Iterator[str]:
    """Yield the lines of a file without their ends, whatever ends them.

    Raises
    ------
    UnreadableFile
        If a line is longer than any log's.
    """
    decoder = codecs.getincrementaldecoder(encoding)(errors="replace")
    left = ""
    for chunk in chunks:
        text = left + decoder.decode(chunk)
        if text.endswith("\r"):
            left, text = "\r", text[:-1]
            if "\n" not in text and "\r" not in text:
                left, text = text + "\r", ""
                continue
        else:
            left = ""
        if "\r" in text:
            text = text.replace("\r\n", "\n").replace("\r", "\n")
        rows = text.split("\n")
        left = rows.pop() + left
        if len(left) > LONGEST_LINE:
            raise UnreadableFile("A line is longer than a million characters: this is no log of readings.")
        yield from rows
    left += decoder.decode(b"", final=True)
    yield from left.replace("\r\n", "\n").replace("\r", "\n").rstrip("\n").split("\n") if left else ()
