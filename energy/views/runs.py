"""Runs on the bench: their lists, one run with its figures, its verdict, its details."""

from __future__ import annotations

from typing import Any

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access, operations, queries
from energy.forms.recording import AtMinute, NewMomentForm, RunForm, StageForm, VerdictForm
from energy.models import Run
from energy.operations.summing import settle
from energy.queries.beside_run import moments_of, pauses_of
from energy.queries.files import loaded_files
from energy.views.undo import removed_reading
from kitchen.access import recipe_for_bench

_RUNS_A_PAGE = 40
_READINGS_A_PAGE = 200


@login_required
@require_safe
def run_list(request: HttpRequest) -> HttpResponse:
    """List the runs of one's own recipes. ``/bench/runs/``; any signed-in cook; ``?flagged=1``: those that wait for a verdict."""
    flagged = bool(request.GET.get("flagged"))
    return _list(request, queries.runs_of_cook(request.user, flagged=flagged), flagged=flagged)


@login_required
@require_safe
def recipe_runs(request: HttpRequest, slug: str) -> HttpResponse:
    """List the runs of one recipe. ``/bench/recipes/<slug>/runs/``; who may edit the recipe."""
    recipe = recipe_for_bench(request.user, slug)
    return _list(request, queries.runs_of_recipe(recipe), recipe=recipe)


def _list(request: HttpRequest, runs: QuerySet[Run], **more: Any) -> HttpResponse:
    shown = Paginator(runs, _RUNS_A_PAGE).get_page(request.GET.get("page"))
    rows = [(run, queries.run_standing(run), queries.run_line(run)) for run in shown]
    return render(request, "energy/run/list.html", {"shown": shown, "rows": rows, "flagged": False, **more})


@login_required
@require_safe
def run_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One run with its figures. ``/bench/runs/<pk>/``; who may edit its recipe."""
    return show_run(request, access.run_for_bench(request.user, pk))


def show_run(request: HttpRequest, run: Run, **bad_forms: Any) -> HttpResponse:
    """Return the run's page; a form that came back with errors stands in its place, and the answer is 422."""
    settle(run=run)
    now = timezone.now()
    elapsed_s = queries.elapsed_s(run, now)
    desk = queries.desk(run, now)
    forms = {
        "moment": NewMomentForm(elapsed_s=elapsed_s, others=()),
        "stage": StageForm(elapsed_s=elapsed_s, initial={"kind": desk.next_kind}),
        "finish": AtMinute(elapsed_s=elapsed_s),
        "verdict": VerdictForm(run=run, initial={"verdict": run.verdict, "reason": run.verdict_reason}),
        **bad_forms,
    }
    token = request.GET.get("removed", "")
    shown = Paginator(run.readings.order_by("at", "pk"), _READINGS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "run": run,
        "standing": queries.run_standing(run),
        "figures": queries.run_figures(run),
        **{"shown": shown, "readings": queries.reading_rows(run, list(shown))},
        **{"files": loaded_files(run), "moments": moments_of(run), "pauses": pauses_of(run)},
        "desk": desk,
        "removed": token if token and removed_reading(token, run) else "",
        **forms,
    }
    return render(request, "energy/run/page.html", context, status=422 if bad_forms else 200)


@login_required
@require_POST
def run_verdict(request: HttpRequest, pk: int) -> HttpResponse:
    """Say whether a run counts. ``/bench/runs/<pk>/verdict/``; a flagged run without a reason comes back with a sentence."""
    run = access.run_for_bench(request.user, pk)
    form = VerdictForm(request.POST, run=run)
    if not form.is_valid():
        return show_run(request, run, verdict=form)
    operations.judge_run(run=run, verdict=form.cleaned_data["verdict"], reason=form.cleaned_data["reason"], at=timezone.now())
    messages.success(request, "The verdict is kept. A published recipe shows it with its next edition.")
    return redirect("energy:run", pk)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a run's details. ``/bench/runs/<pk>/edit/``; a bad form comes back as typed."""
    run = access.run_for_bench(request.user, pk)
    form = RunForm(request.POST or None, recipe=run.revision.recipe, initial=RunForm.initial_of(run))
    if request.method == "POST" and form.is_valid():
        operations.edit_run(run=run, details=form.details, at=timezone.now())
        messages.success(request, "The run’s details are kept.")
        return redirect("energy:run", pk)
    context = {"run": run, "form": form, "zone": settings.TIME_ZONE}
    return render(request, "energy/run/edit.html", context, status=422 if form.is_bound else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask, then remove a run. ``/bench/runs/<pk>/remove/``; who may edit its recipe."""
    run = access.run_for_bench(request.user, pk)
    if request.method == "POST":
        slug = run.revision.recipe.slug
        operations.remove_run(run=run)
        messages.success(request, "The run is removed.")
        return redirect("energy:recipe-runs", slug)
    return render(request, "energy/run/remove.html", {"run": run, "count": run.readings.count()})
