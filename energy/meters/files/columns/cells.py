"""Single cells of a meter's file: numbers with points, commas, thousands and units; states that are no number."""

from __future__ import annotations

import math
import re

_UNIT_ENDS = re.compile(r"^([-+−]?[\d.,'  \s]*\d)\s*([a-zA-Zµ°%][\w°%·*/ -]*)$")
_PLAIN = re.compile(r"^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$", re.IGNORECASE)
_POINTS = re.compile(r"^[-+]?\d{1,3}(\.\d{3})+(,\d*)?$")
_COMMAS = re.compile(r"^[-+]?\d{1,3}(,\d{2,3})*,\d{3}(\.\d*)?$")
_GROUPS = re.compile(r"[\s'  ]")

NO_NUMBER = frozenset(
    [
        "unavailable",
        "unknown",
        "none",
        "null",
        "nan",
        "n/a",
        "na",
        "-",
        "--",
        "---",
        "offline",
        "error",
        "not",
        "available",
        "nil",
        "missing",
        "no",
        "data",
        "undefined",
        "inf",
        "-inf",
    ]
) | {"", "not available", "no data"}
"""States in which nothing was read."""


def number(cell: str, decimal: str) -> float | None:
    """Return a cell's number, None where it is none; a unit behind it is passed over.

    Examples
    --------
    >>> [number(cell, ",") for cell in ("1.234,5", "0,21 kWh", "-3", "unavailable")]
    [1234.5, 0.21, -3.0, None]
    >>> [number(cell, ".") for cell in ("1,234.5", "690W", "1 234", "2026-10-14")]
    [1234.5, 690.0, 1234.0, None]
    """
    try:
        value = float(cell) if decimal == "." else float(cell.replace(",", "."))
        if "_" in cell or (decimal == "," and "." in cell):
            raise ValueError
    except ValueError:
        return _loose(cell, decimal)
    return value if math.isfinite(value) else None


def _loose(cell: str, decimal: str) -> float | None:
    text = cell.strip().lstrip("=").replace("−", "-").strip('"')
    if found := _UNIT_ENDS.match(text):
        text = found[1]
    text = _GROUPS.sub("", text)
    other = "." if decimal == "," else ","
    if other in text and not (_POINTS if other == "." else _COMMAS).match(text):
        if decimal in text or text.count(other) > 1:
            return None
        other, decimal = decimal, other
    text = text.replace(other, "").replace(",", ".")
    if not _PLAIN.match(text):
        return None
    value = float(text)
    return value if math.isfinite(value) else None


def unit_behind(cell: str) -> str:
    """Return the unit that stands behind a cell's number, or nothing."""
    found = _UNIT_ENDS.match(cell.strip())
    return found[2].strip() if found else ""


def decimal_of(cells: list[str], delimiter: str) -> str:
    """Return the decimal sign of cells that may be numbers.

    Notes
    -----
    Where both signs stand in one cell the last one is it. A comma with other than three digits behind it is one.
    Commas that could also group thousands are decimals where columns are parted by semicolons or tabs, and groups where
    they are parted by commas.

    Examples
    --------
    >>> decimal_of(["1,5", "12"], ";"), decimal_of(["1,234.5"], ","), decimal_of(["1.234,5"], ";"), decimal_of(["0.5"], ";")
    (',', '.', ',', '.')
    """
    points = commas = 0
    unsure = False
    for cell in cells:
        text = _UNIT_ENDS.sub(r"\1", cell.strip().lstrip("=").strip('"'))
        if not re.fullmatch(r"[-+−]?[\d.,'  \s]+", text):
            continue
        point, comma = text.rfind("."), text.rfind(",")
        if point >= 0 and comma >= 0:
            if comma > point:
                commas += 3
            else:
                points += 3
        elif comma >= 0:
            grouped = re.fullmatch(r"[-+−]?[1-9]\d{0,2}(,\d{3})+", text)
            if grouped and text.count(",") > 1:
                points += 1
            elif grouped:
                unsure = True
            else:
                commas += 1
        elif point >= 0 and not re.fullmatch(r"[-+−]?[1-9]\d{0,2}(\.\d{3}){2,}", text):
            points += 1
    if commas or points:
        return "," if commas >= points else "."
    return "," if unsure and delimiter != "," else "."
