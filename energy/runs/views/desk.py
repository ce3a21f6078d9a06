"""The run desk: starting a cook, the cook in progress, and what a phone takes along to do both without a signal."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_safe

from energy import access
from energy.gear.queries.lists import missing_gear
from energy.models import Run
from energy.runs.domain.desk import Press
from energy.runs.domain.wire import Unfit
from energy.runs.forms.desk import StartForm
from energy.runs.forms.desk_press import PressForm, typed_press
from energy.runs.operations.desk import SaidElse
from energy.runs.operations.desk_forms import press_desk, start_cook, undo_press
from energy.runs.operations.judging import practice
from energy.runs.operations.summing import settle
from energy.runs.queries.desk_page import clock, desk_page, desk_row, desk_state, press_words, start_words
from energy.runs.queries.desk_presses import DeskPresses, desk_presses
from energy.runs.queries.recording import newest_revision
from energy.runs.queries.run_page import run_figures
from energy.runs.queries.runs import flag_words
from kitchen.access import recipe_to_record
from kitchen.views.doors import hand_of
from kitchen.views.helping import for_helpers

_FORM = require_http_methods(["GET", "HEAD", "POST"])


@for_helpers
@login_required
@_FORM
def cook_start(request: HttpRequest, slug: str) -> HttpResponse:
    """Start a cook: the clock starts as the form is sent. ``/bench/recipes/<slug>/cook/``; who may edit the recipe."""
    recipe, now = recipe_to_record(request.user, slug), timezone.now()
    words, needed = start_words(recipe, request.user, now), missing_gear()
    revision = newest_revision(recipe)
    if words is None or revision is None or needed:
        return render(request, "energy/recording/not_ready.html", {"recipe": recipe, "revision": revision, "needed": needed})
    first = {**words["usual"], "servings": words["servings"], "altitude_m": words["altitude_m"]}
    form = StartForm(request.POST or None, initial=first)
    if form.is_valid():
        try:
            form.save_new(by=hand_of(request))
            run = start_cook(key=form.key, details=form.details(revision, now), by=request.user, at=now)
            if form.cleaned_data["practice"]:
                practice(run=run, at=now)
            return redirect("energy:desk", run.pk)
        except SaidElse:
            form.refuse("This form has started a cook before, and it said something else. Press once more to start another.")
    context = {"recipe": recipe, "words": words, "form": form}
    return render(request, "energy/desk/start.html", context, status=422 if form.is_bound else 200)


@for_helpers
@login_required
@never_cache
@require_safe
def recipe_along(request: HttpRequest, slug: str) -> HttpResponse:
    """What a phone needs to start this recipe without a signal, in JSON. ``/bench/recipes/<slug>/along/``; who may edit it."""
    words = start_words(recipe_to_record(request.user, slug), request.user, timezone.now())
    if words is None:
        raise Http404("Nothing is written in this recipe yet.")
    return JsonResponse(words)


@for_helpers
@login_required
@_FORM
def desk(request: HttpRequest, pk: int) -> HttpResponse:
    """The cook in progress. ``/bench/runs/<pk>/desk/``; who may edit the recipe; a bad press comes back as typed."""
    run = access.run_for_bench(request.user, pk)
    presses = desk_presses(run)
    chosen = presses.find(request.POST.get("correct") or request.GET.get("correct", ""))
    if request.method != "POST":
        return _show(request, run, presses, chosen)
    if "undo" in request.POST:
        return _undo(request, run, presses)
    form = PressForm(request.POST, request.FILES)
    if not form.is_valid():
        return _show(request, run, presses, chosen, form)
    try:
        kept = form.pressed(run, chosen)
        beside = {} if chosen else form.beside
        press_desk(run=run, press=kept, beside=beside, photo=form.picture(), by=request.user, at=timezone.now())
    except (SaidElse, Unfit) as refused:
        form.refuse(refused)
        return _show(request, run, presses, chosen, form)
    messages.success(request, _kept_words(run, kept))
    return redirect("energy:desk", run.pk)


def _kept_words(run: Run, kept: Press) -> str:
    return f"Saved at {clock(kept.at - run.started_at)}: {press_words(kept.kind, kept.said)}."


def _undo(request: HttpRequest, run: Run, presses: DeskPresses) -> HttpResponse:
    """Take one press back; one that is gone already stays gone."""
    press = presses.find(request.POST["undo"])
    if press is None:
        messages.warning(request, "That press is taken back already.")
    else:
        undo_press(run=run, key=str(press.id), by=request.user, at=timezone.now())
        row = desk_row(run, press, presses.key(press))
        messages.success(request, f"Taken back: {row.words}, at {row.clock}.")
    return redirect("energy:desk", run.pk)


def _show(
    request: HttpRequest, run: Run, presses: DeskPresses, chosen: Press | None, form: PressForm | None = None
) -> HttpResponse:
    now = timezone.now()
    state = desk_state(run, presses, request.user.get_username(), now)
    page = desk_page(run, presses, state["stages"], now)
    if page.ended:
        settle(run=run)
    context = {
        "run": run,
        "state": state,
        "page": page,
        "form": form or PressForm(initial=typed_press(run, chosen, page)),
        "correcting": desk_row(run, chosen, presses.key(chosen)) if chosen else None,
        "figures": run_figures(run) if page.ended else None,
        "flags": flag_words(run),
    }
    return render(request, "energy/desk/page.html", context, status=422 if form else 200)
