"""What of a file is looked at: its beginning, and the places further down at which its columns are named again."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import BinaryIO

from energy.meters.files.columns.shape import LogShape, UnreadableFile
from energy.meters.files.tables.decoding import encoding_of, lines
from energy.meters.files.tables.sections import names_again
from energy.meters.files.tables.text_rows import delimiter_of, first_rows, looks_json

HEAD_BYTES = 1 << 18
"""So much of a file's beginning is looked at."""

NAMED_WITHIN, MOST_SECTIONS = 60, 8
"""Columns are named in the first rows, and so many sections are looked at."""

_PART_BYTES, _STEP_BYTES = 1 << 15, 1 << 20


def beginning_of(file: BinaryIO) -> bytes:
    """Return the first ``HEAD_BYTES`` of a file, and behind them the beginnings of its later sections. It is read through.

    Examples
    --------
    >>> from io import BytesIO
    >>> rows = b"time,W\\n" + b"18:30,5\\n" * 50_000
    >>> len(beginning_of(BytesIO(rows))) == HEAD_BYTES, beginning_of(BytesIO(rows + b"time,W\\n18:30,9\\n")).count(b"time")
    (True, 2)
    """
    head = file.read(HEAD_BYTES)
    mark = _mark_of_names(head) if len(head) == HEAD_BYTES else b""
    if not mark:
        return head
    parts = []
    for place in _places(file, mark):
        file.seek(max(place - _PART_BYTES, 0))
        before = file.read(min(place, _PART_BYTES))
        title = before.rpartition(b"\n")[2]
        parts.append(title + file.read(_PART_BYTES).rpartition(b"\n")[0])
    return head.rpartition(b"\n")[0] + b"\n" + b"\n".join(parts) + b"\n" if parts else head


def _mark_of_names(head: bytes) -> bytes:
    """Return how the line begins that names the columns of a table, with the end of the line above; nothing without one."""
    try:
        encoding = encoding_of(head)
        first = list(lines([head[: 1 << 14]], encoding))[:NAMED_WITHIN]
        if looks_json("\n".join(first)) or encoding.startswith("utf-16"):
            return b""
        shape = LogShape(delimiter=delimiter_of(first))
        number = next((number for number, cells in first_rows(first, shape, NAMED_WITHIN) if names_again(cells)), 0)
    except UnreadableFile:
        return b""
    begins = first[number - 1].partition(shape.delimiter)[0] if number else ""
    return f"\n{begins}{shape.delimiter}".encode(encoding.removesuffix("-sig")) if begins.strip() else b""


def _places(file: BinaryIO, mark: bytes) -> Iterator[int]:
    """Yield where a mark comes again behind the head, a few times at most. [bytes]"""
    found = list[int]()
    file.seek(HEAD_BYTES - len(mark))
    at, kept = HEAD_BYTES - len(mark), b""
    while len(found) < MOST_SECTIONS and (piece := file.read(_STEP_BYTES)):
        window = kept + piece
        found += [at - len(kept) + match.start() for match in re.finditer(re.escape(mark), window)]
        at, kept = at + len(piece), window[-len(mark) + 1 :]
    yield from found[:MOST_SECTIONS]
