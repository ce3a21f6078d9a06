"""The recipe editor: one page, saved as it is typed."""

from __future__ import annotations

import re
import uuid

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from kitchen.access import recipe_for_bench
from kitchen.domain.arranging import Undo, arranged, read_undo
from kitchen.domain.typed import TypedDraft
from kitchen.models import Recipe
from kitchen.operations import Seen, forget_typed
from kitchen.views.clash import clash_answer
from kitchen.views.doors import of_cook, of_recipe
from kitchen.views.drafting import (
    Desk,
    Sent,
    begun_recipe,
    fresh_desk,
    opened_desk,
    taken_desk,
    untitled_desk,
)
from kitchen.views.lines import TAP, tapped

_PARTIALS = {"draft-state": "draft-state.html", "steps": "steps.html", "parts": "parts.html"}
_COUNT = re.compile(r"[0-9]{1,9}\Z")
_TURN = re.compile(r"[0-9]{1,15}\Z")  # milliseconds, as the page counts its typing
_CORRECT = re.compile(r"correct-([0-9]{1,18})\Z")


@never_cache
@of_cook
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_new(request: HttpRequest) -> HttpResponse:
    """A recipe that is not there yet. Address ``/bench/recipes/new/``; cooks; partials as ``recipe_edit``.

    The first page with a title makes the recipe; from then on the form names it and this address works on it like its own.
    """
    if request.method != "POST":
        return render(request, "kitchen/bench/editor.html", {"desk": fresh_desk(uuid.uuid4().hex)})
    named, once = (_hidden(request, name) for name in ("recipe", "once"))
    if named:
        return _take(request, recipe_for_bench(request.user, named))
    typed, undo = _typed(request)
    recipe = begun_recipe(request.user, typed, once, timezone.now())
    if recipe is None:
        return _answer(request, untitled_desk(typed, once, _hidden(request, "page"), undo))
    return _take(request, recipe)


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_edit(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe's editor. Address ``/bench/recipes/<slug>/edit/``; its owner; partials ``draft-state``, ``steps``, ``parts``.

    What cannot be saved is kept as typed and said beside its field; when somebody else saved in between nothing is written.
    """
    if request.method != "POST":
        aside = request.GET.get("aside", "")
        place = int(aside) if _COUNT.match(aside) else None
        return render(request, "kitchen/bench/editor.html", {"desk": opened_desk(recipe, uuid.uuid4().hex, place)})
    return _take(request, recipe)


def _take(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    wish = _wish(request)
    if wish == "discard":
        forget_typed(recipe=recipe)
        return redirect("kitchen:recipe-edit", recipe.slug)
    if wish in ("compare", "theirs"):
        return clash_answer(request, recipe, TypedDraft.from_fields(request.POST.dict()))
    typed, undo = _typed(request)
    sent = Sent(typed, _seen(request), _hidden(request, "page"), undo, on_top=wish == "mine")
    return _answer(request, taken_desk(request.user, recipe, sent, timezone.now()))


def _hidden(request: HttpRequest, name: str) -> str:
    """Return what a hidden field says, without the null characters that a database refuses and the page never sends."""
    return request.POST.get(name, "").replace("\0", "")[:80]


def _wish(request: HttpRequest) -> str:
    """Return the button that was pressed. Saving in the background presses none, whichever happens to have the focus."""
    background = request.headers.get("HX-Target") == "draft-state"
    return "" if background else request.POST.get("do", "")


def _typed(request: HttpRequest) -> tuple[TypedDraft, Undo | None]:
    posted = TypedDraft.from_fields(request.POST.dict())
    return arranged(posted, _wish(request), read_undo(request.POST.get("undo", "")))


def _seen(request: HttpRequest) -> Seen | None:
    number, version, turn = (request.POST.get(name, "") for name in ("number", "version", "turn"))
    if not (_COUNT.match(number) and _COUNT.match(version)):
        return None
    return Seen(int(number), int(version), _hidden(request, "page"), int(turn) if _TURN.match(turn) else 0)


def _answer(request: HttpRequest, desk: Desk) -> HttpResponse:
    """Return the part that htmx asked for, the next page, or this page again with what is wrong on it."""
    partial = _PARTIALS.get(request.headers.get("HX-Target", "")) if request.headers.get("HX-Request") == "true" else None
    if partial is not None:
        answer = render(request, "kitchen/bench/swaps.html", {"desk": desk, "partial": f"kitchen/bench/{partial}"})
        if desk.recipe is not None:
            answer.headers["HX-Replace-Url"] = reverse("kitchen:recipe-edit", args=[desk.recipe.slug])
        return answer
    onward = _onward(request, desk)
    return onward or render(request, "kitchen/bench/editor.html", {"desk": desk})


def _onward(request: HttpRequest, desk: Desk) -> HttpResponse | None:
    """Return where a button without script leads, or None where the page has to be shown again."""
    wish = _wish(request)
    if desk.recipe is None or desk.state.kind == "clash":
        return None
    edit = reverse("kitchen:recipe-edit", args=[desk.recipe.slug])
    correct = _CORRECT.match(wish)
    if correct is not None:
        return redirect("kitchen:line-correct", desk.recipe.slug, int(correct[1]))
    if TAP.match(wish):
        return tapped(request, desk.recipe, wish)
    if not desk.saved or wish not in ("save", "done", "read", "mine"):
        return None
    if wish == "read":
        return HttpResponseRedirect(f"{edit}#lines-read")
    messages.success(request, _saved_words(desk))
    return redirect("kitchen:recipe-bench", desk.recipe.slug) if wish == "done" else HttpResponseRedirect(edit)


def _saved_words(desk: Desk) -> str:
    if desk.state.kind == "same":
        return "Nothing has changed since it was last saved."
    opened = f" This is revision {desk.revision.number} now." if desk.state.opened and desk.revision is not None else ""
    return f"Saved {timezone.localtime(desk.state.at):%H:%M}.{opened}"
