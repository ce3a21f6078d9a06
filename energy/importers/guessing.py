"""The first guess at how a file is laid out, from its first rows alone."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from energy.importers.cells import NO_NUMBER, decimal_of, number, unit_behind
from energy.importers.names import elapsed_unit, looks_named, named, plain, says_end, unit_in
from energy.importers.shape import (
    CHARGE,
    DATE,
    DEVICE,
    END,
    INTERVAL,
    POWER,
    TIME,
    TOTAL,
    UNIT,
    UNITS,
    VALUE,
    ColumnRole,
    LogShape,
    UnreadableFile,
)  # fmt: skip
from energy.importers.stamps import Stamp, day_order, read_stamp
import itertools

_SLOTS = {24: 3600, 48: 1800, 96: 900, 288: 300, 25: 3600, 100: 900, 50: 1800, 23: 3600, 92: 900}
_LEAST_DATA = 1


@dataclass(frozen=True)
class Guess:
    """A shape, the rows below the names, and what could not be told: pairs of a question's key and why."""

    shape: LogShape
    data: tuple[tuple[int, list[str]], ...]
    unsure: tuple[str, ...] = ()


def guess(rows: Sequence[tuple[int, list[str]]], shape: LogShape) -> Guess:
    """Return how the rows of a file are laid out.

    Parameters
    ----------
    rows : sequence of (number, cells)
        The first rows, from the top.
    shape : LogShape
        What is known: kind, encoding, delimiter, zone.

    Raises
    ------
    UnreadableFile
        If no row holds a time, or no column holds a figure.
    """
    if not rows:
        raise UnreadableFile("This file is empty. Choose another, or paste its text.")
    top = 0 if shape.kind == "json" else _header_place(rows)
    header = tuple(cell.strip().strip('"﻿') for cell in rows[top][1]) if top >= 0 else ()
    below = list(rows[top + 1 :])
    units = _units_row(below, header)
    if units:
        below = below[1:]
    width = max((len(cells) for _, cells in below[:50]), default=len(header))
    names = [header[place] if place < len(header) else "" for place in range(width)]
    known = replace(shape, header_row=top, header=tuple(names), units_row=bool(units))
    unit_cells = units or [""] * width
    if wide := _wide(known, names, below, unit_cells):
        return wide
    return _long(known, names, below, unit_cells)


def _stamp(cell: str) -> Stamp | None:
    """Return what a cell says of a moment, whichever of day and month comes first."""
    return read_stamp(cell) or read_stamp(cell, day_first=False)


def _header_place(rows: Sequence[tuple[int, list[str]]]) -> int:
    """Return which row names the columns: the last one of words above the first reading; -1 where none does."""
    first = _first_reading(rows)
    for place in range(min(first, 60) - 1, -1, -1):
        cells = rows[place][1]
        if _slots_at(cells) is not None or (looks_named(cells) and not _has_reading(cells)):
            return place
    return -1


def _first_reading(rows: Sequence[tuple[int, list[str]]]) -> int:
    """Return which row is the first of those that hold readings: two of the next three do, too, and in as many cells."""
    for place, (_, cells) in enumerate(rows):
        following = [row for _, row in rows[place + 1 : place + 4]]
        alike = [row for row in following if _has_reading(row) and abs(len(row) - len(cells)) <= 1]
        if _has_reading(cells) and len(alike) >= min(len(following), 2) - (len(following) > 2) and not _slots_at(cells):
            return place
    return len(rows)


def _has_reading(cells: Sequence[str]) -> bool:
    """Return whether a row holds a time, or a number where a time is counted, and beside it a number or a state."""
    times = [place for place, cell in enumerate(cells) if _stamp(cell) is not None]
    numbers = [place for place, cell in enumerate(cells) if number(cell, ".") is not None or number(cell, ",") is not None]
    states = [cell for cell in cells if cell.strip().lower() in NO_NUMBER - {""}]
    return bool(times and (set(numbers) - set(times[:1]) or states)) or len(numbers) >= 2


def _units_row(below: Sequence[tuple[int, list[str]]], header: Sequence[str]) -> list[str]:
    """Return the row of units below the names, or nothing."""
    if not below or not header:
        return []
    cells = [cell.strip() for cell in below[0][1]]
    told = [cell for cell in cells if cell]
    units = [cell for cell in told if unit_in(cell) and len(cell) <= 12 and not re.search(r"\d", cell)]
    return cells if told and len(units) >= max(1, len(told) / 2) and not _has_reading(cells) else []


