"""A look at a meter's file before it is read: how it seems to be laid out, in words, with its first rows and what to ask."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice

from energy.meters.files.beginning import HEAD_BYTES, MOST_SECTIONS, NAMED_WITHIN
from energy.meters.files.columns.names import unit_in
from energy.meters.files.columns.shape import (
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
from energy.meters.files.series.choice import DAY_ORDER, YEAR, Question, choose, goes_out
from energy.meters.files.series.series import Account, read_series
from energy.meters.files.shapes.registry import guess
from energy.meters.files.tables.decoding import encoding_of, lines
from energy.meters.files.tables.pair_rows import looks_pairs, pair_rows
from energy.meters.files.tables.sections import names_again, rows_of_shape
from energy.meters.files.tables.table import Guess, table_of
from energy.meters.files.tables.text_rows import delimiter_of, first_rows, looks_json
from energy.meters.files.tables.xml_rows import looks_intervals, xml_rows

PREVIEW_ROWS = 20
_MOST_CELL = 60
_MOST_ROWS = 4000
_SECTION_ROWS = 400
_KINDS = {
    "json": "A list of readings in JSON.",
    "xml": "Intervals of energy in XML, as utilities hand them out.",
    "pairs": "A line a moment, with names and values joined by “=”.",
}
_MARKS = {" ": "spaces", ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}


@dataclass(frozen=True)
class Look:
    """What a look at a file's beginning tells.

    ``preview`` holds up to 20 rows as they are written, below ``header``; ``roles`` is what each column is used for, in words.
    ``refusal`` says why it cannot be read; the shape is then as far as it was understood. ``header_line`` is the line that
    names the columns, 0 where none does.
    """

    shape: LogShape
    words: tuple[str, ...] = ()
    header: tuple[str, ...] = ()
    preview: tuple[tuple[str, ...], ...] = ()
    roles: tuple[str, ...] = ()
    questions: tuple[Question, ...] = ()
    refusal: str = ""
    header_line: int = 0


def look_at(head: bytes, *, zone: str = "UTC", shape: LogShape | None = None, header_line: int | None = None) -> Look:
    """Return what a file's beginning tells.

    Parameters
    ----------
    head : bytes
        What ``beginning_of`` returns, or the whole of a short file.
    zone : str
        The zone of times without one.
    shape : LogShape, optional
        How it is to be read, where that was said; else it is guessed.
    header_line : int, optional
        The line that names the columns, 0 where none does; it is looked for where that is not said.

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
        if shape is None:
            table = table_of(rows, blank, header_line)
            made = guess(table)
        else:
            made = Guess(shape, rows_of_shape(rows, shape))
    except UnreadableFile as refused:
        return _refused(rows, blank if shape is None else shape, header_line, str(refused))
    look = replace(_look_of_guess(made, zone), header_line=_line_of(rows, made.shape))
    return look if len(head) < HEAD_BYTES else replace(look, questions=tuple(_of_beginning(one) for one in look.questions))


def _of_beginning(question: Question) -> Question:
    """Return a question that says whose energies stand in its choices, where only a part of the file was looked at."""
    told = any(words.endswith(" Wh)") for _, words in question.choices)
    return replace(question, words=f"{question.words} The energies are those of its first rows.") if told else question


def _refused(rows: list[tuple[int, list[str]]], shape: LogShape, header_line: int | None, refusal: str) -> Look:
    """Return a look at a file that cannot be read as it is: its rows and names as far as they were understood."""
    try:
        known = table_of(rows, shape, header_line).shape if rows and not shape.columns else shape
    except UnreadableFile:
        known = replace(shape, header_row=-1, header=())
    data = rows[known.header_row + 1 + known.units_row :]
    names = _names_of(known, data)
    unused = (ROLE_WORDS[IGNORE],) * len(names)
    return Look(known, (), names, _preview(data), unused, refusal=refusal, header_line=_line_of(rows, known))


def _line_of(rows: Sequence[tuple[int, Sequence[str]]], shape: LogShape) -> int:
    """Return the line of the file that names the columns, 0 where none does."""
    return rows[shape.header_row][0] if 0 <= shape.header_row < len(rows) else 0


def _names_of(shape: LogShape, data: Sequence[tuple[int, Sequence[str]]]) -> tuple[str, ...]:
    """Return the names of the columns; numbers from 1 where no row names them."""
    return shape.header or tuple(str(place + 1) for place in range(max((len(cells) for _, cells in data[:20]), default=0)))


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
    if looks_intervals("\n".join(whole[:400])):
        complete = len(head) < HEAD_BYTES
        return list(islice(xml_rows(whole, whole=complete), _MOST_ROWS)), LogShape(kind="xml", encoding=encoding)
    told = [line for line in whole[:400] if line.strip()]
    if looks_pairs(told):
        return list(islice(pair_rows(whole), _MOST_ROWS)), LogShape(kind="pairs", encoding=encoding)
    if not told:
        raise UnreadableFile("This file is empty. Choose another, or paste its text.")
    blank = LogShape(encoding=encoding, delimiter=delimiter_of(told))
    return _rows_with_sections(whole, blank), blank


def _as_told(head: bytes, shape: LogShape) -> list[tuple[int, list[str]]]:
    """Return the first rows of a table, taken apart as its shape says."""
    whole = list(lines([head], shape.encoding))
    if len(head) >= HEAD_BYTES and len(whole) > 1:
        whole.pop()
    return _rows_with_sections(whole, shape)


