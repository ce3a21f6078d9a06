"""Runs beside each other: their stages in one row each, and whether two energies differ by more than their meters can explain."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

from energy.runs.domain.uncertainty import together


class _Stage(Protocol):
    """Anything that has a kind of stage."""

    @property
    def kind(self) -> str: ...


@dataclass(frozen=True)
class Difference:
    """One energy less another; ``limit_wh`` is what both expanded uncertainties allow, in quadrature. [Wh]"""

    size_wh: float
    limit_wh: float

    @property
    def told(self) -> bool:
        """Whether the two differ by more than both uncertainties together."""
        return abs(self.size_wh) > self.limit_wh


def difference(energy_wh: float, uncertainty_wh: float, other_wh: float, other_uncertainty_wh: float) -> Difference:
    """Return how an energy differs from another one.

    Parameters
    ----------
    energy_wh, uncertainty_wh : float
        The energy and its expanded uncertainty, k = 2. [Wh]
    other_wh, other_uncertainty_wh : float
        The one it is held against. [Wh]

    Returns
    -------
    Difference

    Notes
    -----
    Independent uncertainties of a difference add in quadrature (JCGM 100:2008, 5.1.2). Two runs read from one meter share its
    gain error, so the limit is rather too wide than too narrow.

    Examples
    --------
    >>> difference(225, 3, 213, 4)
    Difference(size_wh=12, limit_wh=5.0)
    """
    return Difference(energy_wh - other_wh, together(uncertainty_wh, other_uncertainty_wh))


def minutes_apart(span_s: float, other_s: float) -> int:
    """Return how a span differs from another one in whole minutes, as both are shown. [min]

    Examples
    --------
    >>> minutes_apart(2280, 2100), minutes_apart(2100, 2110)
    (3, 0)
    """
    return round(span_s / 60) - round(other_s / 60)


def in_rows(runs: Sequence[Sequence[_Stage]]) -> list[tuple[int | None, ...]]:
    """Return the stages of several runs in common rows.

    Parameters
    ----------
    runs : sequence of sequences of stages
        The stages of each run in the order of its cook.

    Returns
    -------
    list of tuple of (int or None)
        For each row the place of its stage in each run, None where a run has no such stage.

    Notes
    -----
    The first "hold" of one run stands beside the first "hold" of another, the second beside the second. A stage that an earlier
    run does not have comes after the one before it.

    Examples
    --------
    >>> from types import SimpleNamespace as Stage
    >>> one, other = ([Stage(kind=kind) for kind in kinds.split()] for kinds in ("brown hold rest", "brown come_up hold"))
    >>> in_rows([one, other])
    [(0, 0), (None, 1), (1, 2), (2, None)]
    """
    named = [_numbered(stages) for stages in runs]
    order: list[tuple[str, int]] = []
    for names in named:
        place = 0
        for name in names:
            if name in order:
                place = order.index(name) + 1
            else:
                order.insert(place, name)
                place += 1
    return [tuple(names.index(name) if name in names else None for names in named) for name in order]


def _numbered(stages: Sequence[_Stage]) -> list[tuple[str, int]]:
    """Return each stage's kind and which of its kind it is."""
    seen: Counter[str] = Counter()
    names = []
    for stage in stages:
        seen[stage.kind] += 1
        names.append((stage.kind, seen[stage.kind]))
    return names
