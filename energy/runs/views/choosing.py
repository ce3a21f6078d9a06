"""Choosing which runs make a recipe's published figure, with the figure that they would make."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from energy import access
from energy.cards.collecting import figure_of
from energy.models import Run
from energy.runs.forms.choosing import ChoosingForm
from energy.runs.operations.judging import NeedsReason, choose_runs, judge_run
from energy.runs.queries.run_page import run_line
from energy.runs.queries.runs import finished_runs, flag_words, newest_cooked
from energy.runs.views.undo import VERDICT, to_undo, undo_token
from kitchen.access import recipe_for_bench


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def runs_choose(request: HttpRequest, slug: str) -> HttpResponse:
    """Tick the runs that count. ``/bench/recipes/<slug>/runs/choose/``; who may edit the recipe.

    "Work it out" shows what the ticked runs would make and keeps nothing; a flagged run without a reason comes back (422).
    """
    recipe = recipe_for_bench(request.user, slug)
    measured = newest_cooked(recipe)
    runs = [] if measured is None else [run for run in finished_runs(measured) if run.summary]
    form = ChoosingForm(request.POST.dict() if request.method == "POST" else None, runs)
    sound = form.is_valid() if form.is_bound else True
    if form.is_bound and sound and request.POST.get("do") == "keep":
        changed = choose_runs(verdicts=form.verdicts, at=timezone.now())
        messages.success(request, _kept_words(changed))
        return redirect("energy:runs-choose", slug)
    figure = None if measured is None else figure_of({row.run: row.counts for row in form.rows}, measured)
    aside = {} if figure is None else figure.aside
    rows = [(row, flag_words(row.run), run_line(row.run), _conditions(row.run), aside.get(row.run.pk, "")) for row in form.rows]
    context = {"recipe": recipe, "revision": measured, "rows": rows, "figure": figure, "looked": form.is_bound}
    return render(request, "energy/run/choose.html", context, status=200 if sound else 422)


@login_required
@require_POST
def run_count(request: HttpRequest, pk: int) -> HttpResponse:
    """Count a cook or leave it out, or undo that, on the page that publishes. ``/bench/runs/<pk>/count/``; who may edit it."""
    run = access.run_for_bench(request.user, pk)
    back = reverse("kitchen:recipe-publish", args=[run.revision.recipe.slug])
    before = {"verdict": run.verdict, "reason": run.verdict_reason}
    undone = to_undo(request.POST.get("undo", ""), run, VERDICT)
    counts = bool(request.POST.get("counts"))
    said = undone or {"verdict": "counts" if counts else "left_out", "reason": ""}
    try:
        judge_run(run=run, **said, at=timezone.now())
    except NeedsReason as refused:
        messages.error(request, str(refused))
        return redirect("energy:run", pk)
    day = f"{timezone.localtime(run.started_at):%-d %B %Y}"
    if undone:
        messages.success(request, f"The cook of {day} is as it was.")
        return redirect(f"{back}#counting")
    messages.success(request, f"The cook of {day} {'counts' if counts else 'is left out'}.")
    return redirect(f"{back}?run={pk}&changed={undo_token(run, before, VERDICT)}#counting")


def _kept_words(changed: int) -> str:
    if not changed:
        return "Nothing has changed."
    return f"{changed} verdict{'' if changed == 1 else 's'} saved. A published recipe shows it with its next edition."


def _conditions(run: Run) -> str:
    """Return on what, for how many and how cold it was cooked."""
    cold = "" if run.ambient_c is None else f", air {run.ambient_c:g}\u00a0°C"
    return f"{run.appliance.name}, for {run.servings}{cold}"
