"""Figures that stand in parts and belong together: three phases of one supply, two tariffs of one counter."""

from __future__ import annotations

import math
import re
from array import array
from collections.abc import Sequence

from energy.meters.files.columns.names import plain
from energy.meters.files.columns.sensors import Series
from energy.meters.files.columns.shape import BASE, INTERVAL, POWER

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
    return summed(kind)


def summed(kind: Sequence[Series]) -> Series:
    """Return series of one role added up, in base units. Where their times differ a counter and watts stand still in between.

    Examples
    --------
    >>> one = Series(INTERVAL, "kWh", "day", "", array("d", [0, 900]), array("d", [0.1, 0.2]))
    >>> two = Series(INTERVAL, "Wh", "night", "", array("d", [900]), array("d", [50]))
    >>> both = summed([one, two])
    >>> list(both.times_s), list(both.values), both.name
    ([0.0, 900.0], [100.0, 250.0], 'day + night')
    """
    first = kind[0]
    name = " + ".join(one.name for one in kind)
    if all(one.times_s is first.times_s or one.times_s == first.times_s for one in kind):
        rows = zip(*(one.values for one in kind), strict=True)
        factors = [one.factor for one in kind]
        values = array("d", (sum(value * factor for value, factor in zip(row, factors, strict=True)) for row in rows))
        return Series(first.role, BASE[first.role], name, first.device, first.times_s, values)
    times = sorted({at_s for one in kind for at_s in one.times_s})
    columns = [_at_times(one, times) for one in kind]
    values = array("d", map(sum, zip(*columns, strict=True)))
    return Series(first.role, BASE[first.role], name, first.device, array("d", times), values)


def _at_times(one: Series, times: Sequence[float]) -> list[float]:
    """Return what a series adds at each of some moments."""
    shown = {at_s: value * one.factor for at_s, value in zip(one.times_s, one.values, strict=True) if not math.isnan(value)}
    if one.role == INTERVAL:
        return [shown.get(at_s, 0.0) for at_s in times]
    last = next(iter(shown.values()), 0.0) if one.role != POWER else 0.0
    return [last := shown.get(at_s, last) for at_s in times]


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
