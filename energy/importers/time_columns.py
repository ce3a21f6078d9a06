"""Which columns hold times and days, and how their days are written."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence

from energy.importers.cells import number
from energy.importers.names import elapsed_unit, named, says_end
from energy.importers.shape import DATE, END, TIME, UnreadableFile
from energy.importers.stamps import any_stamp, day_order


def is_day(cells: Sequence[str], place: int) -> bool:
    stamp = any_stamp(cells[place]) if place < len(cells) else None
    return stamp is not None and (stamp.day is not None or stamp.epoch_s is not None)


def time_columns(names: Sequence[str], columns: Sequence[Sequence[str]]) -> list[tuple[int, str]]:
    """Return the columns that hold times and days, by what stands in them first and by their names second."""
    whole, days, clocks, ends = [], [], [], []
    for place, cells in enumerate(columns):
        told = [cell for cell in cells[:300] if cell.strip()]
        stamps = [stamp for cell in told if (stamp := any_stamp(cell)) is not None]
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
        return [(best, TIME)]
    if ends and not clocks:
        return ([(days[0], DATE)] if days else []) + [(ends[0], TIME)]
    if clocks:
        return ([(days[0], DATE)] if days else []) + [(clocks[0], TIME)]
    if days:
        return [(days[0], TIME)]
    return _counted(names, columns)


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


def counted_in(names: Sequence[str], columns: Sequence[Sequence[str]], times: list[tuple[int, str]]) -> str:
    """Return the unit in which a column of plain numbers counts from the start; nothing where it holds clocks or days."""
    if len(times) != 1:
        return ""
    place = times[0][0]
    told = [cell for cell in columns[place][:200] if cell.strip()]
    stamps = [any_stamp(cell) for cell in told]
    if sum(stamp is not None for stamp in stamps) >= len(told) / 2:
        return ""
    return elapsed_unit(names[place])


def order_of(cells: Sequence[str]) -> bool | None:
    return day_order([cell for cell in cells if cell.strip()][:5000])


def unsure_order(cells: Sequence[str]) -> tuple[str, ...]:
    """Return the question of day or month first, where days are written so and nothing tells."""
    written = [cell for cell in cells[:50] if re.search(r"(?<!\d)\d{1,2}[/-]\d{1,2}[/-]\d{2,4}", cell)]
    return ("day_first",) if written and order_of(cells) is None else ()


def has_day_rows(rows: Sequence[Sequence[str]], times: Sequence[tuple[int, str]], width: int) -> bool:
    """Return whether days stand on rows of their own above times without a day."""
    if any(role == DATE for _, role in times):
        return False
    place = times[0][0]
    bare = [cells for cells in rows if len([cell for cell in cells if cell.strip()]) == 1 or len(cells) == 1]
    days = [cells for cells in bare if any(is_day([cell], 0) for cell in cells if cell.strip())]
    clocks = [
        stamp
        for cells in rows
        if place < len(cells) and (stamp := any_stamp(cells[place])) and stamp.day is None and stamp.clock_s is not None
    ]
    return bool(days) and bool(clocks)
