"""A look at a meter's file before it is read: how it seems to be laid out, in words, with its first rows and what to ask."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.importers.choosing import Question, choose
from energy.importers.decoding import encoding_of, lines
from energy.importers.guessing import Guess, guess
from energy.importers.names import unit_in
from energy.importers.series import Account, read_series
from energy.importers.shape import (
    DATE,
    DEVICE,
    IGNORE,
    INTERVAL,
    POWER,
    ROLE_WORDS,
    TIME,
    TOTAL,
    VALUE,
    LogShape,
    UnreadableFile,
)  # fmt: skip
from energy.importers.tables import delimiter_of, first_rows, looks_json

HEAD_BYTES = 1 << 18
"""So much of a file's beginning is looked at."""

PREVIEW_ROWS = 20
_MOST_CELL = 60
_MOST_ROWS = 4000
_MARKS = {" ": "spaces", ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}


@dataclass(frozen=True)
class Look:
    """What a look at a file's beginning tells.

    ``preview`` holds up to 20 rows as they are written, below ``header``; ``roles`` is what each column is used for, in words.
    ``refusal`` says why it cannot be read; the shape is then as far as it was understood.
    """

    shape: LogShape
    words: tuple[str, ...] = ()
    header: tuple[str, ...] = ()
    preview: tuple[tuple[str, ...], ...] = ()
    roles: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    refusal: str = ""


def look_at(head: bytes, *, zone: str = "UTC", shape: LogShape | None = None, name: str = "") -> Look:
    """Return what a file's beginning tells.

    Parameters
    ----------
    head : bytes
        The beginning, ``HEAD_BYTES`` or the whole of a short file.
    zone : str
        The zone of times without one.
    shape : LogShape, optional
        How it is to be read, where that was said; else it is guessed.
    name : str
        What the file is called.

    Returns
    -------
    Look
        With ``refusal`` instead of an exception.
    """
    try:
        if shape is not None:
            shape.refuse_nonsense()
        rows, blank = _beginning(head)
    except UnreadableFile as refused:
        return Look(shape or LogShape(), refusal=str(refused))
    try:
        if shape is not None and shape.kind == "table":
            rows = _as_told(head, shape)
        made = guess(rows, blank) if shape is None else Guess(shape, tuple(rows[shape.header_row + 1 + shape.units_row :]))
    except UnreadableFile as refused:
        width = max((len(cells) for _, cells in rows[:20]), default=0)
        names = tuple(rows[0][1]) if rows else ()
        names = (*names, *(str(place + 1) for place in range(len(names), width)))
        plain = replace(blank, header=names, header_row=0)
        return Look(plain, (), names, _preview(rows[1:]), (ROLE_WORDS[IGNORE],) * len(names), refusal=str(refused))
    return _told(made, zone)


def _beginning(head: bytes) -> tuple[list[tuple[int, list[str]]], LogShape]:
    """Return the first rows of a file and what is known of it before anything is guessed."""
    if not head.strip():
        raise UnreadableFile("This file is empty. Choose another, or paste its text.")
    encoding = encoding_of(head)
    whole = list(lines([head], encoding))
    if len(head) >= HEAD_BYTES and len(whole) > 1:
        whole.pop()
    if looks_json("\n".join(whole[:50])):
        blank = LogShape(kind="json", encoding=encoding)
        return first_rows(whole, blank, _MOST_ROWS), blank
    told = [line for line in whole[:400] if line.strip()]
    if not told:
        raise UnreadableFile("This file is empty. Choose another, or paste its text.")
    blank = LogShape(encoding=encoding, delimiter=delimiter_of(told))
    rows = first_rows(whole, blank, _MOST_ROWS)
    return rows, blank


def _as_told(head: bytes, shape: LogShape) -> list[tuple[int, list[str]]]:
    """Return the first rows of a table, taken apart as its shape says."""
    whole = list(lines([head], shape.encoding))
    if len(head) >= HEAD_BYTES and len(whole) > 1:
        whole.pop()
    return first_rows(whole, shape, _MOST_ROWS)


