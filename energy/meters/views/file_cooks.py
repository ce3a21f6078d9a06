"""Runs made of a meter's file: sending it, how it is read, its cooks, and taking the runs away again."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core import signing
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy.access import runs_for_bench
from energy.gear.queries.lists import missing_gear
from energy.meters.forms.files import CooksForm, SendForm
from energy.meters.operations import files as operations
from energy.meters.operations import uploads
from energy.meters.queries import files as queries
from energy.meters.queries import log_files
from energy.meters.views.files import GONE, MOST_DAYS, progress_answer, show_look
from energy.models import Run
from energy.runs.operations.recording import remove_runs
from energy.runs.operations.typed import FileFacts
from energy.runs.queries.recording import newest_revision
from energy.runs.queries.run_page import run_line
from kitchen.access import recipe_for_bench
from kitchen.models import Recipe

_SALT = "energy.runs-of-a-file"


def _sent_for(recipe: Recipe) -> str:
    return f"recipe:{recipe.pk}"


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def cooks_send(request: HttpRequest, slug: str) -> HttpResponse:
    """Send a file to make runs of. ``/bench/recipes/<slug>/runs/from-file/``; who may edit the recipe."""
    recipe = recipe_for_bench(request.user, slug)
    newest, needed = newest_revision(recipe), missing_gear()
    if newest is None or needed:
        return render(request, "energy/recording/not_ready.html", {"recipe": recipe, "revision": newest, "needed": needed})
    form = SendForm(request.POST, request.FILES) if request.method == "POST" else SendForm()
    if form.is_bound and form.is_valid():
        upload = uploads.keep_upload(pieces=form.pieces, name=form.name, sent_for=_sent_for(recipe), at=timezone.now())
        return redirect("energy:cooks-look", slug, upload.token)
    context = {"recipe": recipe, "form": form, "gone": GONE if request.GET.get("gone") else "", "most_days": MOST_DAYS}
    return render(request, "energy/files/send.html", context, status=422 if form.is_bound else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def cooks_look(request: HttpRequest, slug: str, token: str) -> HttpResponse:
    """How a waiting file is read. ``/bench/recipes/<slug>/runs/from-file/<token>/``; corrections come back as they were made."""
    recipe = recipe_for_bench(request.user, slug)
    upload = uploads.waiting_upload(token, _sent_for(recipe))
    if upload is None:
        return redirect(f"{reverse('energy:cooks-send', args=[recipe.slug])}?gone=1")
    onward, progress = (reverse(f"energy:cooks-{name}", args=[slug, token]) for name in ("cut", "progress"))
    return show_look(request, upload, here=request.path, onward=onward, progress=progress, recipe=recipe)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def cooks_cut(request: HttpRequest, slug: str, token: str) -> HttpResponse:
    """The cooks of a waiting file, and the yes. ``.../from-file/<token>/cooks/``; all the runs are made, or none."""
    recipe = recipe_for_bench(request.user, slug)
    upload = uploads.waiting_upload(token, _sent_for(recipe))
    revision = newest_revision(recipe)
    if upload is None or revision is None:
        return redirect(f"{reverse('energy:cooks-send', args=[recipe.slug])}?gone=1")
    read = log_files.read(upload.path, upload.shape, progress=uploads.teller(token))
    if read.refusal or read.log is None or not read.log.count:
        return redirect(f"{reverse('energy:cooks-look', args=[slug, token])}?whole=1")
    cut = queries.cut_log(read.log)
    initial = queries.usual_cook(recipe, revision, request.user, timezone.localtime())
    data = request.POST if request.method == "POST" else None
    form = CooksForm(data, found=cut.cooks, start=read.log.start, picks=queries.picks(request.user), initial=initial)
    if data is not None and form.is_valid() and (made := _make_runs(request, form, upload, read)):
        return redirect(f"{reverse('energy:cooks-kept', args=[slug])}?made={made}")
    context = {
        **{"recipe": recipe, "upload": upload, "cut": cut, "form": form},
        **{"first_row": read.log.start, "twice": queries.read_before(upload.digest, recipe)},
    }
    return render(request, "energy/files/cooks.html", context, status=200 if data is None else 422)


def _make_runs(request: HttpRequest, form: CooksForm, upload: uploads.Upload, read: log_files.ReadFile) -> str:
    """Make the runs and return their signed list; empty where a cook holds more than a run keeps, and the form then says so."""
    assert read.log is not None
    facts = FileFacts(upload.name, upload.digest, read.shape.to_dict(), read.words, doubts=read.log.doubts)
    try:
        made = operations.record_cooks(
            cooks=form.cooks,
            readings=read.log,
            facts=facts,
            by=request.user,
            at=timezone.now(),
            progress=uploads.teller(upload.token),
        )
    except operations.TooManyReadings as refused:
        form.errors.append(str(refused))
        return ""
    finally:
        uploads.end_progress(token=upload.token)
    uploads.forget_upload(token=upload.token)
    return signing.dumps([run.pk for run in made], salt=_SALT)


@login_required
@require_safe
def cooks_kept(request: HttpRequest, slug: str) -> HttpResponse:
    """The runs that were made of a file. ``/bench/recipes/<slug>/runs/from-file/kept/?made=``."""
    recipe = recipe_for_bench(request.user, slug)
    made = request.GET.get("made", "")
    rows = [(run, run_line(run)) for run in _runs_of(request, made)]
    return render(request, "energy/files/kept.html", {"recipe": recipe, "rows": rows, "made": made})


@login_required
@require_POST
def cooks_undo(request: HttpRequest, slug: str) -> HttpResponse:
    """Take the runs that were made of a file away. ``/bench/recipes/<slug>/runs/from-file/undo/``; twice changes nothing."""
    recipe_for_bench(request.user, slug)
    gone = remove_runs(runs=_runs_of(request, request.POST.get("made", "")))
    messages.success(request, f"{gone} cook{'' if gone == 1 else 's'} taken away again." if gone else "They are gone already.")
    return redirect("energy:recipe-runs", slug)


@login_required
@require_safe
def cooks_progress(request: HttpRequest, slug: str, token: str) -> HttpResponse:
    """How far the reading of a file has come. ``/bench/recipes/<slug>/runs/from-file/<token>/progress/``."""
    recipe_for_bench(request.user, slug)
    return progress_answer(token)


def _runs_of(request: HttpRequest, made: str) -> list[Run]:
    """Return the runs of a signed list that this person may edit; none for a list that is not ours."""
    try:
        numbers = signing.loads(made, salt=_SALT, max_age=7 * 24 * 3600) if made else []
    except signing.BadSignature:
        return []
    return runs_for_bench(request.user, numbers)
