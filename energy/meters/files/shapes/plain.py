"""A plain log, as people write it: fixed names of columns, each with its unit, and the stages of the cook if they like.

The first row names the columns: ``time`` (an instant such as 2026-10-14T19:05:00+02:00, or h:mm:ss) or ``seconds`` or
``minutes``; at least one of ``watts``, ``wh`` or ``kwh`` (the counter as displayed) and ``charge_pct``; optionally ``stage``.
Where it counts time, names stages or shows clocks without a day somebody typed it: what cannot be read in it is refused by row,
column and value. A recorder's log of instants is read as any table is.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from energy.meters.files.clocks.moments import Moments
from energy.meters.files.clocks.stamps import Clock
from energy.meters.files.columns.cells import decimal_of, number
from energy.meters.files.columns.names import named
from energy.meters.files.columns.shape import CHARGE, DEVICE, POWER, STAGE, TIME, TOTAL, UNIT, ColumnRole, LogShape
from energy.meters.files.tables.table import Guess, Table
from energy.runs.domain.counter import falls_in

NAMES: Mapping[str, tuple[str, ...]] = {
    "time": ("time", "timestamp", "at", "instant"),
    "seconds": ("seconds", "second", "s", "sec", "elapsed_s", "time_s"),
    "minutes": ("minutes", "minute", "min", "elapsed_min", "time_min"),
    "power_w": ("w", "watts", "watt", "power_w"),
    "energy_wh": ("wh", "energy_wh", "counter_wh"),
    "energy_kwh": ("kwh", "energy_kwh", "counter_kwh"),
    "charge_pct": ("charge_pct", "charge", "battery_pct"),
    "stage": ("stage",),
}
_COLUMN_OF = {name: column for column, names in NAMES.items() for name in names}
_TIMES = {"time": "", "seconds": "s", "minutes": "min"}
_FIGURES = {"power_w": (POWER, "W"), "energy_wh": (TOTAL, "Wh"), "energy_kwh": (TOTAL, "kWh"), "charge_pct": (CHARGE, "%")}
_LOOKED_AT = 200


def plain_columns(header: Sequence[str]) -> dict[str, int]:
    """Return where each plain column stands; nothing where the time or every figure is missing, or one is there twice.

    Examples
    --------
    >>> plain_columns(["Time (s)", "Power [W]", "kWh", "remark"])
    {'seconds': 0, 'power_w': 1, 'energy_kwh': 2}
    >>> plain_columns(["Zeit", "Leistung (W)"]), plain_columns(["time", "w", "watts"])
    ({}, {})
    """
    found: dict[str, int] = {}
    for place, title in enumerate(header):
        column = _column(title)
        if column in found:
            return {}
        if column:
            found[column] = place
        elif named(title).role in (DEVICE, UNIT):
            return {}
    both = {"energy_wh", "energy_kwh"} <= found.keys()
    return found if len(_TIMES.keys() & found) == 1 and _FIGURES.keys() & found and not both else {}


def _column(title: str) -> str:
    """Return the column that a title names; a unit in brackets belongs to the name."""
    plain = re.sub(r"[\s_]+", "_", re.sub(r"[()\[\]/]", " ", title).strip().lower()).replace("%", "pct")
    last = plain.rsplit("_", 1)[-1]
    return _COLUMN_OF.get(plain) or _COLUMN_OF.get(last if last in ("w", "wh", "kwh") else "", "")


def plain_shape(table: Table) -> LogShape | None:
    """Return the shape of a plain log, or None: its names are plain, its first times can be read, and its counter climbs."""
    if table.shape.kind != "table" or table.shape.header_row > 1 or table.units:
        return None
    columns = plain_columns(table.names)
    rows = [cells for _, cells in table.below[:_LOOKED_AT]]
    if not columns or not rows:
        return None
    time = next(name for name in columns if name in _TIMES)
    figures = [place for name, place in columns.items() if name in _FIGURES]
    cells = [row[place] for row in rows for place in (*figures, columns[time]) if place < len(row)]
    decimal = decimal_of([cell for cell in cells if ":" not in cell and "-" not in cell[1:]], table.shape.delimiter)
    roles = [ColumnRole(columns[time], TIME)]
    roles += [ColumnRole(place, *_FIGURES[name]) for name, place in columns.items() if name in _FIGURES]
    roles += [ColumnRole(columns["stage"], STAGE)] if "stage" in columns else []
    known = replace(table.shape, columns=tuple(sorted(roles, key=lambda role: role.index)), decimal=decimal, elapsed=_TIMES[time])
    typed = time != "time" or "stage" in columns or _is_clock(rows, columns["time"])
    return replace(known, strict=True) if typed and _reads(known, rows) else None


def _is_clock(rows: Sequence[Sequence[str]], place: int) -> bool:
    """Return whether the first time has no day: what people write, while recorders write instants."""
    first = next((cells[place].strip() for cells in rows if place < len(cells) and cells[place].strip()), "")
    return re.fullmatch(r"\d{1,3}:\d{2}(?::\d{2}(?:[.,]\d+)?)?", first) is not None


def _reads(shape: LogShape, rows: Sequence[Sequence[str]]) -> bool:
    """Return whether the first time can be read, and what is called a counter climbs like one."""
    moments = Moments(shape, Clock("UTC"))
    timed = [cells for cells in rows if moments.time < len(cells) and cells[moments.time].strip()]
    if not timed:
        return True
    if moments.of(timed[0]) is None:
        return False
    counters = [_climb(shape, column.index, timed) for column in shape.places(TOTAL)]
    return all(len(values) < 2 or _climbs(times, values) for times, values in counters)


def _climb(shape: LogShape, place: int, rows: Sequence[Sequence[str]]) -> tuple[list[float], list[float]]:
    moments = Moments(shape, Clock("UTC"))
    found = []
    for cells in rows:
        at_s, value = moments.of(cells), number(cells[place], shape.decimal) if place < len(cells) else None
        if at_s is not None and value is not None:
            found.append((at_s, value))
    return [at_s for at_s, _ in sorted(found)], [value for _, value in sorted(found)]


def _climbs(times: Sequence[float], values: Sequence[float]) -> bool:
    return max(values) > min(values) and all(fall.is_reset for fall in falls_in(times, values))


def plain_guess(table: Table) -> Guess | None:
    """Return the guess at a plain log, or None."""
    shape = plain_shape(table)
    return None if shape is None else Guess(shape, table.below)
