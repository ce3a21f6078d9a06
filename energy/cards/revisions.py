"""The runs of a recipe by the revision that was cooked, as links for its history."""

from __future__ import annotations

from collections import defaultdict

from django.urls import reverse
from django.utils import timezone

from energy.models import Run
from energy.runs.queries.run_page import run_line, run_standing
from energy.runs.queries.runs import runs_of_recipe
from energy.words import ENGLISH, sentence
from kitchen.cards import BenchLink
from kitchen.models import Recipe


def runs_by_revision(recipe: Recipe) -> dict[int, list[BenchLink]]:
    """Return a link for each run of a recipe, by the number of the revision it belongs to, the newest first. One query."""
    found: defaultdict[int, list[BenchLink]] = defaultdict(list)
    for run in runs_of_recipe(recipe):
        found[run.revision.number].append(_run_link(run))
    return dict(found)


def _run_link(run: Run) -> BenchLink:
    day, energy = timezone.localtime(run.started_at), run_line(run).energy
    label = sentence(ENGLISH, "measured_on_day" if energy else "cooked_on_day", day=day, energy=energy)
    return BenchLink(label, reverse("energy:run", args=[run.pk]), sentence(ENGLISH, f"stands_{run_standing(run)}"))