def _slots_at(names: Sequence[str]) -> tuple[int, int] | None:
    """Return from which column on, and how many, the names are times of a day or numbers in a row; None where they are not."""
    run = start = 0
    best = (0, 0)
    last = -1.0
    for place, name in enumerate(names):
        moment = _slot_s(name)
        if moment is not None and moment > last:
            if run == 0:
                start = place
            run += 1
            last = moment
        else:
            run, last = (1, moment) if moment is not None else (0, -1.0)
            start = place
        if run > best[1]:
            best = (start, run)
    return best if best[1] >= 23 and best[1] in _SLOTS else None


def _slot_s(name: str) -> float | None:
    """Return the moment of the day that the name of a column stands for; numbers in a row count as one a step."""
    text = name.strip().strip('"').lower()
    text = re.split(r"\s*[-–]\s*(?=\d)", text)[0]
    text = re.sub(r"^(?:h|hour|hr|he|value|v|q|period|p|interval|kwh|kw|hh|slot|t)[\s_]*(?=\d)", "", text)
    text = re.sub(r"[\s_]*\(?(?:kwh|kw|wh|w|h)\)?$", "", text)
    if found := re.fullmatch(r"(\d{1,2})[:.h]?(\d{2})(?::\d{2})?", text):
        hours, minutes = int(found[1]), int(found[2])
        if hours <= 24 and minutes < 60:
            return hours * 3600.0 + minutes * 60
    return float(text) if re.fullmatch(r"\d{1,3}", text) else None


