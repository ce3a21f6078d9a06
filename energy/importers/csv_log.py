"""A log as comma-, semicolon- or tab-separated text.

The first row names the columns: ``time`` (an instant such as 2026-10-14T19:05:00+02:00, or h:mm:ss) or ``seconds`` or
``minutes``; at least one of ``watts``, ``wh`` or ``kwh`` (the counter as displayed) and ``charge_pct``; optionally ``stage`` (a
kind of stage, and after a colon its own label). Other columns are passed over. Decimals may have a point or a comma. Empty cells
and lines that begin with ``#`` are passed over.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from energy.domain.plausibility import backward_rows
from energy.domain.samples import Sample, StageSpan
from energy.importers.columns import UnreadableLog, find_columns
from energy.importers.names import named
from energy.importers.shape import DEVICE, UNIT
from energy.importers.values import BadCell, read_moment, read_number
from kitchen.domain.stages import STAGE_KINDS

MOST_CHARACTERS = 4_000_000
MOST_ROWS = 50_000
MOST_CELL = 80
LONGEST_S = 14 * 24 * 3600.0

_ASIDES = ("#", "sep=")
"""How a comment begins, and a spreadsheet's hint about its separator."""

_LARGEST = {"power_w": 100_000.0, "energy_wh": 1e8, "charge_pct": 100.0, "seconds": LONGEST_S}


@dataclass(frozen=True)
class ReadLog:
    """What a log says: samples in the order of time, the stages it names, the first instant if it has one, and remarks.

    ``start`` is what ``at_s`` 0 stands for; it has a time zone only when the log gives one.
    """

    samples: tuple[Sample, ...]
    stages: tuple[StageSpan, ...]
    start: datetime | None
    notes: tuple[str, ...]


@dataclass(frozen=True)
class _Row:
    number: int
    moment: datetime | timedelta
    figures: dict[str, float]
    stage: tuple[str, str] | None


def read_log(text: str) -> ReadLog:
    """Return what a log says.

    Parameters
    ----------
    text : str
        The whole log.

    Returns
    -------
    ReadLog

    Raises
    ------
    UnreadableLog
        With a sentence that names the row, the column and the value, and says what to do; nothing is half read.

    Examples
    --------
    >>> log = read_log("minutes;wh;stage\\n0;0;brown\\n10;105,5;come up\\n21;213;")
    >>> [(sample.at_s, sample.energy_wh) for sample in log.samples]
    [(0.0, 0.0), (600.0, 105.5), (1260.0, 213.0)]
    >>> [(stage.kind, stage.start_s, stage.end_s) for stage in log.stages]
    [('brown', 0.0, 600.0), ('come_up', 600.0, 1260.0)]
    """
    table = _table(text)
    _, header = next(table, (0, []))
    columns = find_columns(header)
    rows = _rows(table, columns, header)
    if not rows:
        raise UnreadableLog("The log has a first row but no readings below it. Choose another file, or add the readings.")
    start, seconds = _on_one_clock(rows, clock="time" in columns)
    order = sorted(range(len(rows)), key=lambda index: seconds[index])
    if seconds[order[-1]] - seconds[order[0]] > LONGEST_S:
        raise UnreadableLog("The log is longer than 14 days. Cut it to one cook, then try again.")
    backward = backward_rows(seconds, first_row=rows[0].number)
    return ReadLog(
        samples=tuple(Sample(seconds[index], **rows[index].figures) for index in order if rows[index].figures),
        stages=_stages([(seconds[index], rows[index].stage) for index in order]),
        start=start,
        notes=tuple(note for note in (backward,) if note),
    )


def is_plain(text: str) -> bool:
    """Return whether a log's first row names plain columns and no devices, or it is no text at all.

    Examples
    --------
    >>> is_plain("minutes;wh\\n0;0"), is_plain("Zeit;Leistung (W)\\n"), is_plain("")
    (True, False, True)
    """
    try:
        _, header = next(_table(text), (0, []))
        known = find_columns(header)
    except UnreadableLog as refused:
        return not str(refused).startswith("The columns found")
    return not any(named(title).role in (DEVICE, UNIT) for place, title in enumerate(header) if place not in known.values())


def _table(text: str) -> Iterator[tuple[int, list[str]]]:
    """Yield the number and the cells of each row that says something."""
    if len(text) > MOST_CHARACTERS:
        raise UnreadableLog("The log has more than 4 million characters. Cut it to one cook, then try again.")
    if "\0" in text:
        raise UnreadableLog("This is not a text file. Save the log as CSV, then try again.")
    text = text.removeprefix("\ufeff")
    first = next((line for line in text.splitlines() if _speaks(line)), "")
    if not first:
        raise UnreadableLog("The log is empty. Choose another file, or paste its text.")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(first))
    try:
        for cells in reader:
            if any(cell.strip() for cell in cells) and not cells[0].lstrip().startswith(_ASIDES):
                yield reader.line_num, cells
    except csv.Error as error:
        raise UnreadableLog(f"Row {reader.line_num} cannot be taken apart ({error}). Save the log as plain CSV again.") from error


def _speaks(line: str) -> bool:
    """Return whether a line is more than a blank or an aside."""
    return bool(line.strip()) and not line.lstrip().startswith(_ASIDES)


def _separator(first: str) -> str:
    """Return the separator that the first row has most of."""
    return max(("\t", ";", ","), key=first.count)


