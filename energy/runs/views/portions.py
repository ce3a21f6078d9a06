"""The bench page on which a cook says how the portions of a run went."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_http_methods

from energy import access
from energy.runs.forms.portions import PortionsForm
from energy.runs.operations.portions import keep_portions


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_portions(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep portions served, left over and thrown away. ``/bench/runs/<pk>/portions/``; who may edit the recipe."""
    run = access.run_for_bench(request.user, pk)
    form = PortionsForm(request.POST if request.method == "POST" else None, run=run)
    if request.method == "POST" and form.is_valid():
        keep_portions(run=run, **form.cleaned_data)
        messages.success(request, "How the portions went is kept with this cook.")
        return redirect("energy:run", pk)
    return render(request, "energy/run/portions.html", {"run": run, "form": form}, status=422 if form.errors else 200)
