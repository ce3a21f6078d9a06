"""The word of a run's cook about what another cook's device sent into it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from energy import access
from energy.meters.operations.waiting_readings import decide_waiting
from energy.words import ENGLISH, sentence


@login_required
@require_POST
def run_waiting(request: HttpRequest, pk: int, device: int) -> HttpResponse:
    """Take in, or leave out, what a device sent into an ended run. ``/bench/runs/<pk>/sent/<device>/``; who may edit the run."""
    run = access.run_for_bench(request.user, pk)
    take = request.POST.get("take") == "yes"
    count = decide_waiting(run=run, device=access.device(run.meter_id, device), take=take, by=request.user, at=timezone.now())
    code = "nothing_waits" if not count else "sent_taken" if take else "sent_refused"
    messages.success(request, sentence(ENGLISH, code, count=count))
    return redirect("energy:run", pk)
