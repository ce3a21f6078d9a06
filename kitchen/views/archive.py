"""The whole library as one file: pack it, look at one, unpack it."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from django.conf import settings
from django.http import FileResponse, HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import render
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.archivists import Account, ArchiveRefused
from kitchen.forms.archive import ArchiveForm, UnpackForm
from kitchen.importers.archive import Archive
from kitchen.operations.packing import pack_library
from kitchen.operations.room import need_room
from kitchen.operations.unpacking import owners_in, unpack_library
from kitchen.operations.waiting import forget_waiting, keep_waiting, waiting_archive
from kitchen.queries import the_site
from kitchen.views.doors import of_owner

_TEMPLATE = "kitchen/bench/archive.html"
_GONE = "That archive is not waiting any more: it was unpacked, or a day went by. Send it once more."


@never_cache
@of_owner
@require_http_methods(["GET", "HEAD", "POST"])
def archive(request: HttpRequest) -> HttpResponse:
    """Pack, or send an archive and be told what it would add. Address ``/bench/archive/``; the owner.

    What is no archive is refused beside the field. What is one waits for a day, and nothing is written before the yes.
    """
    form = ArchiveForm(request.POST, request.FILES) if request.method == "POST" else ArchiveForm()
    if request.method != "POST" or not form.is_valid():
        return render(request, _TEMPLATE, {"form": form})
    token = keep_waiting(pieces=form.cleaned_data["archive"].chunks(), at=timezone.now())
    try:
        yes = _asked(request, token)
        account = _unpack(request, token, yes)
    except ArchiveRefused as refusal:
        forget_waiting(token=token)
        form.add_error("archive", str(refusal))
        return render(request, _TEMPLATE, {"form": form})
    context = {"account": account, "yes": yes, "name": form.cleaned_data["archive"].name}
    return render(request, "kitchen/bench/archive-look.html", context)


@never_cache
@of_owner
@require_POST
def archive_unpack(request: HttpRequest) -> HttpResponse:
    """Unpack the archive that waits, or let it go. Address ``/bench/archive/unpack/`` (POST); the owner."""
    token = request.POST.get("token", "")
    if request.POST.get("do") == "leave" or waiting_archive(token) is None:
        forget_waiting(token=token)
        form = ArchiveForm()
        return render(request, _TEMPLATE, {"form": form, "gone": "" if request.POST.get("do") == "leave" else _GONE})
    try:
        account = _unpack(request, token, _asked(request, token, request.POST))
    except ArchiveRefused as refusal:
        return render(request, _TEMPLATE, {"form": ArchiveForm(), "gone": str(refusal)})
    forget_waiting(token=token)
    return render(request, "kitchen/bench/archive-done.html", {"account": account})


def _waiting(token: str) -> Path:
    path = waiting_archive(token)
    if path is None:
        raise ArchiveRefused(_GONE)
    return path


def _asked(request: HttpRequest, token: str, sent: Any = None) -> UnpackForm:
    """Return the questions that the waiting archive raises, answered where something was sent."""
    with _waiting(token).open("rb") as file:
        owners = owners_in(Archive(file))
    return UnpackForm(sent, owners=owners, by=request.user, initial={"token": token})


def _unpack(request: HttpRequest, token: str, yes: UnpackForm) -> Account:
    """Unpack, or only look where the questions were not answered yet."""
    if yes.is_bound and not yes.is_valid():
        raise ArchiveRefused("Say whose the recipes will be. Send the archive once more.")
    cooks, words = (yes.cooks(), yes.cleaned_data["words"]) if yes.is_bound else ({}, False)
    with _waiting(token).open("rb") as file:
        return unpack_library(
            archive=Archive(file), by=request.user, at=timezone.now(), check=not yes.is_bound, words=words, cooks=cooks
        )


@never_cache
@of_owner
@require_POST
def archive_pack(request: HttpRequest) -> HttpResponseBase:
    """Send the whole library as one file. Address ``/bench/archive/pack/`` (POST); the owner.

    It is written to a file on the disk that has room for photos, so that a large library needs no memory, and sent from there.
    """
    need_room()
    folder, now = Path(settings.MEDIA_ROOT), timezone.now()
    folder.mkdir(parents=True, exist_ok=True)
    out: Any = tempfile.TemporaryFile(dir=folder, prefix=".packing-")  # noqa: SIM115  (the answer closes it)
    pack_library(out=out, at=now)
    out.seek(0)
    name = f"{slugify(the_site().name) or 'library'}-{timezone.localtime(now):%Y-%m-%d}.zip"
    return FileResponse(out, as_attachment=True, filename=name, content_type="application/zip")
