"""Which columns hold times and days, and how their days are written."""

from __future__ import annotations

import itertools
import re
from collections.abc import Mapping, Sequence

from energy.meters.files.clocks.bare_clocks import bare_clocks
from energy.meters.files.clocks.stamps import any_stamp, day_order
from energy.meters.files.columns.cells import number
from energy.meters.files.columns.names import Named, elapsed_unit, named, plain, says_end
from energy.meters.files.columns.shape import DATE, END, TIME, UnreadableFile

_HOUR = re.compile(
    r"^(?:hours?|hora|stunde|heure|ora|uur|period|settlement period|interval|hh|slot|hr|he|hour ending|hour of day)s?"
    r"(?: (?:no|nr|number|of day))?$"
)
_FIRST_DAY, _LAST_DAY = 36_526.0, 73_050.0
"""The days of the years 2000 to 2099 as spreadsheets number them."""


def is_day(cells: Sequence[str], place: int) -> bool:
    stamp = any_stamp(cells[place]) if place < len(cells) else None
    return stamp is not None and (stamp.day is not None or stamp.epoch_s is not None)


_SORTS = ("whole", "day", "clock", "end")


def time_columns(names: Sequence[str], columns: Sequence[Sequence[str]]) -> list[tuple[int, str]]:
    """Return the columns that hold times and days, by what stands in them first and by their names second."""
    told = {place: [cell for cell in cells[:300] if cell.strip()] for place, cells in enumerate(columns)}
    distinct = {place: len({*cells}) for place, cells in told.items()}
    sorts = {place: _sort_of(named(names[place]), cells) for place, cells in told.items()}
    whole, days, clocks, ends = ([place for place, sort in sorts.items() if sort == one] for one in _SORTS)
    if days and not (whole or clocks or ends) and (hours := numbered_hours(names, columns, {*days})):
        return [(days[0], DATE), (hours[0], TIME)]
    if days and not (whole or clocks or ends):
        clocks = bare_clocks(names, columns, {*days})
    if whole and days and clocks:
        pairs = len(set(zip(columns[days[0]][:300], columns[clocks[0]][:300], strict=False)))
        whole = [] if pairs > 1.5 * max(distinct[place] for place in whole) else whole
    if whole:
        return [(_fullest(whole, distinct, names), TIME)]
    day = [(days[0], DATE)] if days else []
    if clocks or ends:
        return [*day, ((clocks or ends)[0], TIME)]
    return [(days[0], TIME)] if days else _counted(names, columns)


def _sort_of(name: Named, told: Sequence[str]) -> str:
    """Return what most cells of a column are: whole moments, days, times of day, ends of intervals, or "" for no times."""
    stamps = [stamp for cell in told if (stamp := any_stamp(cell)) is not None]
    if not told or len(stamps) < 0.7 * len(told) or (name.unit and name.role != TIME):
        return ""
    dated = sum(stamp.epoch_s is not None or (stamp.day is not None and stamp.clock_s is not None) for stamp in stamps)
    only_day = sum(stamp.day is not None and stamp.clock_s is None for stamp in stamps)
    if dated < len(stamps) / 2 <= only_day:
        return "day"
    if name.role == END:
        return "end"
    return "whole" if dated >= len(stamps) / 2 else "clock"


def _fullest(whole: Sequence[int], distinct: Mapping[int, int], names: Sequence[str]) -> int:
    """Return which of several columns of whole moments is the readings': it changes most, and its name says a time, no end."""
    most = max(distinct[place] for place in whole)
    fit = [place for place in whole if distinct[place] > 0.6 * most]
    return next((place for place in fit if named(names[place]).role == TIME and says_end(names[place]) is not True), fit[0])


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
    shown = ", ".join(f"“{name[:30]}”" for name in names[:8] if name) or "none with a name"
    raise UnreadableFile(
        f"No column holds a time; the columns are {shown}. Name the column with the time “time”, or “seconds” or “minutes” where "
        "it counts from the start, or point at it."
    )


def numbered_hours(names: Sequence[str], columns: Sequence[Sequence[str]], used: set[int]) -> list[int]:
    """Return the columns that number the intervals of a day in whole numbers, by their names and numbers."""
    return [
        place
        for place, cells in enumerate(columns)
        if place not in used and _HOUR.search(plain(names[place])) and numbered_step_s(cells) is not None
    ]


def numbered_step_s(cells: Sequence[str]) -> tuple[float, int] | None:
    """Return how long each numbered interval of a day is and its first number; None where the cells do not number a day.

    Examples
    --------
    >>> numbered_step_s([str(n) for n in range(1, 25)] * 2), numbered_step_s([str(n) for n in range(24)] * 2)
    ((3600.0, 1), (3600.0, 0))
    >>> numbered_step_s([str(n) for n in range(1, 49)]), numbered_step_s(["0", "900", "1800"])
    ((1800.0, 1), None)
    """
    told = [cell.strip() for cell in cells if cell.strip()]
    if len(told) < 3 or not all(cell.isdecimal() and len(cell) <= 3 for cell in told):
        return None
    numbers = [int(cell) for cell in told]
    highest = max(numbers)
    first = 0 if min(numbers) == 0 else 1
    for count, step_s in ((25, 3600.0), (50, 1800.0), (100, 900.0)):
        if highest + 1 - first <= count:
            return step_s, first
    return None


def counted_in(names: Sequence[str], columns: Sequence[Sequence[str]], times: list[tuple[int, str]]) -> str:
    """Return the unit in which a column of plain numbers counts from the start; nothing where it holds clocks or days."""
    if len(times) == 2:
        numbered = numbered_step_s(columns[times[1][0]])
        return "" if numbered is None else f"{numbered[0] / 60:.0f} min from {numbered[1]}"
    if len(times) != 1:
        return ""
    place = times[0][0]
    told = [cell for cell in columns[place][:200] if cell.strip()]
    stamps = [any_stamp(cell) for cell in told]
    if sum(stamp is not None for stamp in stamps) >= len(told) / 2:
        return "mm:ss" if _minutes_and_seconds(told) else ""
    values = [value for cell in told if (value := number(cell, ".")) is not None or (value := number(cell, ",")) is not None]
    if values and all(_FIRST_DAY <= value < _LAST_DAY for value in values) and values[-1] - values[0] < 3000:
        return "day number"
    return elapsed_unit(names[place])


def _minutes_and_seconds(told: Sequence[str]) -> bool:
    """Return whether clocks of two parts are minutes and seconds: the first part passes a day's hours."""
    found = [re.fullmatch(r"(\d{1,3}):(\d{2})(?:[.,]\d+)?", cell.strip()) for cell in told]
    return all(found) and max(int(one[1]) for one in found if one) > 24


def order_of(cells: Sequence[str]) -> bool | None:
    return day_order([cell for cell in cells if cell.strip()][:5000])


def unsure_order(cells: Sequence[str]) -> tuple[str, ...]:
    """Return the question of day or month first, where days are written so and nothing tells."""
    written = [cell for cell in cells[:50] if re.match(r"\D*\d{1,2}[/-]\d{1,2}[/-]\d{2,4}", cell)]
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
