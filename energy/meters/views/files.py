"""Reading a meter's file into a run: sending it, seeing how it is read, the yes, its progress, and taking it out again."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access
from energy.meters.files.columns.shape import UnreadableFile
from energy.meters.files.looking import Look
from energy.meters.files.reading import MeterLog
from energy.meters.forms.files import PlacingForm, SendForm, ShapeNameForm
from energy.meters.operations import files as operations
from energy.meters.operations import uploads
from energy.meters.operations.uploads import Upload
from energy.meters.queries import files as queries
from energy.meters.queries import log_files
from energy.meters.queries.log_files import ReadFile
from energy.models import Run
from energy.runs.domain.log_columns import LONGEST_S
from energy.runs.operations.typed import FileFacts

MOST_DAYS = round(LONGEST_S / 86400)
GONE = "The file that waited is gone: it is held for a day at most. Send it once more."


def _sent_for(run: Run) -> str:
    return f"run:{run.pk}"


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def log_send(request: HttpRequest, pk: int) -> HttpResponse:
    """Send a meter's file for a run. ``/bench/runs/<pk>/log/``; who may edit its recipe; nothing is read in before the yes."""
    run = access.run_for_bench(request.user, pk)
    form = SendForm(request.POST, request.FILES) if request.method == "POST" else SendForm()
    if form.is_bound and form.is_valid():
        upload = uploads.keep_upload(pieces=form.pieces, name=form.name, sent_for=_sent_for(run), at=timezone.now())
        return redirect("energy:log-look", pk, upload.token)
    context = {"run": run, "form": form, "gone": GONE if request.GET.get("gone") else "", "most_days": MOST_DAYS}
    return render(request, "energy/files/send.html", context, status=422 if form.is_bound else 200)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def log_look(request: HttpRequest, pk: int, token: str) -> HttpResponse:
    """How a waiting file is read, and corrections of it. ``/bench/runs/<pk>/log/<token>/``."""
    run = access.run_for_bench(request.user, pk)
    upload = uploads.waiting_upload(token, _sent_for(run))
    if upload is None:
        return redirect(f"{reverse('energy:run-log', args=[pk])}?gone=1")
    onward, progress = (reverse(f"energy:log-{name}", args=[pk, token]) for name in ("read", "progress"))
    return show_look(request, upload, here=request.path, onward=onward, progress=progress, run=run)


def show_look(request: HttpRequest, upload: Upload, *, here: str, onward: str, progress: str, **of: Any) -> HttpResponse:
    """Return the page on which a file's columns are pointed at; what cannot be is said (422) and the file waits on."""
    head, refusal, asks_whole = log_files.head_of(upload.path), "", request.POST.get("do") == "whole"
    look, log = log_files.look_of(head, upload.shape), None
    is_long = upload.size > log_files.MOST_LOOKED_BYTES and not asks_whole and "whole" not in request.GET
    if request.method == "POST" and not asks_whole:
        answer = _note_correction(request, upload, look, head, here)
        if not isinstance(answer, str):
            return answer
        refusal = answer
    if not look.refusal and not is_long:
        look, log = _read_through(upload, look)
    context = {
        **{
            **of,
            "upload": upload,
            "look": look,
            "columns": log_files.columns_of(look),
            "taken": log and log_files.taken_words(log),
            "is_long": is_long,
        },
        **{"here": here, "onward": onward, "progress": progress, "refusal": refusal or look.refusal},
        "taken": log and log_files.taken_words(log),
        **{"shapes": queries.shapes(), "kept": log_files.kept_for(look.shape)},
    }
    return render(request, "energy/files/look.html", context, status=422 if refusal else 200)


def _read_through(upload: Upload, look: Look) -> tuple[Look, MeterLog | None]:
    try:
        return log_files.read_through(upload.path, look, uploads.teller(upload.token))
    finally:
        uploads.end_progress(token=upload.token)


def _note_correction(request: HttpRequest, upload: Upload, look: Look, head: bytes, here: str) -> HttpResponse | str:
    """Note what was pointed at, or a kept way, or keep this way under a name; return a sentence where that is nonsense."""
    said = request.POST.dict()
    try:
        if said.get("do") == "guess":
            uploads.choose_shape(upload=upload, shape=None)
        elif said.get("do") == "kept":
            chosen = next((one for one in queries.shapes() if str(one.pk) == said.get("shape")), None)
            if chosen is None:
                return "That way of reading is not there any more."
            uploads.choose_shape(upload=upload, shape={**chosen.shape, "encoding": look.shape.encoding})
        else:
            shape = log_files.told(head, look, said).to_dict()
            uploads.choose_shape(upload=upload, shape=shape)
            if said.get("do") == "keep":
                return _keep_shape(said.get("name", ""), shape) or redirect(here)
    except UnreadableFile as refused:
        return str(refused)
    return redirect(here)


