"""Two pages wrote in one recipe: both beside each other, and the choice between them, which loses neither."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_POST

from kitchen.domain.changes import what_changed
from kitchen.domain.compare import compare
from kitchen.domain.typed import TypedDraft
from kitchen.domain.typed_facts import facts_as_typed
from kitchen.forms.draft import typed_from
from kitchen.models import Recipe
from kitchen.operations import forget_aside, set_aside
from kitchen.queries import draft_of, newest_revision
from kitchen.views.doors import of_recipe

_KEPT = "You see what was saved. What you had typed is set aside below, and can be put back."
_UNKEPT = "That is too much text to set aside. Copy what you need first, or make it shorter."


def clash_answer(request: HttpRequest, recipe: Recipe, mine: TypedDraft) -> HttpResponse:
    """Return both beside each other, or go to what was saved and set mine aside."""
    if request.POST.get("do") == "theirs":
        if set_aside(recipe=recipe, fields=mine.as_fields(), who=request.user.get_username(), at=timezone.now()):
            messages.success(request, _KEPT)
            return redirect("kitchen:recipe-edit", recipe.slug)
        messages.error(request, _UNKEPT)
    newest = newest_revision(recipe)
    theirs, typed = facts_as_typed(typed_from(draft_of(newest))), facts_as_typed(mine)
    context = {
        "recipe": recipe,
        "newest": newest,
        "comparison": compare(theirs, typed),
        "changes": what_changed(theirs, typed),
        "fields": mine.as_fields(),
        "page": request.POST.get("page", "").replace("\0", "")[:80],
        "seen": {name: request.POST.get(name, "").replace("\0", "")[:20] for name in ("number", "version", "turn")},
    }
    return render(request, "kitchen/bench/clash.html", context)


@of_recipe
@require_POST
def aside_forget(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Throw away a page that was set aside. Address ``/bench/recipes/<slug>/edit/aside/<n>/forget/`` (POST); its owner."""
    forget_aside(recipe=recipe, place=number)
    return redirect("kitchen:recipe-edit", recipe.slug)
