"""Names of columns that are the times of a day."""

from __future__ import annotations

import re
from collections.abc import Sequence

STEPS_S = {24: 3600, 48: 1800, 96: 900, 288: 300, 25: 3600, 100: 900, 50: 1800, 23: 3600, 92: 900, 46: 1800}
"""The step of a table with so many columns a day, on short and long days too. [s]"""


def slots_at(names: Sequence[str]) -> tuple[int, int] | None:
    """Return from which column on, and how many, the names are times of a day or numbers in a row; None where they are not."""
    run = start = 0
    best = (0, 0)
    last = -1.0
    for place, name in enumerate(names):
        moment = slot_s(name)
        if moment == 0.0 and run >= 22:
            moment = 86400.0
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
    return best if best[1] >= 23 and best[1] in STEPS_S else None


def slot_s(name: str) -> float | None:
    """Return the moment of the day that the name of a column stands for; numbers in a row count as one a step."""
    text = name.strip().strip('"').lower()
    text = re.split(r"\s*[-–]\s*(?=\d)", text)[0]
    text = re.sub(r"^(?:h|hour|hr|he|value|v|q|period|p|interval|kwh|kw|hh|slot|t)[\s_]*(?=\d)", "", text)
    text = re.sub(r"[\s_]*\(?(?:kwh|kw|wh|w|h)\)?$", "", text)
    if found := re.fullmatch(r"(\d{1,2})(?::(\d{2}))?(?::\d{2})?\s*([ap])\.?\s?m\.?", text):
        return (int(found[1]) % 12 + (12 if found[3] == "p" else 0)) * 3600.0 + int(found[2] or 0) * 60
    if found := re.fullmatch(r"(\d{1,2})[:.h]?(\d{2})(?::\d{2})?", text):
        hours, minutes = int(found[1]), int(found[2])
        if hours <= 24 and minutes < 60:
            return hours * 3600.0 + minutes * 60
    return float(text) if re.fullmatch(r"\d{1,3}", text) else None
