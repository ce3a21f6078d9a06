"""Rows out of JSON: objects in a list or one a line, states, columns side by side, values by their instants."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from itertools import chain
from typing import Any

from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.tables.json_items import expanded, flat_row

_MOST_KEYS = 200
_WHOLE = 1 << 18
"""A text of up to so many characters is read whole; a longer one streams, object by object."""

_CARRIED = ("entity_id", "unit_of_measurement", "friendly_name", "device", "sensor", "name", "series")
"""Names that lists of states write once and leave out below."""


def json_rows(lines: Iterable[str], header: Sequence[str] | None = None) -> Iterator[tuple[int, list[str]]]:
    """Yield objects of JSON as rows below one row of their names, whether they stand in one document or one a line.

    Raises
    ------
    UnreadableFile
        If it is no JSON, or holds no objects and no rows.
    """
    yield from rows_of(_items(lines), header)


def rows_of(items: Iterable[Any], header: Sequence[str] | None = None) -> Iterator[tuple[int, list[str]]]:
    """Yield objects as rows below one row of their names; names that come later are added behind.

    Raises
    ------
    UnreadableFile
        If there is none.
    """
    names: list[str] = list(header or ())
    told = bool(names)
    carried: dict[str, str] = {}
    lasting: list[str] = []
    seen, number = 0, 1
    for item in items:
        row = flat_row(item)
        if row is None:
            continue
        if not told:
            names, told = list(row)[:_MOST_KEYS], True
            yield 0, names
        elif not names:
            names = list(row)[:_MOST_KEYS]
        if not header:
            names += [key for key in row if key not in names][: _MOST_KEYS - len(names)]
        if len(names) != seen:
            seen, lasting = len(names), [key for key in names if key.endswith(_CARRIED)]
        carried.update({key: value for key in lasting if (value := row.get(key))})
        yield number, [row.get(name, carried.get(name, "")) for name in names]
        number += 1
    if number == 1:
        raise UnreadableFile("This holds no list of readings. Export the log as CSV or as a list of objects.")


def _items(lines: Iterable[str]) -> Iterator[Any]:
    """Yield the objects and rows of values of a JSON text without holding a long one."""
    held: list[str] = []
    size = 0
    source = iter(lines)
    for line in source:
        if not held and (alone := _object_on_line(line)) is not None:
            yield from expanded(alone)
            continue
        if line.strip() or held:
            held.append(line)
            size += len(line) + 1
        if size > _WHOLE:
            break
    if not held:
        return
    text = "\n".join(held) + "\n"
    if size <= _WHOLE:
        try:
            whole = json.loads(text)
        except (ValueError, RecursionError):
            whole = None
        if whole is not None:
            yield from expanded(whole)
            return
    yield from _streamed(text, source)


def _streamed(held: str, lines: Iterable[str]) -> Iterator[Any]:
    decoder = json.JSONDecoder()
    for line in chain(lines, [None]):
        held += "" if line is None else line + "\n"
        if line is not None and len(held) < 1 << 16:
            continue
        items, held = _drain(decoder, held, last=line is None)
        yield from items


def _object_on_line(line: str) -> Any:
    """Return the object that stands alone on a line, or behind words on it; None where there is none."""
    text = line.strip().removesuffix(",")
    begin = text.find("{")
    if begin < 0 or not text.endswith("}"):
        return None
    try:
        found = json.loads(text[begin:])
    except (ValueError, RecursionError):
        return None
    return {"before": text[:begin].strip(" \t=:"), **found} if begin and isinstance(found, dict) else found


def _drain(decoder: json.JSONDecoder, held: str, *, last: bool) -> tuple[list[Any], str]:
    """Return the whole objects at the beginning of a text, and what is left of it."""
    found: list[Any] = []
    place = 0
    while place < len(held):
        sign = held[place]
        if sign == "{" or (sign == "[" and _is_row(held, place)):
            try:
                item, end = decoder.raw_decode(held, place)
            except RecursionError:
                raise UnreadableFile("This JSON is nested too deeply to be a log of readings.") from None
            except json.JSONDecodeError as error:
                if _has_list(held, place):
                    place += 1
                    continue
                if last or len(held) - place > 1 << 22:
                    raise UnreadableFile(
                        f"This JSON breaks off or is wrong near “{held[place : place + 40].strip()}” ({error.msg})."
                    ) from None
                return found, held[place:]
            except ValueError:
                raise UnreadableFile("This JSON has a number with thousands of digits: this is no log of readings.") from None
            found += expanded(item)
            place = end
        elif sign == '"':
            end = held.find('"', place + 1)
            if end < 0:
                return found, "" if last else held[place:]
            place = end + 1
        else:
            place += 1
    return found, ""


def _is_row(text: str, place: int) -> bool:
    """Return whether a bracket opens a row of plain values."""
    after = text[place + 1 : place + 60].lstrip()
    return bool(after) and after[0] not in "[{]"


def _has_list(text: str, place: int) -> bool:
    """Return whether an object that does not end yet holds a list: then its members are what is looked for."""
    return text[place] == "{" and "[" in text[place : place + (1 << 16)] and len(text) - place >= 1 << 16
