"""The kept ways of reading meters' files: their list, a new name, and removing one so that it can be put back."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core import signing
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from energy import access
from energy.meters.forms.files import ShapeNameForm
from energy.meters.operations import files as operations
from energy.meters.queries import files as queries
from energy.models import FileShape

_SALT = "energy.removed-shape"


@login_required
@require_safe
def shape_list(request: HttpRequest) -> HttpResponse:
    """List the kept ways of reading. ``/bench/files/shapes/``; any signed-in cook."""
    token = request.GET.get("removed", "")
    context = {"shapes": queries.shape_rows(), "removed": token if token and _removed_shape(token) else ""}
    return render(request, "energy/files/shapes.html", context)


@login_required
@require_http_methods(["GET", "HEAD", "POST"])
def shape_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a kept way of reading another name. ``/bench/files/shapes/<pk>/``; a bad name comes back as typed."""
    shape = access.gear(FileShape, pk)
    form = ShapeNameForm(request.POST or None, shape=shape, initial={"name": shape.name})
    if request.method == "POST" and form.is_valid():
        operations.rename_shape(shape=shape, name=form.cleaned_data["name"])
        messages.success(request, "The name is saved.")
        return redirect("energy:file-shapes")
    context = {"shape": shape, "form": form}
    return render(request, "energy/files/shape.html", context, status=422 if form.is_bound else 200)


@login_required
@require_POST
def shape_remove(request: HttpRequest, pk: int) -> HttpResponse:
    """Remove a kept way of reading; the list then offers to put it back. ``/bench/files/shapes/<pk>/remove/``."""
    removed = operations.remove_shape(shape=access.gear(FileShape, pk))
    token = signing.dumps(removed, salt=_SALT, compress=True)
    return redirect(f"{reverse('energy:file-shapes')}?removed={token}")


@login_required
@require_POST
def shape_put_back(request: HttpRequest) -> HttpResponse:
    """Put a removed way of reading back. ``/bench/files/shapes/put-back/``; twice changes nothing."""
    removed = _removed_shape(request.POST.get("removed", ""))
    if removed is None:
        messages.error(request, "It cannot be put back any more. Keep it again when you next read such a file.")
    else:
        operations.keep_shape(name=removed["name"], shape=removed["shape"], at=timezone.now())
        messages.success(request, f"“{removed['name']}” is back.")
    return redirect("energy:file-shapes")


def _removed_shape(token: str) -> dict[str, Any] | None:
    try:
        removed: dict[str, Any] = signing.loads(token, salt=_SALT)
    except signing.BadSignature:
        return None
    return removed
