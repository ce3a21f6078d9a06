"""Meters' files that lie in the data folder: a look at their beginning, and all of their readings. No table is asked."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from django.conf import settings

from energy.domain.logged import Logged
from energy.domain.words import format_minutes, format_wh
from energy.importers.choosing import Question
from energy.importers.looking import HEAD_BYTES, Look, look_at
from energy.importers.reading import NeedsAnswer, ReadLog, part_between, read_log
from energy.importers.shape import IGNORE, ROLE_WORDS, UNITS, ColumnRole, LogShape, UnreadableFile
from energy.importers.thinning import thinned
from energy.models import FileShape

Progress = Callable[[float], None]
Instants = tuple[datetime, datetime]


@dataclass(frozen=True)
class ReadFile:
    """A file as it was read; ``refusal`` says why it was not, ``question`` what must be told first."""

    shape: LogShape
    logged: Logged | None = None
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
        return _told(head, shape)
    guessed = look_at(head, zone=settings.TIME_ZONE)
    kept = kept_for(guessed.shape)
    return guessed if kept is None else _told(head, kept.shape)


def kept_for(shape: LogShape) -> FileShape | None:
    """Return the kept way of reading that was made for just this header. One query."""
    if not any(shape.header):
        return None
    header = list(shape.header)
    return next((one for one in FileShape.objects.all() if one.shape.get("header") == header), None)


def _told(head: bytes, shape: Mapping[str, Any]) -> Look:
    try:
        return look_at(head, zone=settings.TIME_ZONE, shape=LogShape.from_dict(dict(shape)))
    except UnreadableFile as refused:
        return replace(look_at(head, zone=settings.TIME_ZONE), refusal=str(refused))


def read(
    path: Path,
    shape: Mapping[str, Any] | None,
    *,
    near: tuple[datetime, datetime] | None = None,
    progress: Progress | None = None,
) -> ReadFile:
    """Return the readings of a file with what is told of them, or why it cannot be read.

    ``near``: where some lie between these instants only those are kept; the words still tell of the whole file.
    """
    look = look_of(path, shape)
    if look.refusal:
        return ReadFile(look.shape, refusal=look.refusal)
    size = max(path.stat().st_size, 1)
    told = None if progress is None else partial(_share, progress, size)
    try:
        with path.open("rb") as file:
            whole = read_log(file, look.shape, zone=settings.TIME_ZONE, progress=told)
    except NeedsAnswer as asked:
        return ReadFile(look.shape, question=asked.question, refusal=str(asked))
    except UnreadableFile as refused:
        return ReadFile(look.shape, refusal=str(refused))
    log = thinned(_near(whole, near))
    logged = Logged(log.times_s, log.energy_wh, log.power_w, log.charge_pct, log.start, log.held)
    summary = f"{whole.rows:,} rows over {format_minutes(whole.span_s)}, {format_wh(whole.total_wh)} in all."
    return ReadFile(look.shape, logged, (summary, *look.words, *log.notes))


def _near(whole: ReadLog, near: Instants | None) -> ReadLog:
    """Return the part of a log between two instants; the whole where nothing, or too little, lies there."""
    if near is None or whole.start is None:
        return whole
    try:
        part = part_between(whole, *near)
    except UnreadableFile:
        return whole
    far = len(whole.times_s) - len(part.times_s)
    if len(part.times_s) < 2 or not far:
        return whole
    return replace(part, notes=(*part.notes, f"{far:,} readings lie too far from this cook and are left aside."))


def _share(progress: Progress, size: int, done: int) -> None:
    progress(done / size)


def columns_of(look: Look) -> list[ColumnChoice]:
    """Return the columns of a preview with everything that each may be used for."""
    roles = {column.index: column for column in look.shape.columns}
    width = max([len(look.header), *(len(row) for row in look.preview)], default=0)
    return [_column(place, look.header, roles.get(place)) for place in range(min(width, 60))]


def _column(place: int, header: tuple[str, ...], role: ColumnRole | None) -> ColumnChoice:
    name = header[place] if place < len(header) and header[place].strip() else f"column {place + 1}"
    chosen = IGNORE if role is None else f"{role.role}:{role.unit}"
    choices = _choices()
    known = chosen in dict(choices)
    offered = choices if known else ((chosen, chosen.replace(":", ", ")), *choices)
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
    shape = look.shape
    for column in columns_of(look):
        wanted = said.get(f"column{column.index}", column.chosen)
        if wanted != column.chosen:
            role, _, unit = wanted.partition(":")
            shape = shape.with_role(column.index, role, unit)
    if "day_first" in said:
        shape = replace(shape, day_first=said["day_first"] != "no")
    if "decimal" in said:
        shape = replace(shape, decimal=said["decimal"])
    if "at_end" in said:
        shape = replace(shape, at_end=said["at_end"] == "yes")
    if said.get("device"):
        shape = replace(shape, device=said["device"])
    for key, wanted in said.items():
        if key.startswith("column:") and wanted:
            shape = _only(shape, key.partition(":")[2], wanted)
    shape.refuse_nonsense()
    return shape


def _only(shape: LogShape, role: str, name: str) -> LogShape:
    """Return the shape in which of all columns of one role only that of one name is used."""
    for column in shape.places(role):
        if column.index < len(shape.header) and shape.header[column.index] != name:
            shape = shape.with_role(column.index, IGNORE)
    return shape
