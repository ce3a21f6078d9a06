"""Reads of runs: lists for the bench, and one run with everything that its page shows."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.db.models import Q, QuerySet
from django.utils import timezone

from energy.models import Run
from energy.runs.domain import summary
from energy.words import ENGLISH, sentence, words_of
from kitchen.domain import record
from kitchen.domain.remark import Said
from kitchen.models import Recipe, Revision
from kitchen.queries.roles import is_helper

COUNTS = Q(verdict="accepted") | Q(verdict="counts", flags=[])
WAITS = Q(verdict="counts", ended_at__isnull=False) & ~Q(flags=[])

_STALE = timedelta(hours=12)


def runs_of_cook(user: Any, *, flagged: bool = False) -> QuerySet[Run]:
    """Return the runs of a cook's own recipes (all runs for a superuser, a helper's own runs), the newest first."""
    runs = Run.objects.select_related("revision__recipe", "appliance", "source", "meter")
    if not user.is_superuser:
        runs = runs.filter(operator=user) if is_helper(user) else runs.filter(revision__recipe__owner=user)
    return runs.filter(WAITS) if flagged else runs


def runs_of_recipe(recipe: Recipe) -> QuerySet[Run]:
    """Return all runs of a recipe, whatever the revision, the newest first."""
    return Run.objects.filter(revision__recipe=recipe).select_related("revision__recipe", "appliance", "source", "meter")


def recipes_without_runs(user: Any) -> QuerySet[Recipe]:
    """Return a cook's recipes on which nothing was measured yet, by title."""
    recipes = Recipe.objects.filter(owner=user, withdrawn_at__isnull=True)
    return recipes.exclude(revisions__runs__isnull=False).order_by("title")


def measured_revisions(revision: Revision, *, by: datetime | None = None) -> list[Revision]:
    """Return the revisions, this one or earlier, that have counting runs of known energy, the newest first. One query.

    ``by`` leaves out runs that ended after a moment.
    """
    counted = Run.objects.filter(
        COUNTS,
        revision__recipe=revision.recipe_id,
        revision__number__lte=revision.number,
        ended_at__isnull=False,
        summary__method__in=("counter", "watts", "charge"),
    )
    if by is not None:
        counted = counted.filter(ended_at__lte=by)
    return list(Revision.objects.filter(pk__in=counted.values("revision")).order_by("-number"))


def newest_cooked(recipe: Recipe) -> Revision | None:
    """Return the newest revision of a recipe with a finished run, whether it counts or not. One query."""
    cooked = Run.objects.filter(revision__recipe=recipe, ended_at__isnull=False)
    return recipe.revisions.filter(pk__in=cooked.values("revision")).order_by("-number").first()


def finished_runs(revision: Revision, *, by: datetime | None = None) -> list[Run]:
    """Return a revision's runs that had ended by a moment, the oldest first, with what they were measured on. One query."""
    runs = revision.runs.filter(ended_at__isnull=False).select_related("appliance", "source__tariff", "meter")
    return list((runs if by is None else runs.filter(ended_at__lte=by)).order_by("started_at", "pk"))


def run_summary(run: Run) -> summary.RunSummary | None:
    """Return the run's figures as last worked out, or None while there are none."""
    return record.read(summary.RunSummary, run.summary) if run.summary else None


def flag_words(run: Run) -> list[str]:
    """Return what looks wrong in a run, a sentence each."""
    return [words_of(flag, ENGLISH) for flag in record.read(tuple[Said, ...], run.flags)]


def does_count(run: Run) -> bool:
    """Whether a run counts towards the figures: a flagged one only when it was accepted with a reason."""
    return run.verdict == "accepted" or (run.verdict == "counts" and not run.flags)


def runs_to_look_at(user: Any, at: datetime) -> list[tuple[int, str, str]]:
    """Return (number, words, kind) of a cook's runs that wait for a verdict, or were never finished. One query."""
    stale = Q(ended_at__isnull=True, started_at__lt=at - _STALE)
    runs = Run.objects.select_related("revision__recipe").filter(WAITS | stale, revision__recipe__owner=user)
    return [(run.pk, *_what_it_waits_for(run)) for run in runs.order_by("-started_at")]


def _what_it_waits_for(run: Run) -> tuple[str, str]:
    code, kind = ("never_finished", "open-run") if run.ended_at is None else ("looks_wrong", "flagged-run")
    day = timezone.localtime(run.started_at)
    return sentence(ENGLISH, code, title=run.revision.recipe.title, day=day), kind
