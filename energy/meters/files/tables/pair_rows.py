"""Rows out of lines of names and values joined by an equals sign, as programs write them into their logs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from energy.meters.files.tables.json_rows import rows_of

_NAME = re.compile(r"(?:^|[\s,;|&])([A-Za-zÀ-ÿ_][\w.%/-]{0,60})=")
_LONGEST = 4000
_MOST_LINES = 50


def pairs_of(line: str) -> dict[str, str]:
    """Return the values of a line by their names; what stands before the first is called "before".

    Examples
    --------
    >>> pairs_of("2026-10-14 18:30 plug=hob power=1180 W, state=on")
    {'before': '2026-10-14 18:30', 'plug': 'hob', 'power': '1180 W', 'state': 'on'}
    """
    text = line[:_LONGEST]
    found = list(_NAME.finditer(text))
    if not found:
        return {}
    before = text[: found[0].start()].strip(" \t,;|")
    ends = [*(one.start() for one in found[1:]), len(text)]
    pairs = {one[1]: text[one.end() : end].strip(" \t,;|&\"'") for one, end in zip(found, ends, strict=True)}
    return {"before": before, **pairs} if before else pairs


def looks_pairs(lines: Sequence[str]) -> bool:
    """Return whether nearly every line holds the same names with values: two at least, or one behind a time."""
    told = [pairs for line in lines[:_MOST_LINES] if (pairs := pairs_of(line)) or line.strip()]
    names = [tuple(pairs) for pairs in told]
    usual = max(set(names), key=names.count, default=())
    return len(usual) >= 2 and names.count(usual) >= 0.8 * len(names)


def pair_rows(lines: Iterable[str], header: Sequence[str] | None = None) -> Iterator[tuple[int, list[str]]]:
    """Yield each line's values as a row below one row of their names.

    Raises
    ------
    UnreadableFile
        If no line holds any.
    """
    return rows_of((pairs for line in lines if (pairs := pairs_of(line))), header)