def _rows(table: Iterator[tuple[int, list[str]]], columns: dict[str, int], header: Sequence[str]) -> list[_Row]:
    rows: list[_Row] = []
    for number, cells in table:
        if len(rows) >= MOST_ROWS:
            raise UnreadableLog(f"The log has more than {MOST_ROWS:,} rows. Log less often, or cut it to one cook.")
        _refuse_surplus(number, cells, header)
        row = _row(number, cells, columns, header)
        if row.figures or row.stage:
            rows.append(row)
    return rows


def _refuse_surplus(number: int, cells: Sequence[str], header: Sequence[str]) -> None:
    if any(cell.strip() for cell in cells[len(header) :]):
        raise UnreadableLog(
            f"Row {number} has more cells than the first row has columns. Where decimals have a comma, separate the columns by "
            "semicolons or tabs."
        )


def _row(number: int, cells: list[str], columns: dict[str, int], header: Sequence[str]) -> _Row:
    figures: dict[str, float] = {}
    moment: datetime | timedelta | None = None
    stage = None
    for column, place in columns.items():
        cell = cells[place].strip() if place < len(cells) else ""
        try:
            if column in ("time", "seconds", "minutes"):
                moment = _moment(column, cell)
            elif column == "stage":
                stage = _stage(cell)
            elif cell:
                figures[column.replace("kwh", "wh")] = _figure(column, cell)
        except BadCell as error:
            shown = cell if len(cell) <= MOST_CELL else cell[:MOST_CELL] + "…"
            raise UnreadableLog(f"Row {number}, column “{header[place].strip()}”: “{shown}” {error}.") from error
    assert moment is not None
    return _Row(number, moment, figures, stage)


def _moment(column: str, cell: str) -> datetime | timedelta:
    if not cell:
        raise BadCell("leaves the time out. Fill it in, or delete the row")
    if column == "time":
        return read_moment(cell)
    seconds = read_number(cell) * (60 if column == "minutes" else 1)
    if not 0 <= seconds <= LONGEST_S:
        raise BadCell("lies before the start or more than 14 days after it. Correct it, or delete the row")
    return timedelta(seconds=seconds)


def _figure(column: str, cell: str) -> float:
    value = read_number(cell)
    if column == "energy_kwh":
        column, value = "energy_wh", round(value * 1000, 6)
    if value < 0:
        raise BadCell("is below zero. A cooker only draws: correct it, or leave the cell empty")
    if value > _LARGEST[column]:
        limit = "100 %" if column == "charge_pct" else f"{_LARGEST[column]:,.0f}"
        raise BadCell(f"is more than {limit}. Check the unit of the column, or leave the cell empty")
    return value


def _stage(cell: str) -> tuple[str, str] | None:
    """Return the kind and the label of a stage, None for an empty cell (the stage goes on)."""
    if not cell:
        return None
    word, _, label = cell.partition(":")
    key = "_".join(word.strip().lower().replace("-", " ").replace("_", " ").split())
    if key not in STAGE_KINDS:
        raise BadCell(f"is not a kind of stage. Use one of {', '.join(kind.label for kind in STAGE_KINDS.values())}")
    return key, label.strip()[:60]


def _on_one_clock(rows: Sequence[_Row], *, clock: bool) -> tuple[datetime | None, list[float]]:
    """Return the first instant, if there is one, and every row's seconds."""
    first = rows[0].moment
    if isinstance(first, datetime):
        instants = [_instant(row, first) for row in rows]
        start = min(instants)
        return start, [round((instant - start).total_seconds(), 3) for instant in instants]
    spans = [_span(row) for row in rows]
    return None, _clock_seconds(spans) if clock else spans


def _instant(row: _Row, first: datetime) -> datetime:
    if not isinstance(row.moment, datetime) or (row.moment.tzinfo is None) != (first.tzinfo is None):
        raise UnreadableLog(
            f"Row {row.number} gives its time in another way than the first row. Write all times in one way, then try again."
        )
    return row.moment


def _span(row: _Row) -> float:
    if isinstance(row.moment, datetime):
        raise UnreadableLog(
            f"Row {row.number} gives its time in another way than the first row. Write all times in one way, then try again."
        )
    return row.moment.total_seconds()


def _clock_seconds(spans: Sequence[float]) -> list[float]:
    """Return seconds from the start: a log that begins after the first hour shows the time of day, and may cross midnight."""
    if spans[0] < 3600:
        return [round(span, 3) for span in spans]
    day_s, last_s, moments = 0.0, spans[0], []
    for span_s in spans:
        if last_s - span_s > 12 * 3600:
            day_s += 24 * 3600
        last_s = span_s
        moments.append(span_s + day_s)
    first_s = min(moments)
    return [round(moment_s - first_s, 3) for moment_s in moments]


def _stages(rows: Sequence[tuple[float, tuple[str, str] | None]]) -> tuple[StageSpan, ...]:
    """Return the stages: each from the first row that names it to the first row of the next, the last one to the last row."""
    starts: list[tuple[float, str, str]] = []
    for at_s, stage in rows:
        if stage and (not starts or starts[-1][1:] != stage):
            starts.append((at_s, *stage))
    if not starts:
        return ()
    ends = [at_s for at_s, _, _ in starts[1:]] + [rows[-1][0]]
    return tuple(
        StageSpan(kind, label, start_s, end_s, STAGE_KINDS[kind].attended)
        for (start_s, kind, label), end_s in zip(starts, ends, strict=True)
    )