def _rows_with_sections(whole: list[str], shape: LogShape) -> list[tuple[int, list[str]]]:
    """Return the first rows of a file, and those at each place further down where its columns are named again."""
    rows = first_rows(whole, shape, _MOST_ROWS)
    names = next((number for number, cells in rows[:NAMED_WITHIN] if names_again(cells)), 0)
    if len(rows) < _MOST_ROWS or not names:
        return rows
    begins, seen = whole[names - 1].partition(shape.delimiter)[0], rows[-1][0]
    again = [place for place in range(seen, len(whole)) if whole[place].startswith(begins)]
    for place in again[:MOST_SECTIONS] if begins.strip() else ():
        part = first_rows(whole[place - 1 : place + _SECTION_ROWS], shape, _SECTION_ROWS)
        if any(names_again(cells) for _, cells in part[:2]):
            rows += [(place - 1 + number, cells) for number, cells in part]
    return rows


def _look_of_guess(made: Guess, zone: str) -> Look:
    """Return a guess in words, held against the first rows."""
    shape = made.shape
    questions: list[Question] = []
    if "day_first" in made.unsure:
        shape = replace(shape, day_first=None)
    if shape.day_first is None:
        questions.append(DAY_ORDER)
    if shape.year is None:
        questions.append(YEAR)
    refusal = ""
    try:
        found = read_series(iter(made.data), shape, zone, Account())
        chosen = choose(found, shape)
        if chosen.question is not None:
            questions.append(chosen.question)
    except UnreadableFile as refused:
        refusal = str(refused)
    header = _names_of(shape, made.data)
    roles = {column.index: column for column in shape.columns}
    shown = tuple(
        _role_words(roles[place].role, roles[place].unit) if place in roles else ROLE_WORDS[IGNORE]
        for place in range(len(header))
    )
    return Look(shape, tuple(_shape_sentences(shape)), header, _preview(made.data), shown, tuple(questions), refusal)


def _role_words(role: str, unit: str) -> str:
    return f"{ROLE_WORDS[role]}, {unit}" if unit and unit != "%" else ROLE_WORDS[role]


def _preview(data: Sequence[tuple[int, Sequence[str]]]) -> tuple[tuple[str, ...], ...]:
    return tuple(
        tuple(cell if len(cell) <= _MOST_CELL else cell[:_MOST_CELL] + "…" for cell in cells) for _, cells in data[:PREVIEW_ROWS]
    )


def _shape_sentences(shape: LogShape) -> list[str]:
    """Return how a file is read, a sentence each."""
    return [*_table_words(shape), *_column_words(shape), _time_words(shape), *_value_words(shape), *_rows_left_out(shape)]


def _table_words(shape: LogShape) -> Iterator[str]:
    if shape.kind in _KINDS:
        yield _KINDS[shape.kind]
    else:
        comma = " with a decimal comma" if shape.decimal == "," else ""
        yield f"A table with columns parted by {_MARKS.get(shape.delimiter, f'“{shape.delimiter}”')}{comma}."
    if shape.header_row > 0:
        above = "row is" if shape.header_row == 1 else f"{shape.header_row} rows are"
        yield f"The first {above} passed over: the names of the columns stand below."
    if shape.layout == "wide":
        yield f"A row a day, with {shape.slots} values from the {_ordinal(shape.first_slot + 1)} column on."


def _column_words(shape: LogShape) -> Iterator[str]:
    for column in shape.columns:
        if column.role in (POWER, INTERVAL, TOTAL, VALUE):
            name = shape.header[column.index] if column.index < len(shape.header) else ""
            words = _role_words(column.role, column.unit)
            yield f"{words[:1].upper()}{words[1:]}: “{name or column.index + 1}”."


def _value_words(shape: LogShape) -> Iterator[str]:
    """Yield what a value of an interval stands for."""
    edge = "ends" if shape.at_end else "begins"
    if any(column.role == INTERVAL for column in shape.columns):
        yield f"Each value is the energy of the interval that {edge} at its time."
    if shape.means:
        yield f"Each value is the mean of the interval that {edge} at its time."


def _rows_left_out(shape: LogShape) -> Iterator[str]:
    """Yield whose rows are read, in which zone, and which columns are left aside."""
    if shape.device:
        yield f"Only the rows of “{shape.device}” are read."
    elif shape.places(DEVICE):
        yield "Rows of several devices or sensors stand below each other."
    if not shape.elapsed and shape.zone:
        yield f"Times without a zone are those of {shape.zone}."
    used = {column.index for column in shape.columns}
    for place, name in enumerate(shape.header):
        if place not in used and goes_out(name):
            yield f"“{name}” is sent out, not used: left aside."
    if any(unit_in(name) == "VA" for name in shape.header):
        yield "Apparent power (VA) is left aside: the counter charges for watts."


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
    order = "; the month comes first" if shape.day_first is False else ""
    return f"The time stands in its own column{day}{rows}{order}."


def _ordinal(number: int) -> str:
    ending = {1: "st", 2: "nd", 3: "rd"}.get(number % 10 if number not in (11, 12, 13) else 0, "th")
    return f"{number}{ending}"
