"""Meters' files that lie in the data folder: a look at their beginning, and all of their readings. No table is asked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from django.utils import timezone

from energy.meters.files.any_log import open_file, taken_from, with_header_line
from energy.meters.files.columns.shape import IGNORE, ROLE_WORDS, UNITS, ColumnRole, LogShape, UnreadableFile
from energy.meters.files.looking import HEAD_BYTES, Look, look_at
from energy.meters.files.reading import MeterLog, NeedsAnswer, part_between
from energy.meters.files.series.choice import TOGETHER, Question
from energy.meters.files.thinning import thinned
from energy.models import FileShape
from energy.words import ENGLISH, sentence, words_of

ShareRead = Callable[[float], None]
Instants = tuple[datetime, datetime]


@dataclass(frozen=True)
class ReadFile:
    """A file as it was read; ``refusal`` says why it was not, ``question`` what must be told first."""

    shape: LogShape
    log: MeterLog | None = None
    words: tuple[str, ...] = ()
    refusal: str = ""
    question: Question | None = None


@dataclass(frozen=True)
class ColumnChoice:
    """One column of the preview: its name, what it is used for, and what it may be used for as (value, words)."""

    index: int
    name: str
    chosen: str
    used: bool
    choices: tuple[tuple[str, str], ...]


def look_of(path: Path, shape: Mapping[str, Any] | None) -> Look:
    """Return a look at a file's beginning, by a shape that was chosen or by the kept one whose header is the same. One query."""
    with path.open("rb") as file:
        head = file.read(HEAD_BYTES)
    if shape is not None:
        return _look_by_shape(head, shape)
    guessed = look_at(head, zone=timezone.get_current_timezone_name())
    kept = kept_for(guessed.shape)
    return guessed if kept is None else _look_by_shape(head, kept.shape)


def kept_for(shape: LogShape) -> FileShape | None:
    """Return the kept way of reading that was made for just this header. One query."""
    if not any(shape.header):
        return None
    header = list(shape.header)
    return next((one for one in FileShape.objects.all() if one.shape.get("header") == header), None)


def _look_by_shape(head: bytes, shape: Mapping[str, Any]) -> Look:
    try:
        return look_at(head, zone=timezone.get_current_timezone_name(), shape=LogShape.from_dict(dict(shape)))
    except UnreadableFile as refused:
        return replace(look_at(head, zone=timezone.get_current_timezone_name()), refusal=str(refused))


def read(
    path: Path,
    shape: Mapping[str, Any] | None,
    *,
    near: tuple[datetime, datetime] | None = None,
    progress: ShareRead | None = None,
) -> ReadFile:
    """Return the readings of a file with what is told of them, or why it cannot be read.

    ``near``: where some lie between these instants only those are kept; the words still tell of the whole file.
    """
    look = look_of(path, shape)
    size = max(path.stat().st_size, 1)
    told = None if progress is None else partial(_share, progress, size)
    try:
        with path.open("rb") as file:
            _, whole = open_file(b"", file, zone=timezone.get_current_timezone_name(), progress=told, look=look)
    except NeedsAnswer as asked:
        return ReadFile(look.shape, question=asked.question, refusal=str(asked))
    except UnreadableFile as refused:
        return ReadFile(look.shape, refusal=str(refused))
    log = thinned(_near(whole, near))
    summary = sentence(ENGLISH, "rows_read", rows=whole.rows, span_s=whole.span_s, total_wh=whole.total_wh)
    return ReadFile(look.shape, log, (summary, *taken_from(look, log)))


def _near(whole: MeterLog, near: Instants | None) -> MeterLog:
    """Return the part of a log between two instants; the whole where nothing, or too little, lies there."""
    if near is None or whole.start is None:
        return whole
    try:
        part = part_between(whole, *near)
    except UnreadableFile:
        return whole
    far = whole.count - part.count
    if part.count < 2 or not far:
        return whole
    return replace(part, notes=(*part.notes, sentence(ENGLISH, "too_far", readings=far)))


def _share(progress: ShareRead, size: int, done: int) -> None:
    progress(done / size)


def columns_of(look: Look) -> list[ColumnChoice]:
    """Return the columns of a preview with everything that each may be used for."""
    roles = {column.index: column for column in look.shape.columns}
    width = max([len(look.header), *(len(row) for row in look.preview)], default=0)
    return [_column(place, look.header, roles.get(place)) for place in range(min(width, 60))]


