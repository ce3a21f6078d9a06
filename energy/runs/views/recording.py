"""Recording a cook: the form with all its readings, a log, and single readings and stages along the way."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from energy import access
from energy.form_fields import OnceField
from energy.gear.queries.lists import missing_gear
from energy.models import Reading, Run
from energy.runs.forms.recorder import Recorder
from energy.runs.forms.recording import AtMinute, MomentForm, NewMomentForm, StageForm
from energy.runs.forms.stages import StageRows
from energy.runs.operations.recording import (
    SentBefore,
    add_reading,
    correct_reading,
    finish_run,
    mark_next_stage,
    mark_stages,
    put_back_reading,
    record_run,
    remove_reading,
)
from energy.runs.operations.run_rows import Gone
from energy.runs.operations.typed import TypedRows
from energy.runs.queries.recording import (
    counter_readings,
    doubtful_times,
    elapsed_s,
    first_words,
    newest_revision,
    readings_beside,
    typed_reading,
    typed_stages,
)
from energy.runs.queries.sheet import forms_kept, grid_plan
from energy.runs.views.runs import show_run
from energy.runs.views.undo import READING, to_undo, undo_token
from kitchen.access import recipe_to_record
from kitchen.views.doors import hand_of
from kitchen.views.helping import for_helpers


@for_helpers
@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def run_new(request: HttpRequest, slug: str) -> HttpResponse:
    """Record a cook. ``/bench/recipes/<slug>/runs/new/``; who may edit the recipe; a bad form comes back as typed.

    ``?sheet=1`` lays the rows out as the printed log sheet does.
    """
    recipe = recipe_to_record(request.user, slug)
    newest = newest_revision(recipe)
    needed = missing_gear()
    if newest is None or needed:
        return render(request, "energy/recording/not_ready.html", {"recipe": recipe, "revision": newest, "needed": needed})
    recorder = Recorder(
        request.POST if request.method == "POST" else None,
        request.FILES,
        recipe=recipe,
        plan=grid_plan(newest, is_sheet=bool(request.GET.get("sheet"))),
        initial=first_words(recipe, newest, request.user, timezone.localtime()),
    )
    if recorder.saves and recorder.is_valid() and (run := _recorded(request, recorder)):
        messages.success(request, "The cook is saved.")
        for words in doubtful_times(run, timezone.now()):
            messages.warning(request, words)
        return redirect("energy:run", run.pk)
    context = {
        "recipe": recipe,
        "recorder": recorder,
        "zone": timezone.get_current_timezone_name(),
        "forms_kept": forms_kept(recipe),
    }
    return render(request, "energy/recording/new.html", context, status=422 if recorder.has_errors else 200)


def _recorded(request: HttpRequest, recorder: Recorder) -> Run | None:
    """Keep the cook; None where its form has kept another before, and the recorder then says so."""
    recorder.run.save_new(by=hand_of(request))
    try:
        return record_run(
            details=recorder.details,
            rows=TypedRows(recorder.readings, recorder.stages, recorder.notes, recorder.file),
            running=recorder.running,
            operator=request.user,
            once=recorder.once,
            at=timezone.now(),
        )
    except SentBefore as sent:
        recorder.refuse(sent.run)
        return None


@for_helpers
@login_required
@require_POST
def reading_add(request: HttpRequest, pk: int) -> HttpResponse:
    """Keep one reading, now or at a minute. ``/bench/runs/<pk>/readings/``; a bad one comes back on the run's page."""
    run = access.run_for_bench(request.user, pk)
    others = readings_beside(run, OnceField().clean(request.POST.get("key")))
    form = NewMomentForm(request.POST, elapsed_s=elapsed_s(run, timezone.now()), others=others)
    if not form.is_valid():
        return show_run(request, run, moment=form)
    try:
        add_reading(run=run, reading=form.reading, key=form.once, moment_given=form.minute_typed)
    except SentBefore as sent:
        form.refuse(str(sent))
        return show_run(request, run, moment=form)
    messages.success(request, f"Logged at {form.words}.")
    return redirect("energy:run", run.pk)


