"""Which columns hold power, energy or charge, and in which unit; which one tells devices apart."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from energy.meters.files.clocks.stamps import any_stamp
from energy.meters.files.columns.cells import NO_NUMBER, number, unit_behind
from energy.meters.files.columns.mixed_units import as_written
from energy.meters.files.columns.names import Named, named, plain, unit_in
from energy.meters.files.columns.parts import are_tariffs
from energy.meters.files.columns.roles import energy_role, sure_power_unit
from energy.meters.files.columns.shape import (
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
)  # fmt: skip

_NEITHER = ("VA", "A", "V", "PF", "Hz", "other")
_SAYS_ENERGY = re.compile(
    r"energ|consum|usage|verbrauch|verbruik|zählerstand|förbrukning|forbruk|forbrug|mængde|kulutus|zużycie|spotřeba|zaehlerstand|"
    r"meter ?reading|index|lectura|lettura|relevé|bezug|import|reading"
)


@dataclass(frozen=True)
class _Column:
    """One column: its place, name and cells, what the name says, its unit and its numbers."""

    place: int
    name: str
    cells: Sequence[str]
    said: Named
    unit: str
    values: Sequence[float]

    @property
    def power_as_written(self) -> bool:
        """Whether the units behind the numbers change from cell to cell and are those of power."""
        return self.unit == "as written" and any(unit_in(unit_behind(cell)) in UNITS[POWER] for cell in self.cells)

    @property
    def numeric(self) -> bool:
        told = [cell for cell in self.cells if cell.strip().lower() not in NO_NUMBER]
        return bool(self.values) and len(self.values) >= 0.5 * max(len(told), 1)

    @property
    def holds_units(self) -> bool:
        """Whether its texts are units of power or energy."""
        told = {cell.strip() for cell in self.cells} - {""}
        return bool(told) and all(len(cell) <= 6 and unit_in(cell) in (*UNITS[POWER], *UNITS[INTERVAL]) for cell in told)

    @property
    def tells_apart(self) -> bool:
        """Whether its texts are names of devices: few, often the same, and no moments."""
        told = {cell.strip() for cell in self.cells} - {""}
        if not told or _mostly_stamps(self.cells) or not _repeats(self.cells):
            return False
        return self.said.role == DEVICE or 1 < len(told) <= _MOST_NAMES

    @property
    def says_energy(self) -> bool:
        return self.unit in UNITS[INTERVAL] or self.said.role in (INTERVAL, TOTAL) or bool(_SAYS_ENERGY.search(plain(self.name)))


_MOST_NAMES = 40


@dataclass
class _Found:
    decimal: str = "."
    twice: bool = False
    figures: list[ColumnRole] = field(default_factory=list)
    unsure: list[str] = field(default_factory=list)
    vague: list[_Column] = field(default_factory=list)
    value: _Column | None = None
    unit: int | None = None
    devices: list[_Column] = field(default_factory=list)


def figure_columns(
    shape: LogShape,
    names: Sequence[str],
    units: Sequence[str],
    columns: Sequence[Sequence[str]],
    used: set[int],
    *,
    above: str = "",
) -> tuple[list[ColumnRole], tuple[str, ...]]:
    """Return the columns that hold figures with their roles, and what could not be told."""
    moments = list(zip(*(columns[place] for place in sorted(used)), strict=False))
    found = _Found(shape.decimal, twice=len(set(moments)) < 0.9 * len(moments))
    for place, cells in enumerate(columns):
        if place not in used and not _dated(cells):
            units_cell = units[place] if place < len(units) else ""
            values = [one for cell in cells if (one := number(cell, shape.decimal)) is not None]
            column = _Column(place, names[place], cells, named(names[place]), _unit_of(names[place], units_cell, cells), values)
            if column.said.role in ("", VALUE) and not column.unit and column.numeric:
                column = replace(column, unit=above)
            _text(column, found) if not column.numeric else _figure(column, found)
    if not found.figures and are_tariffs([column.name for column in found.vague]):
        found.figures += [ColumnRole(column.place, TOTAL, "") for column in found.vague]
    if not found.figures and found.value is None and len(found.vague) == 1:
        found.value = found.vague[0]
    if found.value is not None and not [column for column in found.figures if column.role != CHARGE]:
        found.figures.append(_value_column(found.value, lone=not found.devices and found.unit is None))
        if found.unit is not None:
            found.figures.append(ColumnRole(found.unit, UNIT))
    elif found.unit is not None and any(not column.unit for column in found.figures):
        found.figures.append(ColumnRole(found.unit, UNIT))
    if not found.figures:
        return [], tuple(dict.fromkeys(found.unsure))
    found.figures += [ColumnRole(column.place, DEVICE) for column in _parting(found.devices, moments)]
    return found.figures, tuple(dict.fromkeys(found.unsure))


def _text(column: _Column, found: _Found) -> None:
    """Take over a column of words: units, or the names of devices."""
    if column.said.role == UNIT or (found.unit is None and column.holds_units):
        found.unit = column.place
    elif column.tells_apart and (column.said.role == DEVICE or found.twice):
        found.devices.append(column)


def _figure(column: _Column, found: _Found) -> None:
    """Take over a column of numbers."""
    place, said, unit = column.place, column.said, column.unit or column.said.unit
    if said.role == DEVICE and not unit and column.tells_apart:
        found.devices.append(column)
    elif said.role == VALUE and not unit:
        found.value = column
    elif unit in _NEITHER or said.export or said.role in (TIME, END, DATE, DEVICE):
        return
    elif said.role == CHARGE:
        found.figures.append(ColumnRole(place, CHARGE, "%"))
    elif unit == "%":
        return
    elif unit == "as written":
        values = [value for cell in column.cells if not math.isnan(value := as_written(cell, found.decimal))]
        role = POWER if column.power_as_written else energy_role(said.role if said.role in (INTERVAL, TOTAL) else "", values)
        found.figures.append(ColumnRole(place, role, unit))
    elif unit in UNITS[POWER] or (said.role == POWER and unit not in UNITS[INTERVAL]):
        found.figures.append(ColumnRole(place, POWER, unit or sure_power_unit(column.values)))
    elif column.says_energy:
        told = said.role if said.role in (INTERVAL, TOTAL) else ""
        found.figures.append(ColumnRole(place, energy_role(told, column.values), unit))
        if not unit:
            found.unsure.append("energy_unit")
    else:
        found.vague.append(column)


def _parting(devices: Sequence[_Column], moments: Sequence[tuple[str, ...]]) -> list[_Column]:
    """Return the columns that part rows of the same moment; where none is needed, the first whose texts name a sensor."""
    keys: list[tuple[str, ...]] = list(moments)
    kept: list[_Column] = []
    for column in sorted(devices, key=lambda one: (one.said.role != DEVICE, one.numeric)):
        longer = [(*key, cell) for key, cell in zip(keys, column.cells, strict=False)]
        if len(set(longer)) >= 1.1 * len(set(keys)):
            kept.append(column)
            keys = longer
    named_ones = [column for column in devices if column.said.role == DEVICE and not column.numeric]
    varied = [column for column in named_ones if len(set(column.cells)) > 1]
    return kept or varied or named_ones[:1]


def _mostly_stamps(cells: Sequence[str]) -> bool:
    """Return whether a column holds moments: the other end of an interval, not a name."""
    told = [cell for cell in cells[:100] if cell.strip()]
    return bool(told) and sum(any_stamp(cell) is not None for cell in told) >= 0.7 * len(told)


def _dated(cells: Sequence[str]) -> bool:
    """Return whether a column holds days, which are no numbers though they may look it."""
    told = [cell for cell in cells[:100] if cell.strip()]
    return bool(told) and sum(bool(re.match(r"\s*\d{1,4}[./-]\d{1,2}[./-]\d{2,4}", cell)) for cell in told) >= 0.7 * len(told)


def _repeats(cells: Sequence[str]) -> bool:
    counts = Counter(cell.strip() for cell in cells if cell.strip())
    return bool(counts) and len(counts) <= max(1, len(cells) // 2)


def _unit_of(name: str, units_cell: str, cells: Sequence[str]) -> str:
    """Return the unit of a column: its name's, that of the row of units, or what stands behind its numbers."""
    if unit := unit_in(name):
        return unit
    if units_cell and (unit := unit_in(units_cell)):
        return unit
    behind = Counter(unit for cell in cells if (unit := unit_behind(cell)))
    scales = {unit_in(unit) for unit in behind} - {""}
    if len(scales) > 1 and (scales <= set(UNITS[POWER]) or scales <= set(UNITS[INTERVAL])):
        return "as written"
    return unit_in(behind.most_common(1)[0][0]) if behind else ""


def _value_column(column: _Column, *, lone: bool) -> ColumnRole:
    """Return the role of a column called "value": what the sensors' names, the units beside it or its own numbers say."""
    if not lone:
        return ColumnRole(column.place, VALUE)
    if energy_role("", column.values) == TOTAL and len(set(column.values)) > 2:
        return ColumnRole(column.place, TOTAL, "")
    return ColumnRole(column.place, POWER, sure_power_unit(column.values))


def no_figures(names: Sequence[str], units: Sequence[str]) -> str:
    """Return why no column holds energy or power: apparent power alone is none."""
    told = {unit_in(name) for name in [*names, *units]}
    if "VA" in told:
        return (
            "This file has apparent power (VA) but no watts. VA is not what the counter charges for; "
            "export the real power, W, or the energy. For a plain heater VA are watts: then use that column as power."
        )
    if told & {"A", "V"}:
        return (
            "This file has volts or amps but neither watts nor watt-hours, and these cannot be told from it. "
            "Export the power or the energy."
        )
    shown = ", ".join(f"“{name[:30]}”" for name in names[:8] if name) or "none with a name"
    return f"No column holds power, energy or charge. The columns are {shown}. Point at the one that does."
