"""What is wrong with a log that somebody typed: refused by row, column and value, so that it can be put right."""

from __future__ import annotations

import math
from collections.abc import Sequence

from energy.meters.files.columns.cells import NO_NUMBER, number
from energy.meters.files.columns.shape import CHARGE, POWER, TOTAL, LogShape, UnreadableFile, in_base

_MOST_CELL = 80
_LARGEST = {POWER: 100_000.0, TOTAL: 1e9, CHARGE: 100.0}


class Strict:
    """Holds each row of a typed log against what a display can show."""

    def __init__(self, shape: LogShape, time: int) -> None:
        self.shape, self.time = shape, time
        self.width = max((place + 1 for place, name in enumerate(shape.header) if name), default=len(shape.header))
        self.figures = [
            (column.index, column.role, _LARGEST[column.role] / in_base(column.role, column.unit))
            for column in shape.places(POWER, TOTAL, CHARGE)
        ]

    def check(self, row: int, cells: Sequence[str], at_s: float | None) -> None:
        """Refuse a row that cannot be read.

        Raises
        ------
        UnreadableFile
            With the row, the column and the value.
        """
        if len(cells) > self.width and any(cell.strip() for cell in cells[self.width :]):
            raise UnreadableFile(
                f"Row {row} has more cells than the first row has columns. Where decimals have a comma, separate the columns by "
                "semicolons or tabs."
            )
        if at_s is None and any(cell.strip() for cell in cells):
            self._refuse_time(row, cells)
        for place, role, most in self.figures:
            if place < len(cells) and cells[place]:
                self._check_figure(row, place, cells[place], role, most)

    def _refuse_time(self, row: int, cells: Sequence[str]) -> None:
        cell = cells[self.time].strip() if self.time < len(cells) else ""
        if not cell:
            raise UnreadableFile(f"Row {row} leaves the time out. Fill it in, or delete the row.")
        self._refuse(
            row,
            self.time,
            cell,
            "is not a time that can be read. Write 2026-10-14T19:05:00 or h:mm:ss, or call the column “seconds” or “minutes” "
            "where it holds plain numbers",
        )

    def _check_figure(self, row: int, place: int, cell: str, role: str, most: float) -> None:
        try:
            value: float | None = float(cell)
        except ValueError:
            value = number(cell, self.shape.decimal)
        if value is not None and 0 <= value <= most:
            return
        if value is None and cell.strip().lower() in NO_NUMBER - {"nan", "inf", "-inf"}:
            return
        if value is None or not math.isfinite(value):
            self._refuse(row, place, cell, "is not a number. Write digits, like 230 or 12.5, or leave the cell empty")
        elif value < 0:
            self._refuse(row, place, cell, "is below zero. A cooker only draws: correct it, or leave the cell empty")
        limit = "100 %" if role == CHARGE else f"{most:,.0f}"
        self._refuse(row, place, cell, f"is more than {limit}. Check the unit of the column, or leave the cell empty")

    def _refuse(self, row: int, place: int, cell: str, why: str) -> None:
        shown = cell.strip() if len(cell) <= _MOST_CELL else cell[:_MOST_CELL] + "…"
        raise UnreadableFile(f"Row {row}, column “{self.shape.header[place].strip()}”: “{shown}” {why}.")
