"""Bringing in a recipe from a saved page, recipe data or pasted text: first a preview, then a draft."""

from __future__ import annotations

import re
import uuid
from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.forms.importing import ImportForm, PreviewForm, pack, unpack
from kitchen.importers import ReadPage, ReadRecipe
from kitchen.importers.drafting import doubts_of, draft_fields, facts_of
from kitchen.models import Recipe
from kitchen.operations.importing import bring_in_recipe, duplicate_recipe
from kitchen.views.doors import of_cook, of_recipe

_OTHER = re.compile(r"other-([0-9])\Z")


@never_cache
@of_cook
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_import(request: HttpRequest) -> HttpResponse:
    """Import a recipe. Address ``/bench/recipes/import/``; cooks; it becomes their own.

    What cannot be read is said beside its field; the preview keeps every correction until it becomes a draft.
    """
    if request.method != "POST":
        return render(request, "kitchen/bench/import.html", {"form": ImportForm()})
    wish = request.POST.get("do", "read")
    if wish == "make":
        return _made(request)
    if _OTHER.match(wish):
        return _another(request, int(wish[-1]))
    form = ImportForm(request.POST, request.FILES)
    if not form.is_valid():
        return render(request, "kitchen/bench/import.html", {"form": form})
    return _preview(request, *_first(form.read))


@of_recipe
@require_POST
def recipe_duplicate(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Begin another recipe with the words of this one. ``/bench/recipes/<slug>/duplicate/`` (POST); its owner."""
    made = duplicate_recipe(recipe=recipe, owner=request.user, at=timezone.now())
    messages.success(request, "This is a recipe of its own now. Photos and cooks stayed with the other one.")
    return redirect("kitchen:recipe-edit", made.slug)


def _first(page: ReadPage) -> tuple[dict[str, str], dict[str, Any]]:
    """Return the fields of the preview that a page begins with, and what it has to remember."""
    first, *others = [_remembered(recipe) for recipe in (page.recipe, *page.others)]
    return first["fields"], {"doubts": first["doubts"], "facts": first["facts"], "others": others}


def _remembered(recipe: ReadRecipe) -> dict[str, Any]:
    return {"fields": draft_fields(recipe), "doubts": doubts_of(recipe), "facts": facts_of(recipe)}


def _preview(request: HttpRequest, fields: Mapping[str, Any], kept: Mapping[str, Any], once: str = "") -> HttpResponse:
    context = {
        "form": PreviewForm(fields),
        "doubts": kept["doubts"],
        "facts": kept["facts"],
        "others": [_label(other, fields["title"]) for other in kept["others"]],
        "kept": pack(dict(kept)),
        "once": once or uuid.uuid4().hex,
    }
    return render(request, "kitchen/bench/import-preview.html", context)


def _label(other: Mapping[str, Any], shown: str) -> str:
    """Return the title of another recipe; of another reading of the one that is shown, what it was read from."""
    title = str(other["fields"]["title"])
    facts = other.get("facts") or [("", "")]
    return f"{title}, from {facts[0][1]}" if title == shown and facts[0][1] else title or "without a title"


def _another(request: HttpRequest, place: int) -> HttpResponse:
    """Show another recipe of the same page; this one takes its place among the others, corrections and all."""
    kept = unpack(request.POST.get("kept", ""))
    if place >= len(kept["others"]):
        return _preview(request, _typed(request), kept, _hidden(request, "once"))
    chosen = kept["others"][place]
    others = [*kept["others"]]
    others[place] = {"fields": _typed(request), "doubts": kept["doubts"], "facts": kept["facts"]}
    told = unpack(pack({"doubts": chosen.get("doubts"), "facts": chosen.get("facts")}))
    return _preview(request, chosen["fields"], {**told, "others": others})


def _made(request: HttpRequest) -> HttpResponse:
    """Make the draft and lead to its editor, or show the preview again with what is wrong beside its field."""
    form = PreviewForm(_typed(request))
    once = _hidden(request, "once")
    if not form.is_valid():
        return _preview(request, _typed(request), unpack(request.POST.get("kept", "")), once)
    recipe = bring_in_recipe(owner=request.user, draft=form.draft(), once=once, at=timezone.now())
    messages.success(
        request,
        "The draft is there. Look over the stages and minutes that were read from its steps, and how its lines were read.",
    )
    return redirect("kitchen:recipe-edit", recipe.slug)


def _typed(request: HttpRequest) -> dict[str, str]:
    return {name: request.POST.get(name, "").replace("\0", "") for name in PreviewForm.base_fields}


def _hidden(request: HttpRequest, name: str) -> str:
    return request.POST.get(name, "").replace("\0", "")[:80]