def _keep_shape(name: str, shape: dict[str, Any]) -> str:
    """Keep a way of reading under a name; return a sentence where the name will not do."""
    form = ShapeNameForm({"name": name})
    if not form.is_valid():
        return "Give this way of reading a name of at most 80 letters."
    operations.keep_shape(name=form.cleaned_data["name"], shape=shape, at=timezone.now())
    return ""


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def log_read(request: HttpRequest, pk: int, token: str) -> HttpResponse:
    """Where the readings belong, and the yes. ``/bench/runs/<pk>/log/<token>/read/``; a bad answer comes back (422)."""
    run = access.run_for_bench(request.user, pk)
    upload = uploads.waiting_upload(token, _sent_for(run))
    if upload is None:
        return redirect(f"{reverse('energy:run-log', args=[pk])}?gone=1")
    read = log_files.read(upload.path, upload.shape, near=queries.around(run), progress=uploads.teller(token))
    if read.log is None or not read.log.count:
        return _back_to_look(request, read, f"{reverse('energy:log-look', args=[pk, token])}?whole=1")
    placing = queries.placing(run, read.log)
    data = request.POST if request.method == "POST" else None
    form = PlacingForm(data, choices=placing.choices, twice=queries.read_before(upload.digest, run.revision.recipe, run))
    if form.is_bound and form.is_valid() and _taken_in(request, run, upload, read, form):
        return redirect("energy:run", pk)
    context = {"run": run, "upload": upload, "read": read, "placing": placing, "form": form}
    return render(request, "energy/files/read.html", context, status=422 if form.is_bound else 200)


def _back_to_look(request: HttpRequest, read: ReadFile, look: str) -> HttpResponse:
    messages.error(request, read.refusal or "This file holds no readings. Point at the columns, or choose another file.")
    return redirect(look)


def _taken_in(request: HttpRequest, run: Run, upload: Upload, read: ReadFile, form: PlacingForm) -> bool:
    """Read the file in and say what came of it; False where it holds more than a run keeps, and the form then says so."""
    assert read.log is not None
    facts = FileFacts(upload.name, upload.digest, read.shape.to_dict(), read.words, doubts=read.log.doubts)
    try:
        loaded = operations.load_file(
            run=run,
            readings=read.log,
            facts=facts,
            placing=form.cleaned_data["placing"],
            by=request.user,
            at=timezone.now(),
            progress=uploads.teller(upload.token),
        )
    except operations.TooManyReadings as refused:
        form.add_error(None, str(refused))
        return False
    finally:
        uploads.end_progress(token=upload.token)
    uploads.forget_upload(token=upload.token)
    messages.success(request, _came_of_it(loaded))
    return True


def _came_of_it(loaded: operations.Loaded) -> str:
    said = [f"{loaded.fresh:,} readings of “{loaded.file.name}” are in."]
    said += [f"{loaded.known:,} were here already."] if loaded.known else []
    said += [f"{loaded.far:,} lie too far from this cook."] if loaded.far else []
    said += [f"{loaded.steady:,} that say what their neighbours say were left out."] if loaded.steady else []
    return " ".join(said)


@login_required
@require_safe
def log_progress(request: HttpRequest, pk: int, token: str) -> JsonResponse:
    """How far the reading of a file has come. ``/bench/runs/<pk>/log/<token>/progress/``: ``{"share": 0..1 or null}``."""
    access.run_for_bench(request.user, pk)
    return progress_answer(token)


def progress_answer(token: str) -> JsonResponse:
    """Return how far a reading has come, for the script that shows it."""
    return JsonResponse({"share": uploads.progress_of(token)})


@login_required
@require_POST
def log_confirm(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Say that a file was read rightly where that was in doubt. ``/bench/runs/<pk>/log/<number>/confirm/``; twice: the same."""
    file = access.file_for_bench(request.user, pk, number)
    operations.confirm_doubts(file=file)
    messages.success(request, f"Noted: “{file.name}” was read rightly.")
    return redirect("energy:run", pk)


@login_required
@require_POST
def log_take_out(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    """Take a file's readings out of a run again. ``/bench/runs/<pk>/log/<number>/take-out/``."""
    file = access.file_for_bench(request.user, pk, number)
    name = file.name
    operations.unload_file(file=file)
    messages.success(request, f"“{name}” is out again; the cook is as it was before.")
    return redirect("energy:run", pk)
