"""From lines to rows of cells: the separator, rows in JSON, and what is passed over at the head."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice
from typing import Any

from energy.importers.shape import LogShape, UnreadableFile

Row = Sequence[str]
DELIMITERS = (";", "\t", "|", ",")
_MOST_KEYS = 200


def delimiter_of(lines: Sequence[str]) -> str:
    """Return the separator of a table: named by ``sep=``, else the one that parts most lines into the same number of cells.

    Examples
    --------
    >>> delimiter_of(["a;b", "1,5;2,5"]), delimiter_of(["sep=,", "1;2,3"]), delimiter_of(["Zeit|W", "1,5|2"])
    (';', ',', '|')
    """
    for line in lines[:3]:
        if line.strip().lower().startswith("sep=") and len(line.strip()) >= 5:
            return line.strip()[4]
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
    """Return whether a text is JSON: it begins with a bracket, and the bracket is no section of a table."""
    text = head.lstrip()
    return text.startswith("{") or (
        (text.startswith("[") and text[1:].lstrip()[:1] in ("{", "[", '"', "]")) or text.startswith("[\n")
    )


def table_rows(lines: Iterable[str], shape: LogShape) -> Iterator[tuple[int, list[str]]]:
    """Yield number (from 1) and cells of each row of a table; empty rows and remarks are passed over."""
    if shape.delimiter == " ":
        yield from _spaced(lines)
        return
    reader = csv.reader(map(_plainly, lines), delimiter=shape.delimiter, strict=False)
    try:
        for cells in reader:
            if cells and (len(cells) > 1 or cells[0].strip()) and not cells[0].startswith("#"):
                yield reader.line_num, cells
    except csv.Error as error:
        raise UnreadableFile(
            f"Row {reader.line_num} cannot be taken apart ({error}). Export the log as plain CSV again."
        ) from error


def _plainly(line: str) -> str:
    """Return a line without the marks that keep a spreadsheet from reading numbers."""
    return line.replace("\0", "").replace('="', '"') if '="' in line or "\0" in line else line


def _spaced(lines: Iterable[str]) -> Iterator[tuple[int, list[str]]]:
    for number, line in enumerate(lines, 1):
        if (cells := line.split()) and not cells[0].startswith("#"):
            yield number, cells


def json_rows(lines: Iterable[str], header: Sequence[str] | None = None) -> Iterator[tuple[int, list[str]]]:
    """Yield objects of JSON as rows below one row of their names, whether they stand in one document or one a line.

    Raises
    ------
    UnreadableFile
        If it is no JSON, or holds no objects and no rows.
    """
    names: list[str] = list(header or ())
    told = bool(names)
    carried: dict[str, str] = {}
    number = 1
    for item in _items(lines):
        row = _flat(item)
        if row is None:
            continue
        if not told:
            names, told = _names(row), True
            yield 0, names
        elif not names:
            names = _names(row)
        for key in row:
            if key not in names and len(names) < _MOST_KEYS and header is None:
                names.append(key)
        carried.update({key: value for key, value in row.items() if key in ("entity_id", "device", "sensor", "name") and value})
        yield number, [row.get(name, carried.get(name, "")) for name in names]
        number += 1
    if number == 1:
        raise UnreadableFile("This JSON holds no list of readings. Export the log as CSV or as a list of objects.")


def _names(row: dict[str, str]) -> list[str]:
    return list(row)[:_MOST_KEYS]


def _flat(item: Any) -> dict[str, str] | None:
    """Return an object or a row of values as names and texts; objects inside give their own names behind a point."""
    if isinstance(item, list):
        return {str(place): _text(value) for place, value in enumerate(item) if not isinstance(value, (dict, list))} or None
    if not isinstance(item, dict):
        return None
    flat: dict[str, str] = {}
    for key, value in item.items():
        if isinstance(value, dict):
            flat.update({f"{key}.{inner}": _text(one) for inner, one in value.items() if not isinstance(one, (dict, list))})
        elif not isinstance(value, list):
            flat[str(key)] = _text(value)
    return flat or None


def _text(value: Any) -> str:
    if value is None:
        return ""
    return repr(value) if isinstance(value, float) else str(value)


def _items(lines: Iterable[str]) -> Iterator[Any]:
    """Yield the innermost objects and rows of values of a JSON text, a document or one a line, without holding all of it."""
    decoder = json.JSONDecoder()
    held = ""
    for line in chain(lines, [None]):
        if line is not None and not held and (alone := _alone(line)) is not None:
            yield from _inside(alone)
            continue
        held += "" if line is None else line + "\n"
        if line is not None and len(held) < 1 << 16:
            continue
        items, held = _drain(decoder, held, last=line is None)
        yield from items


def _alone(line: str) -> Any:
    """Return the object that stands alone on a line, or None."""
    text = line.strip().removesuffix(",")
    if not (text.startswith("{") and text.endswith("}")):
        return None
    try:
        return json.loads(text)
    except json.JSONDecodeError:
        return None


def _drain(decoder: json.JSONDecoder, held: str, *, last: bool) -> tuple[list[Any], str]:
    """Return the whole objects at the beginning of a text, and what is left of it."""
    found: list[Any] = []
    place = 0
    while place < len(held):
        sign = held[place]
        if sign == "{" or (sign == "[" and _is_row(held, place)):
            try:
                item, end = decoder.raw_decode(held, place)
            except json.JSONDecodeError as error:
                if _has_list(held, place):
                    place += 1
                    continue
                if last or len(held) - place > 1 << 22:
                    raise UnreadableFile(
                        f"This JSON breaks off or is wrong near “{held[place : place + 40].strip()}” ({error.msg})."
                    ) from None
                return found, held[place:]
            found += _inside(item)
            place = end
        elif sign == '"':
            end = held.find('"', place + 1)
            if end < 0:
                return found, "" if last else held[place:]
            place = end + 1
        else:
            place += 1
    return found, ""


def _inside(item: Any) -> list[Any]:
    """Return the objects of the longest list inside an object, or the object itself."""
    if isinstance(item, dict):
        lists = [value for value in item.values() if isinstance(value, list) and value and isinstance(value[0], (dict, list))]
        return [one for value in lists for one in value] if lists else [item]
    return [item]


def _is_row(text: str, place: int) -> bool:
    """Return whether a bracket opens a row of plain values."""
    after = text[place + 1 : place + 60].lstrip()
    return bool(after) and after[0] not in "[{]"


def _has_list(text: str, place: int) -> bool:
    """Return whether an object that does not end yet holds a list: then its members are what is looked for."""
    return text[place] == "{" and "[" in text[place : place + (1 << 16)] and len(text) - place >= 1 << 16


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
