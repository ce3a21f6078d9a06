"""A recipe's history on the bench: its revisions, two of them beside each other, going back, and why one was made."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from kitchen.access import revision_for_bench
from kitchen.forms.history import NoteForm, SeenForm, TwoRevisionsForm
from kitchen.models import Recipe
from kitchen.operations import CannotTakeBack, DraftClash, NothingToGoBack, Seen, go_back, say_why, take_back
from kitchen.queries import newest_revision, recipe_history, revision_numbers, revisions_beside
from kitchen.views.doors import of_recipe

_FORM = require_http_methods(["GET", "HEAD", "POST"])
_MOVED = "Nothing was done: somebody wrote in this recipe after you were asked. Look at it once more."


@never_cache
@of_recipe
@require_safe
def revisions(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """All revisions, the newest first. Address ``/bench/recipes/<slug>/revisions/``; its owner; constant queries.

    ``?before=1&after=3`` leads to the two beside each other; a revision that is not there is said beside its field.
    """
    rows = recipe_history(recipe)
    asked = request.GET if "before" in request.GET or "after" in request.GET else None
    form = TwoRevisionsForm(asked, numbers=[row.revision.number for row in rows])
    if asked is not None and form.is_valid():
        return redirect("kitchen:revisions-beside", recipe.slug, form.cleaned_data["before"], form.cleaned_data["after"])
    return render(request, "kitchen/bench/revisions.html", {"recipe": recipe, "rows": rows, "form": form})


@never_cache
@of_recipe
@require_safe
def beside(request: HttpRequest, recipe: Recipe, before: int, after: int) -> HttpResponse:
    """Two revisions in two columns, with what differs in words. Address ``/bench/recipes/<slug>/revisions/<a>/<b>/``; its owner.

    ``?only=1`` leaves out what is the same in both.
    """
    found = revisions_beside(recipe, (before, after))
    if found is None:
        raise Http404("There is no such revision.")
    form = TwoRevisionsForm(initial={"before": before, "after": after}, numbers=revision_numbers(recipe))
    context = {"recipe": recipe, "beside": found, "form": form, "only": "only" in request.GET}
    return render(request, "kitchen/bench/beside.html", context)


@never_cache
@of_recipe
@_FORM
def revision_back(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Go back to a revision after asking. Address ``/bench/recipes/<slug>/revisions/<n>/back/``; its owner.

    The page says what becomes of the newest; where somebody wrote meanwhile nothing is done and it asks once more.
    """
    revision = revision_for_bench(recipe, number)
    form = SeenForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        seen = Seen(form.cleaned_data["number"], form.cleaned_data["version"])
        try:
            opened = go_back(recipe=recipe, number=number, seen=seen, by=request.user, at=timezone.now())
            messages.success(request, f"This is revision {opened.number} now, as revision {number} was.")
            return redirect("kitchen:revisions", recipe.slug)
        except (DraftClash, NothingToGoBack) as refusal:
            messages.error(request, str(refusal) or _MOVED)
    newest = newest_revision(recipe)
    found = revisions_beside(recipe, (newest.number, number))
    seen_now = SeenForm(initial={"number": newest.number, "version": newest.draft_version})
    context = {"recipe": recipe, "revision": revision, "newest": newest, "beside": found, "form": seen_now}
    return render(request, "kitchen/bench/revision-back.html", context)


@of_recipe
@require_POST
def revision_take_back(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Take going back back. Address ``/bench/recipes/<slug>/revisions/<n>/undo/`` (POST); its owner; refused once written on."""
    try:
        newest = take_back(recipe=recipe, number=number, at=timezone.now())
        messages.success(request, f"Taken back: revision {newest.number} is the newest again.")
    except CannotTakeBack as refusal:
        messages.error(request, str(refusal))
    return redirect("kitchen:revisions", recipe.slug)


@never_cache
@of_recipe
@_FORM
def revision_note(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Why a revision was made. Address ``/bench/recipes/<slug>/revisions/<n>/note/``; its owner; locked ones take it too."""
    revision = revision_for_bench(recipe, number)
    form = NoteForm(request.POST if request.method == "POST" else None, initial={"note": revision.note})
    if request.method == "POST" and form.is_valid():
        say_why(revision=revision, note=form.cleaned_data["note"], at=timezone.now())
        messages.success(request, f"Saved with revision {number}.")
        return redirect("kitchen:revisions", recipe.slug)
    return render(request, "kitchen/bench/revision-note.html", {"recipe": recipe, "revision": revision, "form": form})
