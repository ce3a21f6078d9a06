"""The runs of a recipe by the revision that was cooked, as links for its history."""

from __future__ import annotations

from collections import defaultdict

from django.urls import reverse
from django.utils import timezone

from energy import queries
from energy.models import Run
from kitchen.cards import BenchLink
from kitchen.models import Recipe

_STANDS = {
    "running": "still cooking",
    "counts": "counts",
    "accepted": "counts, accepted with a reason",
    "flagged": "waits for your verdict",
    "left_out": "left out",
}


def runs_by_revision(recipe: Recipe) -> dict[int, list[BenchLink]]:
    """Return a link for each run of a recipe, by the number of the revision it belongs to, the newest first. One query."""
    found: defaultdict[int, list[BenchLink]] = defaultdict(list)
    for run in queries.runs_of_recipe(recipe):
        found[run.revision.number].append(_link(run))
    return dict(found)


def _link(run: Run) -> BenchLink:
    day = timezone.localtime(run.started_at)
    energy = queries.run_line(run).energy
    label = f"measured {day.day} {day:%B %Y}, {energy}" if energy else f"cooked {day.day} {day:%B %Y}"
    return BenchLink(label, reverse("energy:run", args=[run.pk]), _STANDS[queries.run_standing(run)])
