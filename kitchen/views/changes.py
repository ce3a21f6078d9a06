"""What was done to shared things and accounts, by whom; a shared thing is put back in one tap."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from kitchen.access import change_of_shared
from kitchen.operations.journal import CannotBePutBack, put_back
from kitchen.queries.changes import all_changes, change_rows
from kitchen.shared import kind_of
from kitchen.views.doors import hand_of, of_cook

CHANGES_A_PAGE = 50


@never_cache
@of_cook
@require_safe
def changes(request: HttpRequest) -> HttpResponse:
    """What was done, the newest first. Address ``/bench/changes/``; cooks see shared things, the owner accounts too."""
    found = all_changes(with_accounts=request.user.is_superuser)
    shown = Paginator(found, CHANGES_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "kitchen/bench/changes.html", {"shown": shown, "rows": change_rows(shown)})


@of_cook
@require_POST
def change_put_back(request: HttpRequest, number: int) -> HttpResponse:
    """Let a shared thing stand as before a change. Address ``/bench/changes/<n>/put-back/`` (POST); cooks; refused in words."""
    try:
        thing = put_back(change=change_of_shared(number), by=hand_of(request))
    except CannotBePutBack as refusal:
        messages.error(request, str(refusal))
        return redirect("kitchen:changes")
    messages.success(request, f"“{thing}” stands as it did.")
    return redirect(kind_of(thing).address(thing.pk))
