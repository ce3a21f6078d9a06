"""The rows of a log sheet: the same plan numbers them on paper and in the grid where they are typed in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from uuid import UUID, uuid5

SPARE_ROWS = 6
"""Empty rows that follow the planned ones on the screen; on paper they fill the page."""

MOST_ROWS = 120
"""More rows than this no grid takes at once."""

_LONG_MIN, _VERY_LONG_MIN = Decimal(5), Decimal(20)
_MOST_ROWS = 3


@dataclass(frozen=True)
class PlannedStage:
    """A stage of the method; ``about_min`` and ``planned_min`` are None where its steps do not say."""

    kind: str
    about_min: Decimal | None = None
    planned_min: Decimal | None = None


@dataclass(frozen=True)
class PlannedRow:
    """A row to be filled in. ``begins`` is the stage that begins there, None in the rows that follow."""

    number: int
    begins: PlannedStage | None = None


def rows_of_stage(planned_min: Decimal | None) -> int:
    """Return how many rows a stage gets: one where it begins, more for one that lasts.

    A stage that stays on for long is read along the way, because the counter's steps then place its mean better.

    Parameters
    ----------
    planned_min : Decimal or None
        How long the method says it lasts. [min]

    Examples
    --------
    >>> [rows_of_stage(Decimal(minutes)) for minutes in (3, 5, 12, 20, 90)], rows_of_stage(None)
    ([1, 2, 2, 3, 3], 2)
    """
    if planned_min is None:
        return _MOST_ROWS - 1
    return 1 + (planned_min >= _LONG_MIN) + (planned_min >= _VERY_LONG_MIN)


def planned_rows(stages: Sequence[PlannedStage], most: int) -> list[PlannedRow]:
    """Return the rows of a method's stages in their order, numbered from 1; at most ``most`` of them.

    Examples
    --------
    >>> rows = planned_rows([PlannedStage("brown", Decimal(0), Decimal(10)), PlannedStage("release")], most=120)
    >>> [(row.number, row.begins.kind if row.begins else "") for row in rows]
    [(1, 'brown'), (2, ''), (3, 'release'), (4, '')]
    """
    begins = [stage if n == 0 else None for stage in stages for n in range(rows_of_stage(stage.planned_min))]
    return [PlannedRow(number, stage) for number, stage in enumerate(begins[:most], start=1)]


def row_names(once: UUID, sort: str, count: int) -> list[UUID]:
    """Return the names of what a form keeps: the same whenever the same form comes, after the name-based UUIDs of RFC 9562.

    Examples
    --------
    >>> once = UUID("6ba7b810-9dad-11d1-80b4-00c04fd430c8")
    >>> row_names(once, "reading", 2) == row_names(once, "reading", 3)[:2]
    True
    >>> set(row_names(once, "reading", 2)) & set(row_names(once, "note", 2))
    set()
    """
    return [uuid5(once, f"{sort} {n}") for n in range(count)]
