"""Reading what a device sends: JSON lines, a JSON array or object, or CSV with a header. A bad line is named, others count."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from energy.runs.domain import wire
from energy.runs.domain.samples import FIGURE_UNITS, Figures, Sample
from energy.runs.domain.wire import Unfit
from kitchen.domain.technical_units import factor

MOST_LINES = 20_000
_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
EARLIEST = datetime(2000, 1, 1, tzinfo=UTC)
AHEAD = timedelta(minutes=10)

_MILLISECONDS_FROM = 1e11
_FIGURES = {
    "wh_total": ("energy_wh", "Wh", 1e10),
    "kwh_total": ("energy_wh", "kWh", 1e7),
    "w": ("power_w", "W", 1e6),
    "kw": ("power_w", "kW", 1e3),
    "charge_pct": ("charge_pct", "%", 100.0),
}
_KNOWN = {"at", "t", *_FIGURES}


class TooMany(ValueError):
    """More lines than one request may hold."""


@dataclass(frozen=True)
class SentLine:
    """One line that can be kept: its number and its reading, counted from 1970."""

    line: int
    read: Sample

    @property
    def at(self) -> datetime:
        """When it was measured."""
        return _EPOCH + timedelta(seconds=self.read.at_s)

    @property
    def shows(self) -> Figures:
        """What it shows."""
        return self.read.figures


@dataclass(frozen=True)
class BadLine:
    """One line that cannot be kept, and why."""

    line: int
    reason: str


def read_lines(text: str, now: datetime) -> list[SentLine | BadLine]:
    """Return what each line of a body says.

    Parameters
    ----------
    text : str
        JSON lines, a JSON array of objects, one object, or CSV whose first line names its columns.
    now : datetime
        When it came, with a zone: the moment of a line that names none.

    Returns
    -------
    list of SentLine or BadLine
        In their order, numbered from 1. In CSV the header is line 1, in an array the first object.

    Raises
    ------
    Unfit
        If the body as a whole is neither.
    TooMany
        If it has more than ``MOST_LINES`` lines.

    Examples
    --------
    >>> noon = datetime(2026, 10, 14, 12, tzinfo=UTC)
    >>> [line.shows for line in read_lines('{"w": 700, "kwh_total": 1.25}', noon)]
    [(1250.0, 700.0, None)]
    >>> read_lines("t,w\\n1791979200,700\\n1791979201,lots", noon)[1].reason
    'w should be a number of W, not “lots”.'
    """
    text = text.removeprefix("\ufeff")
    lines: list[SentLine | BadLine] = []
    for number, said in _objects(text):
        if len(lines) == MOST_LINES:
            raise TooMany(f"This has more than {MOST_LINES:,} lines. Send fewer at a time.")
        lines.append(_line(number, said, now))
    if not lines:
        raise Unfit("There is nothing in it. Send JSON lines, a JSON array or object, or CSV with a header.")
    return lines


def _objects(text: str) -> Iterator[tuple[int, Any]]:
    """Yield number and content of each line; an ``Unfit`` in the place of one that cannot be read."""
    begins = text.lstrip()[:1]
    if begins == "[":
        whole = wire.read_json(text)
        yield from enumerate(whole, start=1)
    elif begins == "{":
        yield from _json_lines(text)
    elif begins:
        yield from _csv_lines(text)


def _json_lines(text: str) -> Iterable[tuple[int, Any]]:
    """Return the objects of JSON lines, or the one object that is written over several lines."""
    numbered = [(number, line) for number, line in enumerate(text.splitlines(), start=1) if line.strip()]
    read = [(number, _parsed_line(line)) for number, line in numbered[: MOST_LINES + 1]]
    if len(read) > 1 and isinstance(read[0][1], Unfit):
        try:
            return [(1, wire.read_json(text))]
        except Unfit:
            return read
    return read


def _parsed_line(line: str) -> Any:
    try:
        return wire.read_json(line)
    except Unfit as unfit:
        return unfit


def _csv_lines(text: str) -> Iterator[tuple[int, Any]]:
    """Yield the rows of CSV by the names of its header.

    Raises
    ------
    Unfit
        If the header names nothing that is known.
    """
    header = text.lstrip().splitlines()[0]
    between = max(",;\t", key=header.count)
    rows = csv.reader(text.lstrip().splitlines(), delimiter=between)
    names = [name.strip().strip('"').lower() for name in header.split(between)]
    unknown = [name for name in names if name not in _KNOWN]
    if unknown or not set(names) & set(_FIGURES):
        words = f"“{wire.shown(unknown[0])}” is not known" if unknown else "the header names no figure"
        raise Unfit(f"This reads as CSV, and {words}. Known are: {', '.join(sorted(_KNOWN))}.", "header", wire.shown(header))
    try:
        next(rows)
        for row in rows:
            if any(cell.strip() for cell in row):
                yield rows.line_num, _named_cells(names, row)
    except csv.Error:
        raise Unfit(f"Line {rows.line_num} cannot be read as CSV.", "header", wire.shown(header)) from None


def _named_cells(names: list[str], row: list[str]) -> Any:
    if len(row) != len(names):
        return Unfit(f"This line has {len(row)} cells; the header names {len(names)}.")
    cells = {name: cell.strip() for name, cell in zip(names, row, strict=True) if cell.strip()}
    return {name: cell if name == "at" else _number(name, cell) for name, cell in cells.items()}


def _number(name: str, cell: str) -> Any:
    try:
        return float(cell)
    except ValueError:
        unit = f" of {_FIGURES[name][1]}" if name in _FIGURES else ""
        return Unfit(f"{name} should be a number{unit}, not “{wire.shown(cell)}”.")


def _line(number: int, said: Any, now: datetime) -> SentLine | BadLine:
    """Return one line, or why it cannot be kept."""
    try:
        return _sent_line(number, said, now)
    except Unfit as unfit:
        return BadLine(number, str(unfit))


def _sent_line(number: int, said: Any, now: datetime) -> SentLine:
    if isinstance(said, Unfit):
        raise said
    if not isinstance(said, dict):
        raise Unfit("This line is not a JSON object.")
    said = {name: value for name, value in said.items() if value is not None}
    bad = next((value for value in said.values() if isinstance(value, Unfit)), None)
    if bad is not None:
        raise bad
    wire.refuse_unknown(said, _KNOWN)
    figures: dict[str, Any] = {}
    for name, (kept, unit, high) in _FIGURES.items():
        value = wire.number(said, name, 0, high, unit)
        if value is not None and kept in figures:
            raise Unfit(f"{name} says again what another name says. Send one of them.")
        if value is not None:
            figures[kept] = round(value * factor(unit, FIGURE_UNITS[kept]), 6)
    if not figures:
        raise Unfit("This line names no figure: wh_total, kwh_total, w, kw or charge_pct.")
    return SentLine(number, Sample((_moment(said, now) - _EPOCH).total_seconds(), **figures, origin="device"))


def _moment(said: dict[str, Any], now: datetime) -> datetime:
    """Return when a line was measured: what it says, else now."""
    if "at" in said and "t" in said:
        raise Unfit("This line says its moment twice, as at and as t. Send one of them.")
    moment = _since_1970(said["t"]) if "t" in said else wire.instant(said, "at") if "at" in said else now
    if not EARLIEST <= moment <= now + AHEAD:
        raise Unfit(f"{moment:%Y-%m-%d %H:%M} UTC cannot be when this was measured. Set the device’s clock.")
    return moment.astimezone(UTC)


def _since_1970(value: Any) -> datetime:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise Unfit("t should be a number: seconds or milliseconds since 1970.")
    try:
        return _EPOCH + timedelta(seconds=value / 1000 if abs(value) >= _MILLISECONDS_FROM else value)
    except OverflowError:
        raise Unfit("t is no moment: send seconds or milliseconds since 1970.") from None
