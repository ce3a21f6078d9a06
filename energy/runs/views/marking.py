"""Marking stages on a run's curve, trimming what lies before and after, and taking that back."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from energy import access
from energy.models import Run
from energy.runs.forms.marking import MarkingForm
from energy.runs.operations import marking as operations
from energy.runs.queries import marking as queries
from energy.runs.queries.recording import typed_stages
from energy.runs.views.undo import MARKS, to_undo, undo_token


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_marks(request: HttpRequest, pk: int) -> HttpResponse:
    """Mark a run on its curve. ``/bench/runs/<pk>/marks/``; ``?suggest=1`` fills in what the curve suggests and keeps nothing."""
    run = access.run_for_bench(request.user, pk)
    curve = queries.run_curve(run)
    suggests = request.method != "POST" and bool(request.GET.get("suggest"))
    rows = queries.suggested_stages(run, curve) if suggests else typed_stages(run)
    data, span_s = request.POST if request.method == "POST" else None, queries.run_span_s(run, curve)
    form = MarkingForm(data, span_s=span_s, rows=rows, begins_s=rows[0]["minute"] if suggests and rows else 0.0)
    if form.saves and form.is_valid():
        before = operations.mark_run(run=run, begins_s=form.begins_s, ends_s=form.ends_s, stages=form.stages, at=timezone.now())
        messages.success(request, "The marks are saved.")
        return redirect(f"{reverse('energy:run-marks', args=[pk])}?before={undo_token(run, before, MARKS)}")
    context = {
        "run": run,
        "form": form,
        "page": queries.marking_page(run, curve, form.marks, form.ends),
        "suggests": suggests,
        "suggestions": len(queries.suggested_stages(run, curve)),
        "before": _asked_before(request, run),
    }
    return render(request, "energy/marking/page.html", context, status=422 if form.checked else 200)


@login_required
@require_POST
def run_unmark(request: HttpRequest, pk: int) -> HttpResponse:
    """Take the last marks back. ``/bench/runs/<pk>/marks/undo/``; twice changes nothing."""
    run = access.run_for_bench(request.user, pk)
    before = to_undo(request.POST.get("before", ""), run, MARKS)
    if before is None:
        messages.error(request, "These marks cannot be taken back any more. Correct them below.")
    else:
        operations.unmark_run(run=run, before=before, at=timezone.now())
        messages.success(request, "The marks are as they were before.")
    return redirect("energy:run-marks", pk)


def _asked_before(request: HttpRequest, run: Run) -> str:
    token = request.GET.get("before", "")
    return token if token and to_undo(token, run, MARKS) else ""
