"""Runs of a recipe beside each other."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from energy.runs.forms.comparing import chosen_runs
from energy.runs.queries import comparing as queries
from energy.runs.queries.run_page import run_line
from kitchen.access import recipe_for_bench


@login_required
@require_safe
def runs_compare(request: HttpRequest, slug: str) -> HttpResponse:
    """Two to six runs beside each other. ``/bench/recipes/<slug>/runs/compare/?run=1&run=2``; who may edit the recipe.

    Without runs, or with one, the page offers those there are; a number that is none of them answers 400 with a sentence.
    """
    recipe = recipe_for_bench(request.user, slug)
    known = queries.comparable_runs(recipe)
    chosen = chosen_runs(request.GET.getlist("run"), known)
    context = {
        "recipe": recipe,
        "chosen": chosen,
        "picked": [run.pk for run in chosen.runs],
        "offered": [(run, run_line(run)) for run in known],
        "comparison": queries.compare_runs(chosen.runs) if chosen.comparable else None,
    }
    return render(request, "energy/comparing/page.html", context, status=200 if chosen.readable else 400)
