"""Making a line by another recipe: the link, and what it may never lead to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from kitchen.models import Edition, Line


@dataclass(frozen=True)
class MadeBy:
    """The edition that a line is made by, None for none; ``now``: in the same cook, and not before."""

    edition: Edition | None = None
    now: bool = False


class MadeOfItself(ValueError):
    """A recipe would be made of itself; the message names the way round."""


def make_line_by(line: Line, made: MadeBy) -> None:
    """Let a line (not saved yet) be made by another recipe, or by none; what is made by a recipe is no food of the table.

    Raises
    ------
    MadeOfItself
        If that recipe is, somewhere, made of the line's own.
    """
    if made.edition is not None:
        own = line.part.revision.recipe
        way = _way_to(own.pk, [made.edition])
        if way is not None:
            told = " → ".join([own.title, *(edition.recipe.title for edition in way)])
            raise MadeOfItself(f"It would be made of itself: {told}. Choose another recipe.")
        line.food, line.sure = None, None
    line.made_of, line.made_now = made.edition, made.edition is not None and made.now


def _way_to(recipe: int, editions: Sequence[Edition]) -> list[Edition] | None:
    """Return the editions through which these come to a recipe, or None where they never do. One query a level."""
    waiting, seen = [[edition] for edition in editions], set[int]()
    while waiting:
        if (found := next((way for way in waiting if way[-1].recipe_id == recipe), None)) is not None:
            return found
        seen.update(way[-1].pk for way in waiting)
        rows = Line.objects.filter(part__revision__in={way[-1].revision_id for way in waiting}, made_of__isnull=False)
        behind: dict[int, list[Edition]] = {}
        for row in rows.select_related("part", "made_of__recipe"):
            if row.made_of is not None and row.made_of.pk not in seen:
                behind.setdefault(row.part.revision_id, []).append(row.made_of)
        waiting = [[*way, edition] for way in waiting for edition in behind.get(way[-1].revision_id, ())]
    return None
