"""From lines to rows of cells: the separator, quoted cells, columns set by spaces, and what is passed over."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice

from energy.meters.files.columns.shape import LogShape, UnreadableFile, parts_columns
from energy.meters.files.tables.json_rows import json_rows

Cells = Sequence[str]
DELIMITERS = (";", "\t", "|", ",")
MOST_COLUMNS = 2_000
"""More than a day of minutes beside each other has no log."""


def delimiter_of(lines: Sequence[str]) -> str:
    """Return the separator of a table: named by ``sep=``, else the one that parts most lines into the same number of cells.

    Examples
    --------
    >>> delimiter_of(["a;b", "1,5;2,5"]), delimiter_of(["sep=,", "1;2,3"]), delimiter_of(["Zeit|W", "1,5|2"])
    (';', ',', '|')
    """
    for line in lines[:3]:
        if line.strip().lower().startswith("sep=") and parts_columns(named := line.strip()[4:5]):
            return named
    told = [line for line in lines if line.strip()]
    best, most = ",", 0.0
    for delimiter in DELIMITERS:
        counts = [len(cells) for cells in _taken_apart(told, delimiter)]
        wide = [count for count in counts if count >= 2]
        if not wide:
            continue
        usual = max(set(wide), key=wide.count)
        score = wide.count(usual) / len(counts) + min(usual, 4) * 0.01
        if score > most + 1e-9:
            best, most = delimiter, score
    return best if most >= 0.5 or not _in_spaces(told) else " "


def _in_spaces(lines: Sequence[str]) -> bool:
    """Return whether columns are set by spaces: nearly every line has as many words, and numbers among them."""
    counts = [len(line.split()) for line in lines]
    usual = max(set(counts), key=counts.count, default=0)
    digits = sum(line.strip()[-1].isdigit() and line.strip()[0].isdigit() for line in lines)
    return usual >= 2 and counts.count(usual) >= 0.7 * len(counts) and digits >= 0.6 * len(lines)


def _taken_apart(lines: Sequence[str], delimiter: str) -> list[list[str]]:
    try:
        return list(csv.reader(lines, delimiter=delimiter, strict=False))
    except csv.Error:
        return []


def looks_json(head: str) -> bool:
    """Return whether a text is JSON: it begins with a bracket that is no section of a table, or has an object on every line."""
    text = head.lstrip()
    if text.startswith("{") or (text.startswith("[") and text[1:].lstrip()[:1] in ("{", "[", '"', "]")) or text.startswith("[\n"):
        return True
    lines = [line.strip() for line in text.split("\n")[:50] if line.strip()]
    behind = sum(line.endswith("}") and '{"' in line for line in lines)
    return bool(lines) and behind >= max(1, 0.6 * len(lines))


def table_rows(lines: Iterable[str], shape: LogShape) -> Iterator[tuple[int, list[str]]]:
    """Yield number (from 1) and cells of each row of a table; empty rows and remarks are passed over."""
    for number, cells in _rows_by_spaces(lines) if shape.delimiter == " " else _rows_by_marks(lines, shape.delimiter):
        if len(cells) > MOST_COLUMNS:
            raise UnreadableFile(
                f"Row {number} has {len(cells):,} columns, and at most {MOST_COLUMNS:,} are read. "
                "Export the log with a row for each moment."
            )
        yield number, cells


def _rows_by_marks(lines: Iterable[str], delimiter: str) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(map(_without_marks, lines), delimiter=delimiter, strict=False)
    try:
        for cells in reader:
            if cells and (len(cells) > 1 or cells[0].strip()) and not cells[0].startswith("#"):
                yield reader.line_num, cells
    except csv.Error as error:
        raise UnreadableFile(
            f"Row {reader.line_num} cannot be taken apart ({error}). Export the log as plain CSV again."
        ) from error


def _without_marks(line: str) -> str:
    """Return a line without the marks that keep a spreadsheet from reading numbers."""
    return line.replace("\0", "").replace('="', '"') if '="' in line or "\0" in line else line


def _rows_by_spaces(lines: Iterable[str]) -> Iterator[tuple[int, list[str]]]:
    for number, line in enumerate(lines, 1):
        if (cells := line.split()) and not cells[0].startswith("#"):
            yield number, cells


def first_rows(lines: Iterable[str], shape: LogShape, most: int) -> list[tuple[int, list[str]]]:
    """Return the first rows of a file."""
    rows = json_rows(lines) if shape.kind == "json" else table_rows(lines, shape)
    found: list[tuple[int, list[str]]] = []
    try:
        found.extend(islice(rows, most))
    except UnreadableFile:
        if not found:
            raise
    return found
