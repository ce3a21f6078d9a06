"""How the portions of a recipe's cooks went."""

from __future__ import annotations

from fractions import Fraction

from django.utils import timezone

from costing.domain.portions import ServedRun
from energy.models import Run
from kitchen.models import Recipe

MOST_SHOWN = 5


def served_runs(recipe: Recipe) -> tuple[list[ServedRun], int | None]:
    """Return the newest cooks whose portions were told, and the number of the newest where they were not. One query."""
    ended = Run.objects.filter(revision__recipe=recipe, ended_at__isnull=False).order_by("-started_at")[:MOST_SHOWN]
    told, untold = [], None
    for run in ended:
        if run.portions_served is None:
            untold = untold or run.pk
            continue
        sizes = (Fraction(portions or 0) for portions in (run.portions_served, run.portions_left, run.portions_thrown))
        told.append(ServedRun(timezone.localdate(run.started_at), run.servings, *sizes))
    return told, untold
