"""The columns that a log may have, by the names that they may carry."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

NAMES: Mapping[str, tuple[str, ...]] = {
    "time": ("time", "timestamp", "at", "instant"),
    "seconds": ("seconds", "second", "s", "sec", "elapsed_s", "time_s"),
    "minutes": ("minutes", "minute", "min", "elapsed_min", "time_min"),
    "power_w": ("w", "watts", "watt", "power_w", "power"),
    "energy_wh": ("wh", "energy_wh", "counter_wh", "counter", "energy"),
    "energy_kwh": ("kwh", "energy_kwh", "counter_kwh"),
    "charge_pct": ("charge_pct", "charge", "battery_pct"),
    "stage": ("stage",),
}

TIMES = ("time", "seconds", "minutes")
FIGURES = ("power_w", "energy_wh", "energy_kwh", "charge_pct")

_COLUMN_OF = {name: column for column, names in NAMES.items() for name in names}

_NEEDED = (
    "It needs a column “time” (or “seconds”, or “minutes”) and at least one of “watts”, “wh”, “kwh” and “charge_pct”; "
    "“stage” is optional. Rename the columns in the first row, then try again."
)


class UnreadableLog(ValueError):
    """A log that cannot be read; the message says where, why, and what to do."""


def find_columns(header: Sequence[str]) -> dict[str, int]:
    """Return where each known column stands.

    Raises
    ------
    UnreadableLog
        If the time or every figure is missing, or one of them is there twice.

    Examples
    --------
    >>> find_columns(["Time (s)", "Power [W]", "kWh", "remark"])
    {'seconds': 0, 'power_w': 1, 'energy_kwh': 2}
    """
    found: dict[str, int] = {}
    for place, title in enumerate(header):
        column = _column(title)
        if column in found:
            raise UnreadableLog(f"The columns “{header[found[column]]}” and “{title}” say the same thing. Keep one of them.")
        if column:
            found[column] = place
    _refuse_pairs(found, header)
    if not any(column in found for column in TIMES) or not any(column in found for column in FIGURES):
        raise UnreadableLog(f"The columns found are {_listed(header)}. {_NEEDED}")
    return found


def _column(title: str) -> str:
    """Return the column that a title names; a unit in brackets belongs to the name."""
    plain = re.sub(r"[\s_]+", "_", re.sub(r"[()\[\]/]", " ", title).strip().lower()).replace("%", "pct")
    return _COLUMN_OF.get(plain) or _COLUMN_OF.get(_with_unit(plain), "")


def _with_unit(plain: str) -> str:
    """``energy_(kwh)`` became ``energy_kwh`` already; a word before a plain unit gives way to the unit."""
    last = plain.rsplit("_", 1)[-1]
    return last if last in ("w", "wh", "kwh") else plain


def _refuse_pairs(found: Mapping[str, int], header: Sequence[str]) -> None:
    for pair, what in ((TIMES, "the time"), (("energy_wh", "energy_kwh"), "the counter")):
        both = [header[found[column]] for column in pair if column in found]
        if len(both) > 1:
            raise UnreadableLog(f"The columns “{both[0]}” and “{both[1]}” both give {what}. Keep one of them.")


def _listed(header: Sequence[str]) -> str:
    named = [f"“{title.strip()[:40]}”" for title in header[:12] if title.strip()]
    more = f" and {len(header) - 12} more" if len(header) > 12 else ""
    return (", ".join(named) or "none with a name") + more
