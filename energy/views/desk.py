"""The run desk: starting a cook, the cook in progress, and what a phone takes along to do both without a signal."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from energy import access, queries
from energy.domain.sent import Unfit
from energy.forms.desk import StartForm
from energy.forms.desk_press import PressForm, typed_press
from energy.models import Run
from energy.operations.desk import SaidElse
from energy.operations.desk_forms import Pressed, press_desk, start_cook, undo_press
from energy.operations.summing import settle
from energy.queries.desk_page import clock, desk_page, desk_row, desk_state, press_of, press_words, start_words
from kitchen.access import recipe_for_bench

_FORM = require_http_methods(["GET", "HEAD", "POST"])


@login_required
@_FORM
def cook_start(request: HttpRequest, slug: str) -> HttpResponse:
    """Start a cook: the clock starts as the form is sent. ``/bench/recipes/<slug>/cook/``; who may edit the recipe."""
    recipe, now = recipe_for_bench(request.user, slug), timezone.now()
    words, needed = start_words(recipe, request.user, now), queries.needed_gear()
    revision = queries.newest_revision(recipe)
    if words is None or revision is None or not all(gear.held for gear in needed):
        return render(request, "energy/recording/not_ready.html", {"recipe": recipe, "revision": revision, "needed": needed})
    first = {**words["usual"], "servings": words["servings"], "altitude_m": words["altitude_m"]}
    form = StartForm(request.POST or None, initial=first)
    if form.is_valid():
        try:
            run = start_cook(key=form.key, details=form.details(revision, now), by=request.user, at=now)
            return redirect("energy:desk", run.pk)
        except SaidElse:
            form.refuse("This form has started a cook before, and it said something else. Press once more to start another.")
    context = {"recipe": recipe, "words": words, "form": form}
    return render(request, "energy/desk/start.html", context, status=422 if form.is_bound else 200)


@login_required
@never_cache
@require_safe
def recipe_along(request: HttpRequest, slug: str) -> HttpResponse:
    """What a phone needs to start this recipe without a signal, in JSON. ``/bench/recipes/<slug>/along/``; who may edit it."""
    words = start_words(recipe_for_bench(request.user, slug), request.user, timezone.now())
    if words is None:
        raise Http404("Nothing is written in this recipe yet.")
    return JsonResponse(words)


@login_required
@_FORM
def desk(request: HttpRequest, pk: int) -> HttpResponse:
    """The cook in progress. ``/bench/runs/<pk>/desk/``; who may edit the recipe; a bad press comes back as typed."""
    run = access.run_for_bench(request.user, pk)
    state = desk_state(run, request.user.get_username(), timezone.now())
    chosen = press_of(state, request.POST.get("correct") or request.GET.get("correct", ""))
    if request.method != "POST":
        return _show(request, run, state, chosen)
    if "undo" in request.POST:
        return _undo(request, run, state)
    form = PressForm(request.POST, request.FILES)
    if not form.is_valid():
        return _show(request, run, state, chosen, form)
    try:
        kept = press_desk(run=run, pressed=form.pressed(run, chosen), by=request.user, at=timezone.now())
    except (SaidElse, Unfit) as refused:
        form.refuse(refused)
        return _show(request, run, state, chosen, form)
    messages.success(request, _kept_words(run, kept))
    return redirect("energy:desk", run.pk)


def _kept_words(run: Run, kept: Pressed) -> str:
    said = {"kind": kept.kind, "said": kept.said}
    return f"Kept at {clock(kept.at - run.started_at)}: {press_words(said)}."


def _undo(request: HttpRequest, run: Run, state: dict[str, Any]) -> HttpResponse:
    """Take one press back; one that is gone already stays gone."""
    press = press_of(state, request.POST["undo"])
    if press is None:
        messages.warning(request, "That press is taken back already.")
    else:
        undo_press(run=run, key=press["id"], by=request.user, at=timezone.now())
        row = desk_row(run, press)
        messages.success(request, f"Taken back: {row.words}, at {row.clock}.")
    return redirect("energy:desk", run.pk)


def _show(
    request: HttpRequest, run: Run, state: dict[str, Any], chosen: dict[str, Any] | None, form: PressForm | None = None
) -> HttpResponse:
    page = desk_page(run, state, timezone.now())
    if page.ended:
        settle(run=run)
    context = {
        "run": run,
        "state": state,
        "page": page,
        "form": form or PressForm(initial=typed_press(run, chosen, page)),
        "correcting": desk_row(run, chosen) if chosen else None,
        "figures": queries.run_figures(run) if page.ended else None,
    }
    return render(request, "energy/desk/page.html", context, status=422 if form else 200)
