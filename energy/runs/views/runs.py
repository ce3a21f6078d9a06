"""Runs on the bench: their lists, one run with its figures, its verdict, its details."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access
from energy.cards.collecting import helping_words
from energy.meters.queries.files import loaded_files
from energy.meters.queries.waiting_readings import waiting_in
from energy.models import Run
from energy.runs.forms.recording import AtMinute, NewMomentForm, RunForm, StageForm, VerdictForm
from energy.runs.operations.judging import judge_run
from energy.runs.operations.recording import edit_run, remove_runs
from energy.runs.operations.summing import settle
from energy.runs.queries.recording import at_the_pot, elapsed_s
from energy.runs.queries.run_page import moments_of, pauses_of, reading_rows, run_figures, run_line, run_standing
from energy.runs.queries.runs import flag_words, runs_of_cook, runs_of_recipe
from energy.runs.views.undo import READING, to_undo
from kitchen.access import recipe_for_bench
from kitchen.cards import BenchLink
from kitchen.queries import newest_revision
from kitchen.queries.roles import is_helper
from kitchen.views.doors import hand_of
from kitchen.views.helping import for_helpers
from kitchen.views.next_edition import what_waits

_RUNS_A_PAGE = 40
_READINGS_A_PAGE = 200


@for_helpers
@login_required
@require_safe
def run_list(request: HttpRequest) -> HttpResponse:
    """List the runs of one's own recipes. ``/bench/runs/``; any signed-in cook; ``?flagged=1``: those that wait for a verdict."""
    flagged = bool(request.GET.get("flagged"))
    return _list(request, runs_of_cook(request.user, flagged=flagged), flagged=flagged)


@login_required
@require_safe
def recipe_runs(request: HttpRequest, slug: str) -> HttpResponse:
    """List the runs of one recipe. ``/bench/recipes/<slug>/runs/``; who may edit the recipe."""
    recipe = recipe_for_bench(request.user, slug)
    return _list(request, runs_of_recipe(recipe), recipe=recipe)


def _list(request: HttpRequest, runs: QuerySet[Run], **more: Any) -> HttpResponse:
    shown = Paginator(runs, _RUNS_A_PAGE).get_page(request.GET.get("page"))
    rows = [(run, run_standing(run), run_line(run)) for run in shown]
    return render(request, "energy/run/list.html", {"shown": shown, "rows": rows, "flagged": False, **more})


@for_helpers
@login_required
@require_safe
def run_page(request: HttpRequest, pk: int) -> HttpResponse:
    """One run with its figures. ``/bench/runs/<pk>/``; who may edit its recipe."""
    return show_run(request, access.run_for_bench(request.user, pk))


def show_run(request: HttpRequest, run: Run, **bad_forms: Any) -> HttpResponse:
    """Return the run's page; a form that came back with errors stands in its place, and the answer is 422."""
    settle(run=run)
    now = timezone.now()
    since_s = elapsed_s(run, now)
    desk = at_the_pot(run, now)
    forms = {
        "moment": NewMomentForm(elapsed_s=since_s, others=()),
        "stage": StageForm(elapsed_s=since_s, initial={"kind": desk.next_kind}),
        "finish": AtMinute(elapsed_s=since_s),
        "verdict": VerdictForm(run=run, initial={"verdict": run.verdict, "reason": run.verdict_reason}),
        **bad_forms,
    }
    token = request.GET.get("removed", "")
    shown = Paginator(run.readings.order_by("at", "pk"), _READINGS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        **{"run": run, "standing": run_standing(run)},
        **{"flags": flag_words(run), "figures": run_figures(run), "helps": helping_words(run) if run.ended_at else ()},
        **{"shown": shown, "readings": reading_rows(run, list(shown))},
        **{"files": loaded_files(run), "moments": moments_of(run), "pauses": pauses_of(run)},
        **{"desk": desk, "waiting": waiting_in(run), "next": _next_of(run, request.user)},
        "removed": token if token and to_undo(token, run, READING) else "",
        **forms,
    }
    return render(request, "energy/run/page.html", context, status=422 if bad_forms else 200)


def _next_of(run: Run, person: Any) -> BenchLink | None:
    """Return what had better be done next with the recipe, of an ended run that nobody need look at; publishing comes last."""
    if run.ended_at is None or run_standing(run) == "flagged" or is_helper(person):
        return None
    recipe = run.revision.recipe
    waits = what_waits(recipe, newest_revision(recipe), timezone.now())
    return waits or BenchLink("Check and publish", reverse("kitchen:recipe-publish", args=[recipe.slug]))


@login_required
@require_POST
def run_verdict(request: HttpRequest, pk: int) -> HttpResponse:
    """Say whether a run counts. ``/bench/runs/<pk>/verdict/``; a flagged run without a reason comes back with a sentence."""
    run = access.run_for_bench(request.user, pk)
    form = VerdictForm(request.POST, run=run)
    if not form.is_valid():
        return show_run(request, run, verdict=form)
    judge_run(run=run, verdict=form.cleaned_data["verdict"], reason=form.cleaned_data["reason"], at=timezone.now())
    messages.success(request, "The verdict is saved. A published recipe shows it with its next edition.")
    return redirect("energy:run", pk)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Change a run's details. ``/bench/runs/<pk>/edit/``; a bad form comes back as typed."""
    run = access.run_for_bench(request.user, pk)
    form = RunForm(request.POST or None, recipe=run.revision.recipe, initial=RunForm.initial_of(run))
    if request.method == "POST" and form.is_valid():
        form.save_new(by=hand_of(request))
        edit_run(run=run, details=form.details, at=timezone.now())
        messages.success(request, "The cook’s details are saved.")
        return redirect("energy:run", pk)
    context = {"run": run, "form": form, "zone": timezone.get_current_timezone_name()}
    return render(request, "energy/run/edit.html", context, status=422 if form.is_bound else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask, then remove a run. ``/bench/runs/<pk>/remove/``; who may edit its recipe."""
    run = access.run_for_bench(request.user, pk)
    if request.method == "POST":
        slug = run.revision.recipe.slug
        remove_runs(runs=[run])
        messages.success(request, "The cook is removed.")
        return redirect("energy:recipe-runs", slug)
    return render(request, "energy/run/remove.html", {"run": run, "count": run.readings.count()})