@for_helpers
@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def reading_edit(request: HttpRequest, pk: int, key: UUID) -> HttpResponse:
    """Correct a reading. ``/bench/runs/<pk>/readings/<key>/``; a bad one comes back as typed."""
    reading = access.reading_for_bench(request.user, pk, key)
    others = counter_readings(reading.run, but=reading)
    form = MomentForm(request.POST or None, initial=typed_reading(reading), elapsed_s=None, others=others)
    if request.method == "POST" and form.is_valid() and _keep_correction(reading, form):
        messages.success(request, f"The reading at {form.words} is corrected.")
        return redirect("energy:run", reading.run.pk)
    context = {"run": reading.run, "reading": reading, "form": form}
    return render(request, "energy/recording/reading.html", context, status=422 if form.is_bound else 200)


def _keep_correction(reading: Reading, form: MomentForm) -> bool:
    """Keep what the form says; False where the reading was taken back meanwhile, and the form then says so."""
    try:
        correct_reading(reading=reading, now=form.reading)
    except Gone as gone:
        form.add_error(None, str(gone))
        return False
    return True


@for_helpers
@login_required
@require_POST
def reading_remove(request: HttpRequest, pk: int, key: UUID) -> HttpResponse:
    """Remove a reading; the run's page then offers to put it back. ``/bench/runs/<pk>/readings/<key>/remove/``."""
    reading = access.reading_for_bench(request.user, pk, key)
    removed = remove_reading(reading=reading, at=timezone.now())
    return redirect(f"{reverse('energy:run', args=[pk])}?removed={undo_token(reading.run, removed, READING)}")


@for_helpers
@login_required
@require_POST
def reading_put_back(request: HttpRequest, pk: int) -> HttpResponse:
    """Put a removed reading back. ``/bench/runs/<pk>/readings/put-back/``; twice changes nothing."""
    run = access.run_for_bench(request.user, pk)
    removed = to_undo(request.POST.get("removed", ""), run, READING)
    if removed is None:
        messages.error(request, "That reading cannot be put back any more. Type it again below.")
    else:
        put_back_reading(run=run, removed=removed)
        messages.success(request, "The reading is back.")
    return redirect("energy:run", pk)


@for_helpers
@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def stages_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Correct a run's stages. ``/bench/runs/<pk>/stages/``; a bad row comes back as typed."""
    run = access.run_for_bench(request.user, pk)
    rows = StageRows(request.POST if request.method == "POST" else None, now=typed_stages(run))
    if request.method == "POST" and rows.is_valid():
        mark_stages(run=run, stages=rows.stages, at=timezone.now())
        messages.success(request, "The stages are saved.")
        return redirect("energy:run", pk)
    return render(request, "energy/recording/stages.html", {"run": run, "rows": rows}, status=422 if rows.errors else 200)


@for_helpers
@login_required
@require_POST
def stage_next(request: HttpRequest, pk: int) -> HttpResponse:
    """Let the next stage begin, now or at a minute. ``/bench/runs/<pk>/stages/next/``."""
    run = access.run_for_bench(request.user, pk)
    form = StageForm(request.POST, elapsed_s=elapsed_s(run, timezone.now()))
    if not form.is_valid():
        return show_run(request, run, stage=form)
    mark_next_stage(run=run, stage=form.start, at=timezone.now())
    messages.success(request, f"{form.label} begins at {form.words}.")
    return redirect("energy:run", pk)


@for_helpers
@login_required
@require_POST
def run_finish(request: HttpRequest, pk: int) -> HttpResponse:
    """End a run, now or at a minute. ``/bench/runs/<pk>/finish/``; pressing it twice changes nothing."""
    run = access.run_for_bench(request.user, pk)
    if run.ended_at is not None:
        return redirect("energy:run", pk)
    form = AtMinute(request.POST, elapsed_s=elapsed_s(run, timezone.now()))
    if not form.is_valid():
        return show_run(request, run, finish=form)
    finish_run(run=run, ended_at=run.started_at + timedelta(seconds=form.cleaned_data["minute"]))
    messages.success(request, "The cook is finished.")
    return redirect("energy:run", pk)