def _told(made: Guess, zone: str) -> Look:
    """Return a guess in words, held against the first rows."""
    shape = made.shape
    questions: list[Question] = []
    if "day_first" in made.unsure:
        questions.append(
            Question(
                "day_first",
                "Days such as 3/4 can be read in two ways.",
                (("yes", "the day comes first"), ("no", "the month comes first")),
            )
        )
    refusal = ""
    try:
        found = read_series(iter(made.data), shape, zone, Account())
        chosen = choose(found, shape)
        if chosen.question is not None:
            questions.append(chosen.question)
    except UnreadableFile as refused:
        refusal = str(refused)
    header = shape.header or tuple(str(place + 1) for place in range(max((len(cells) for _, cells in made.data[:20]), default=0)))
    roles = {column.index: column for column in shape.columns}
    shown = tuple(
        _role_words(roles[place].role, roles[place].unit) if place in roles else ROLE_WORDS[IGNORE]
        for place in range(len(header))
    )
    return Look(shape, tuple(_words(shape)), header, _preview(made.data), shown, tuple(questions), refusal)


def _role_words(role: str, unit: str) -> str:
    return f"{ROLE_WORDS[role]}, {unit}" if unit and unit != "%" else ROLE_WORDS[role]


def _preview(data: Sequence[tuple[int, Sequence[str]]]) -> tuple[tuple[str, ...], ...]:
    return tuple(
        tuple(cell if len(cell) <= _MOST_CELL else cell[:_MOST_CELL] + "…" for cell in cells) for _, cells in data[:PREVIEW_ROWS]
    )


def _words(shape: LogShape) -> list[str]:
    """Return how a file is read, a sentence each."""
    said = []
    if shape.kind == "json":
        said.append("A list of readings in JSON.")
    else:
        comma = " with a decimal comma" if shape.decimal == "," else ""
        said.append(f"A table with columns parted by {_MARKS.get(shape.delimiter, f'“{shape.delimiter}”')}{comma}.")
    if shape.header_row > 0:
        above = "row is" if shape.header_row == 1 else f"{shape.header_row} rows are"
        said.append(f"The first {above} passed over: the names of the columns stand below.")
    if shape.layout == "wide":
        said.append(f"A row a day, with {shape.slots} values from the {_ordinal(shape.first_slot + 1)} column on.")
    for column in shape.columns:
        if column.role in (POWER, INTERVAL, TOTAL, VALUE):
            name = shape.header[column.index] if column.index < len(shape.header) else ""
            words = _role_words(column.role, column.unit)
            said.append(f"{words[:1].upper()}{words[1:]}: “{name or column.index + 1}”.")
    said.append(_time_words(shape))
    if any(column.role == INTERVAL for column in shape.columns):
        said.append(f"Each value is the energy of the interval that {'ends' if shape.at_end else 'begins'} at its time.")
    if shape.means:
        said.append(f"Each value is the mean of the interval that {'ends' if shape.at_end else 'begins'} at its time.")
    if shape.device:
        said.append(f"Only the rows of “{shape.device}” are read.")
    elif shape.places(DEVICE):
        said.append("Rows of several devices or sensors stand below each other.")
    if not shape.elapsed and shape.zone:
        said.append(f"Times without a zone are those of {shape.zone}.")
    unused = [name for name in shape.header if unit_in(name) == "VA"]
    if unused:
        said.append("Apparent power (VA) is left aside: the counter charges for watts.")
    return said


def _time_words(shape: LogShape) -> str:
    if shape.layout == "records":
        return "Each row that begins with 300 is a day; the row that begins with 200 above says what it counts."
    if shape.layout == "across":
        return "A row a sensor or a time of day, and a column a moment or a day."
    if numbered := re.fullmatch(r"(\d+) min from ([01])", shape.elapsed):
        return f"Intervals of {numbered[1]} minutes are numbered in their day, from {numbered[2]} on."
    if shape.elapsed == "day number":
        return "The time is a spreadsheet’s day number."
    if shape.elapsed:
        return f"Time counts from the start, in {shape.elapsed}."
    day = " and the day from another column" if shape.places(DATE) and shape.places(TIME) else ""
    rows = " and the day from rows of its own" if shape.day_rows else ""
    order = "" if shape.day_first else "; the month comes first"
    return f"The time stands in its own column{day}{rows}{order}."


def _ordinal(number: int) -> str:
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10 if number not in (11, 12, 13) else 0, "th")
    return f"{number}{ending}"
