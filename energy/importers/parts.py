"""Figures that stand in parts and belong together: three phases of one supply, two tariffs of one counter."""

from __future__ import annotations

import re
from array import array
from collections.abc import Sequence

from energy.importers.names import plain
from energy.importers.sensors import Series
from energy.importers.shape import POWER, UNITS

_PHASES = re.compile(
    r"(?<![a-z0-9])(?:l|ph|phases?|fasen?|line|leg)[ -]?(?:[1-3]|[abcrst])(?![a-z0-9])|(?<![a-z0-9])p ?[123](?![a-z0-9])"
)
_TARIFFS = re.compile(
    r"(?<![a-z0-9])(?:t|tarif|tariff|tarief|rate|register|zone|period)[ -]?[1-4](?![0-9])|"
    r"(?<![0-9])1[ .:-]?8[ .:-]?[1-4](?![0-9])|"
    r"heures? (?:creuses?|pleines?)|(?<![a-z])h(?:c|p)(?:hc|hp)?(?![a-z])|(?<![a-z])(?:ht|nt|f[123])(?![a-z])|"
    r"(?:hoch|nieder|haupt|neben)tarif|off[ -]?peak|(?:on[ -]?)?peak|shoulder|"
    r"(?<![a-z])(?:day|night|tag|nacht|dal|piek|laag|hoog|punta|valle|llano|low|high|normal)(?![a-z])"
)


def added_parts(kind: Sequence[Series]) -> Series | None:
    """Return the sum of series that are the phases or the tariffs of one supply, by their names; None where they are not.

    Examples
    --------
    >>> times = array("d", [0, 60])
    >>> one, two = (Series(POWER, "W", name, "", times, array("d", [value, 0])) for name, value in (("L1 (W)", 5), ("L2 (W)", 7)))
    >>> list(added_parts([one, two]).values), added_parts([one, one])
    ([12.0, 0.0], None)
    """
    patterns = (_PHASES,) if kind[0].role == POWER else (_TARIFFS, _PHASES)
    names = [plain(one.name) for one in kind]
    alike = any(_alike(names, pattern) for pattern in patterns)
    first = kind[0]
    same = all(one.times_s is first.times_s or one.times_s == first.times_s for one in kind)
    if not alike or len(set(names)) < len(names) or not same:
        return None
    factors = [one.factor for one in kind]
    base = next(unit for unit, factor in UNITS[first.role].items() if factor == 1.0)
    rows = zip(*(one.values for one in kind), strict=True)
    values = array("d", (sum(value * factor for value, factor in zip(row, factors, strict=True)) for row in rows))
    return Series(first.role, base, " + ".join(one.name for one in kind), first.device, first.times_s, values)


def _alike(names: Sequence[str], pattern: re.Pattern[str]) -> bool:
    return all(pattern.search(name) for name in names) and len({pattern.sub("#", name) for name in names}) == 1


def are_tariffs(names: Sequence[str]) -> bool:
    """Return whether names are those of two or more tariffs of one counter, and of nothing else.

    Examples
    --------
    >>> are_tariffs(["HCHC", "HCHP"]), are_tariffs(["HCHC", "minutes"])
    (True, False)
    """
    plainly = [plain(name) for name in names]
    return len(set(plainly)) >= 2 and _alike(plainly, _TARIFFS)