def _column(place: int, header: tuple[str, ...], role: ColumnRole | None) -> ColumnChoice:
    name = header[place] if place < len(header) and header[place].strip() else sentence(ENGLISH, "column", number=place + 1)
    chosen = IGNORE if role is None else f"{role.role}:{role.unit}"
    choices = _choices()
    known = chosen in dict(choices)
    offered = choices if known else ((chosen, chosen.replace(":", ", ").rstrip(", ")), *choices)
    return ColumnChoice(place, name, chosen, role is not None, offered)


def _choices() -> tuple[tuple[str, str], ...]:
    """Return what a column may be used for: the role with each of its units."""
    found = [(IGNORE, ROLE_WORDS[IGNORE]), ("time:", ROLE_WORDS["time"]), ("date:", ROLE_WORDS["date"])]
    for role, words in ROLE_WORDS.items():
        if role in ("power", "energy_interval", "energy_total"):
            found += [(f"{role}:{unit}", f"{words}, {unit}") for unit in UNITS[role] if unit != "as written"]
    found += [("charge:%", ROLE_WORDS["charge"]), ("device:", ROLE_WORDS["device"]), ("value:", ROLE_WORDS["value"])]
    return (*found, ("unit:", ROLE_WORDS["unit"]), ("end:", ROLE_WORDS["end"]))


def corrected(look: Look, said: Mapping[str, str]) -> LogShape:
    """Return a look's shape with what a cook pointed at: ``column3=power:W``, answers and marks of the file.

    Raises
    ------
    UnreadableFile
        For what is no use of a column, no decimal sign and no zone.
    """
    shape, pointed = look.shape, list[str]()
    for column in columns_of(look):
        wanted = said.get(f"column{column.index}", column.chosen)
        if wanted != column.chosen:
            role, _, unit = wanted.partition(":")
            shape = shape.with_role(column.index, role, unit)
            pointed += [role] if role != column.chosen.partition(":")[0] else []
    shape = _answered(shape.with_sums(pointed), said)
    for key, wanted in said.items():
        if key.startswith("column:") and wanted:
            shape = _only(shape, key.partition(":")[2], wanted)
    shape.refuse_nonsense()
    return shape


def _answered(shape: LogShape, said: Mapping[str, str]) -> LogShape:
    """Return a shape with the answers and marks that were chosen."""
    if said.get("year", "").strip().isdecimal():
        shape = replace(shape, year=int(said["year"]))
    if said.get("day_first"):
        shape = replace(shape, day_first=said["day_first"] != "no")
    if "decimal" in said:
        shape = replace(shape, decimal=said["decimal"])
    if "at_end" in said:
        shape = replace(shape, at_end=said["at_end"] == "yes")
    if "held" in said:
        shape = replace(shape, held={"yes": True, "no": False}.get(said["held"]))
    if said.get("device"):
        shape = replace(shape, device=said["device"])
    return shape


MOST_LOOKED_BYTES = 16_000_000
"""A file of up to this size is read whole while it is looked at."""


def taken_words(path: Path, look: Look) -> tuple[str, ...]:
    """Return the first and the last value that will be taken and the energy, and what is in doubt; nothing where it is long."""
    if look.refusal or path.stat().st_size > MOST_LOOKED_BYTES:
        return ()
    try:
        with path.open("rb") as file:
            _, log = open_file(b"", file, zone=timezone.get_current_timezone_name(), look=look)
    except UnreadableFile as refused:
        return (str(refused),)
    return (*log.taken, *log.notes, *(words_of(doubt, ENGLISH) for doubt in log.doubts))


def shape_with_header(path: Path, look: Look, said: str) -> LogShape:
    """Return how a file is read where a line that was told names its columns: its number from 1, 0 for none."""
    if not said.isdecimal() or len(said) > 4:
        raise UnreadableFile(sentence(ENGLISH, "which_line", said=said[:20]))
    with path.open("rb") as file:
        return with_header_line(file.read(HEAD_BYTES), int(said), look.shape, timezone.get_current_timezone_name())


def _only(shape: LogShape, role: str, name: str) -> LogShape:
    """Return the shape in which of all columns of one role only that of one name is used, or all of them together."""
    if name == TOGETHER:
        return replace(shape, together=(*shape.together, role))
    for column in shape.places(role):
        if column.index < len(shape.header) and shape.header[column.index] != name:
            shape = shape.with_role(column.index, IGNORE)
    return shape