def _wide(shape: LogShape, names: Sequence[str], below: Sequence[tuple[int, list[str]]], units: Sequence[str]) -> Guess | None:
    """Return the guess at a table with a row a day, or None."""
    slots = _slots_at(names)
    if slots is None:
        return None
    first, count = slots
    before = [(place, name) for place, name in enumerate(names) if place < first]
    days = [place for place, _ in before if sum(_is_day(cells, place) for _, cells in below[:20]) >= max(1, len(below[:20]) // 2)]
    if not days:
        return None
    values = [cell for _, cells in below[:20] for cell in cells[first : first + count]]
    decimal = decimal_of(values, shape.delimiter)
    words = " ".join(
        [*names[:first], *units, *names[first + count :], *(cell for _, cells in below[:1] for cell in cells[:first])]
    )
    unit = unit_in(" ".join(units)) or _any_unit(words) or unit_behind(values[0] if values else "") or "kWh"
    role = POWER if unit in UNITS[POWER] else INTERVAL
    unit = unit if unit in UNITS[role] else "kWh"
    at_end = (_slot_s(names[first]) or 0.0) > 0 and ":" in names[first] and not re.search(r"[-–]", names[first])
    columns = [ColumnRole(days[0], DATE), *_device_columns(names[:first], below, days[0])]
    known = replace(
        shape,
        layout="wide",
        first_slot=first,
        slots=count,
        decimal=decimal,
        at_end=at_end,
        columns=(*columns, ColumnRole(first, role, unit)),
        day_first=_order([cells[days[0]] for _, cells in below if len(cells) > days[0]]) is not False,
    )
    return Guess(known, tuple(below), _unsure_order([cells[days[0]] for _, cells in below if len(cells) > days[0]]))


def _any_unit(words: str) -> str:
    found = unit_in(words)
    return found if found in UNITS[INTERVAL] or found in UNITS[POWER] else ""


def _is_day(cells: Sequence[str], place: int) -> bool:
    stamp = _stamp(cells[place]) if place < len(cells) else None
    return stamp is not None and (stamp.day is not None or stamp.epoch_s is not None)


def _device_columns(names: Sequence[str], below: Sequence[tuple[int, list[str]]], day: int) -> list[ColumnRole]:
    """Return the column that tells several devices apart, where one does."""
    for place, name in enumerate(names):
        if place == day:
            continue
        told = {cells[place].strip() for _, cells in below if place < len(cells)} - {""}
        if len(told) > 1 and (named(name).role == DEVICE or len(told) <= 12):
            return [ColumnRole(place, DEVICE)]
    return []


def _long(shape: LogShape, names: Sequence[str], below: Sequence[tuple[int, list[str]]], units: Sequence[str]) -> Guess:
    """Return the guess at a table with a row a moment."""
    rows = [cells for _, cells in below]
    wide_rows = [cells for cells in rows if len(cells) >= 2]
    if not wide_rows:
        raise UnreadableFile("No row holds a time and a figure beside it. Choose another file, or export it with its times.")
    width = len(names)
    columns = [[cells[place] for cells in wide_rows if place < len(cells)] for place in range(width)]
    times, unsure_times = _time_columns(names, columns)
    decimal = decimal_of(
        [cell for place, cells in enumerate(columns) if place not in dict(times) for cell in cells[:200]], shape.delimiter
    )
    known = replace(shape, decimal=decimal)
    known, elapsed = _elapsed(known, names, columns, times)
    used = {place for place, _ in times}
    roles = [ColumnRole(place, role) for place, role in times]
    figures, unsure = _figure_columns(known, names, units, columns, used)
    if not figures:
        raise UnreadableFile(_no_figures(names, units))
    stamps = [cell for place, role in times if role in (TIME, DATE) for cell in columns[place]]
    order = _order(stamps)
    day_rows = _has_day_rows(rows, times, width)
    end = says_end(names[times[0][0]]) if times and names else None
    known = replace(
        known,
        columns=tuple(sorted((*roles, *figures), key=lambda column: column.index)),
        day_first=order is not False,
        at_end=bool(end),
        elapsed=elapsed,
        day_rows=day_rows,
        held=True if any(column.role == VALUE for column in figures) else None,
    )
    return Guess(known, tuple(below), (*unsure_times, *unsure, *_unsure_order(stamps)))


def _time_columns(names: Sequence[str], columns: Sequence[Sequence[str]]) -> tuple[list[tuple[int, str]], tuple[str, ...]]:
    """Return the columns that hold times and days, by what stands in them first and by their names second."""
    whole, days, clocks, ends = [], [], [], []
    for place, cells in enumerate(columns):
        told = [cell for cell in cells[:300] if cell.strip()]
        stamps = [stamp for cell in told if (stamp := _stamp(cell)) is not None]
        if not told or len(stamps) < 0.7 * len(told):
            continue
        name = named(names[place])
        if name.unit and name.role != TIME:
            continue
        dated = sum(stamp.epoch_s is not None or (stamp.day is not None and stamp.clock_s is not None) for stamp in stamps)
        only_day = sum(stamp.day is not None and stamp.clock_s is None for stamp in stamps)
        if dated >= len(stamps) / 2:
            (ends if name.role == END else whole).append(place)
        elif only_day >= len(stamps) / 2:
            days.append(place)
        else:
            (ends if name.role == END else clocks).append(place)
    if whole:
        best = next(
            (place for place in whole if named(names[place]).role == TIME and says_end(names[place]) is not True), whole[0]
        )
        return [(best, TIME)], ()
    if ends and not clocks:
        return ([(days[0], DATE)] if days else []) + [(ends[0], TIME)], ()
    if clocks:
        return ([(days[0], DATE)] if days else []) + [(clocks[0], TIME)], ()
    if days:
        return [(days[0], TIME)], ()
    return _counted(names, columns), ()


def _counted(names: Sequence[str], columns: Sequence[Sequence[str]]) -> list[tuple[int, str]]:
    """Return the column of plain numbers that count the time: it rises, and its name says so or it stands first."""
    for place, cells in enumerate(columns):
        numbers = [
            value for cell in cells[:300] if (value := number(cell, ".")) is not None or (value := number(cell, ",")) is not None
        ]
        rises = all(later >= earlier for earlier, later in itertools.pairwise(numbers)) and len(set(numbers)) > 1
        timed = named(names[place]).role in (TIME, END) and not named(names[place]).unit
        if numbers and rises and (timed or (place == 0 and not names[place])):
            return [(place, TIME)]
    raise UnreadableFile(
        "No column holds a time. Name the column with the time “time”, or “seconds” or “minutes” where it counts from the start."
    )


def _elapsed(
    shape: LogShape, names: Sequence[str], columns: Sequence[Sequence[str]], times: list[tuple[int, str]]
) -> tuple[LogShape, str]:
    """Return the unit in which a column of plain numbers counts from the start; nothing where it holds clocks or days."""
    if len(times) != 1:
        return shape, ""
    place = times[0][0]
    told = [cell for cell in columns[place][:200] if cell.strip()]
    stamps = [_stamp(cell) for cell in told]
    if sum(stamp is not None for stamp in stamps) >= len(told) / 2:
        return shape, ""
    return shape, elapsed_unit(names[place])


def _figure_columns(
    shape: LogShape, names: Sequence[str], units: Sequence[str], columns: Sequence[Sequence[str]], used: set[int]
) -> tuple[list[ColumnRole], tuple[str, ...]]:
    """Return the columns that hold figures with their roles, and what could not be told."""
    found: list[ColumnRole] = []
    unsure: list[str] = []
    vague: list[int] = []
    value = unit_place = device = None
    for place, cells in enumerate(columns):
        if place in used:
            continue
        name = named(names[place])
        unit = _unit_of(names[place], units[place] if place < len(units) else "", cells)
        values = [one for cell in cells if (one := number(cell, shape.decimal)) is not None]
        numeric = len(values) >= 0.5 * max(len([cell for cell in cells if cell.strip().lower() not in NO_NUMBER]), 1)
        if name.role == UNIT and not numeric:
            unit_place = place
        elif not numeric or not values:
            told = {cell.strip() for cell in cells} - {""}
            if (
                device is None
                and told
                and not _mostly_stamps(cells)
                and (name.role == DEVICE or 1 < len(told) <= 40)
                and _repeats(cells)
            ):
                device = place
        elif name.role == VALUE and not unit:
            value = place
        elif unit in ("VA", "A", "V", "PF", "Hz", "other") or name.role in (TIME, END, DATE, DEVICE):
            continue
        elif name.role == CHARGE or unit == "%":
            if name.role == CHARGE:
                found.append(ColumnRole(place, CHARGE, "%"))
        elif name.export:
            continue
        elif unit in UNITS[POWER] or name.role == POWER:
            found.append(ColumnRole(place, POWER, unit or _power_unit(values)))
        elif unit in UNITS[INTERVAL] or name.role in (INTERVAL, TOTAL) or _says_energy(names[place]):
            role = energy_role(name.role, values)
            found.append(ColumnRole(place, role, unit or _energy_unit(values)))
            if not unit:
                unsure.append("energy_unit")
        else:
            vague.append(place)
    if not found and value is None and len(vague) == 1:
        value = vague[0]
    if value is not None and not [column for column in found if column.role != CHARGE]:
        found.append(_value_column(value, columns[value], shape, names, columns, device, unit_place))
        if unit_place is not None:
            found.append(ColumnRole(unit_place, UNIT))
    if device is not None:
        found.append(ColumnRole(device, DEVICE))
    figures = [column for column in found if column.role in (POWER, INTERVAL, TOTAL, VALUE, CHARGE)]
    return (found if figures else []), tuple(dict.fromkeys(unsure))


def _mostly_stamps(cells: Sequence[str]) -> bool:
    """Return whether a column holds moments: the other end of an interval, not a name."""
    told = [cell for cell in cells[:100] if cell.strip()]
    return bool(told) and sum(_stamp(cell) is not None for cell in told) >= 0.7 * len(told)


def _repeats(cells: Sequence[str]) -> bool:
    counts = Counter(cell.strip() for cell in cells if cell.strip())
    return bool(counts) and len(counts) <= max(1, len(cells) // 2)


def _unit_of(name: str, units_cell: str, cells: Sequence[str]) -> str:
    """Return the unit of a column: its name's, that of the row of units, or what stands behind its numbers."""
    if unit := unit_in(name):
        return unit
    if units_cell and (unit := unit_in(units_cell)):
        return unit
    behind = Counter(unit for cell in cells[:100] if (unit := unit_behind(cell)))
    return unit_in(behind.most_common(1)[0][0]) if behind else ""


def _says_energy(name: str) -> bool:
    return bool(
        re.search(
            r"energ|consum|usage|verbrauch|verbruik|zählerstand|zaehlerstand|meter ?reading|index|lectura|lettura|relevé|bezug|import|reading",
            plain(name),
        )
    )


def _value_column(
    place: int,
    cells: Sequence[str],
    shape: LogShape,
    names: Sequence[str],
    columns: Sequence[Sequence[str]],
    device: int | None,
    unit: int | None,
) -> ColumnRole:
    """Return the role of a column called "value": what the sensors' names, the units beside it or its own numbers say."""
    if device is not None or unit is not None:
        return ColumnRole(place, VALUE)
    values = [one for cell in cells if (one := number(cell, shape.decimal)) is not None]
    if energy_role("", values) == TOTAL and len(set(values)) > 2:
        return ColumnRole(place, TOTAL, _energy_unit(values))
    return ColumnRole(place, POWER, _power_unit(values))


def energy_role(said: str, values: Sequence[float]) -> str:
    """Return whether energies are a counter's or those of intervals, by what the name says and by whether they climb.

    Examples
    --------
    >>> energy_role("", [1.0, 1.1, 1.1, 1.3, 1.4]), energy_role("", [0.2, 0.1, 0.3, 0.1]), energy_role("", [0.2, 0.2, 0.2])
    ('energy_total', 'energy_interval', 'energy_interval')
    """
    if len(values) < 2:
        return said or TOTAL
    steps = [later - earlier for earlier, later in itertools.pairwise(values)]
    falls = sum(step < 0 for step in steps)
    climbs = values[-1] > values[0] and max(values) > 0
    monotone = falls <= max(1, 0.03 * len(steps))
    if monotone and (climbs or falls):
        spread = max(values) - min(values)
        if said == INTERVAL and (falls or (spread < 0.5 * max(values) and len(values) < 12)):
            return INTERVAL
        return TOTAL if said != INTERVAL or len(values) >= 12 else INTERVAL
    if falls and said == TOTAL and _resets(values):
        return TOTAL
    return INTERVAL if falls > 0.03 * len(steps) or said != TOTAL else TOTAL


def _resets(values: Sequence[float]) -> bool:
    """Return whether the falls of a counter all end near zero or happen rarely."""
    falls = [later for earlier, later in itertools.pairwise(values) if later < earlier]
    return len(falls) <= max(2, len(values) // 20) or all(low < 0.05 * max(values) for low in falls)


def _power_unit(values: Sequence[float]) -> str:
    """Return W, or kW where the watts would be those of a lamp and have decimals."""
    highest = max(values, default=0.0)
    return "kW" if 0 < highest <= 25 and any(value != int(value) for value in values) else "W"


def _energy_unit(values: Sequence[float]) -> str:
    """Return kWh where values have decimals or are small, else Wh."""
    whole = all(value == int(value) for value in values)
    return "Wh" if whole and max(values, default=0.0) > 20 else "kWh"


def _order(cells: Sequence[str]) -> bool | None:
    return day_order([cell for cell in cells if cell.strip()][:5000])


def _unsure_order(cells: Sequence[str]) -> tuple[str, ...]:
    """Return the question of day or month first, where days are written so and nothing tells."""
    written = [cell for cell in cells[:50] if re.search(r"(?<!\d)\d{1,2}[/-]\d{1,2}[/-]\d{2,4}", cell)]
    return ("day_first",) if written and _order(cells) is None else ()


def _has_day_rows(rows: Sequence[Sequence[str]], times: Sequence[tuple[int, str]], width: int) -> bool:
    """Return whether days stand on rows of their own above times without a day."""
    if any(role == DATE for _, role in times):
        return False
    place = times[0][0]
    bare = [cells for cells in rows if len([cell for cell in cells if cell.strip()]) == 1 or len(cells) == 1]
    days = [cells for cells in bare if any(_is_day([cell], 0) for cell in cells if cell.strip())]
    clocks = [
        stamp
        for cells in rows
        if place < len(cells) and (stamp := _stamp(cells[place])) and stamp.day is None and stamp.clock_s is not None
    ]
    return bool(days) and bool(clocks)


def _no_figures(names: Sequence[str], units: Sequence[str]) -> str:
    """Return why no column holds energy or power: apparent power alone is none."""
    told = {unit_in(name) for name in [*names, *units]}
    if "VA" in told:
        return "This file has apparent power (VA) but no watts. VA is not what the counter charges for; export the real power, W, or the energy."
    if told & {"A", "V"}:
        return "This file has volts or amps but neither watts nor watt-hours, and these cannot be told from it. Export the power or the energy."
    shown = ", ".join(f"“{name[:30]}”" for name in names[:8] if name) or "none with a name"
    return f"No column holds power, energy or charge. The columns are {shown}. Point at the one that does."
