"""Meters' files that lie in the data folder: a look at their beginning, and all of their readings. No table is asked."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import Any

from django.utils import timezone

from energy.meters.files.any_log import open_file, taken_from, with_header_line
from energy.meters.files.beginning import beginning_of
from energy.meters.files.columns.shape import IGNORE, ROLE_WORDS, UNITS, ColumnRole, LogShape, UnreadableFile
from energy.meters.files.looking import Look, look_at
from energy.meters.files.reading import BytesRead, MeterLog, NeedsAnswer, part_between
from energy.meters.files.series.choice import TOGETHER
from energy.meters.files.thinning import thinned
from energy.models import FileShape
from energy.words import ENGLISH, sentence, words_of

ShareRead = Callable[[float], None]
Instants = tuple[datetime, datetime]


@dataclass(frozen=True)
class ReadFile:
    """A file as it was read; ``refusal`` says why it was not, or what must be told first."""

    shape: LogShape
    log: MeterLog | None = None
    words: tuple[str, ...] = ()
    refusal: str = ""


@dataclass(frozen=True)
class ColumnChoice:
    """One column of the preview: its name, what it is used for, and what it may be used for as (value, words)."""

    index: int
    name: str
    chosen: str
    used: bool
    choices: tuple[tuple[str, str], ...]


def head_of(path: Path) -> bytes:
    """Return what of a file is looked at."""
    with path.open("rb") as file:
        return beginning_of(file)


def look_of(head: bytes, shape: Mapping[str, Any] | None) -> Look:
    """Return a look at a file's beginning, by a shape that was chosen or by the kept one whose header is the same. One query."""
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
    look, whole = read_through(path, look_of(head_of(path), shape), progress)
    if whole is None:
        return ReadFile(look.shape, refusal=look.refusal or look.questions[0].words)
    log = thinned(_near(whole, near))
    summary = sentence(ENGLISH, "rows_read", rows=whole.rows, span_s=whole.span_s, total_wh=whole.total_wh)
    return ReadFile(look.shape, log, (summary, *taken_from(look, log)))


def read_through(path: Path, look: Look, progress: ShareRead | None = None) -> tuple[Look, MeterLog | None]:
    """Return a look with the question or the refusal that reading the whole file brings, and what it says if it brings none."""
    told = None if progress is None else partial(_share, progress, max(path.stat().st_size, 1))
    with path.open("rb") as file:
        return looked_through(look, file, told)


def looked_through(look: Look, stream: Iterable[bytes], progress: BytesRead | None = None) -> tuple[Look, MeterLog | None]:
    """Return a look with the question or the refusal that reading the whole file brings, and what it says if it brings none."""
    try:
        return look, open_file(b"", stream, zone=timezone.get_current_timezone_name(), progress=progress, look=look)[1]
    except NeedsAnswer as asked:
        others = [one for one in look.questions if one.key != asked.question.key]
        return replace(look, questions=(asked.question, *others)), None
    except UnreadableFile as refused:
        return replace(look, refusal=str(refused)), None


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


def told(head: bytes, look: Look, said: Mapping[str, str]) -> LogShape:
    """Return how a file is to be read by what a form says: another line of names, else what was pointed at and answered.

    Raises
    ------
    UnreadableFile
        For what is no use of a column, no decimal sign, no zone and no line.
    """
    line = said.get("header_line", "").strip()
    if line == str(look.header_line) or "header_line" not in said:
        return corrected(look, said)
    if not line.isdecimal() or len(line) > 4:
        raise UnreadableFile(sentence(ENGLISH, "which_line", said=line[:20]))
    return with_header_line(head, int(line), look.shape, timezone.get_current_timezone_name())


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
"""A file of up to this size is read whole while it is looked at, a longer one when that is asked."""


def taken_words(log: MeterLog) -> tuple[str, ...]:
    """Return the first and the last value that are taken of a log, the energy, and what is in doubt."""
    return (*log.taken, *log.notes, *(words_of(doubt, ENGLISH) for doubt in log.doubts))


def _only(shape: LogShape, role: str, name: str) -> LogShape:
    """Return the shape in which of all columns of one role only that of one name is used, or all of them together."""
    if name == TOGETHER:
        return replace(shape, together=(*shape.together, role))
    for column in shape.places(role):
        if column.index < len(shape.header) and shape.header[column.index] != name:
            shape = shape.with_role(column.index, IGNORE)
    return shape
