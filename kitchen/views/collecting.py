"""Collections on the bench: made, named, filled, put in order, shown and taken back."""

from __future__ import annotations

from typing import Any

from django import forms
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.access import is_out
from kitchen.cards import BenchLink, registered
from kitchen.collected import Collection
from kitchen.forms.collections import CollectionForm, NewCollectionForm
from kitchen.operations.collections import (
    NothingToShow,
    change_collection,
    delete_collection,
    make_collection,
    publish_collection,
    undo_change,
    withdraw_collection,
)
from kitchen.queries.collections import collections_on_bench, dishes_on_bench, recipes_to_collect
from kitchen.views.doors import of_collection, of_cook

_FORM = require_http_methods(["GET", "HEAD", "POST"])
COLLECTIONS_A_PAGE = 50


@never_cache
@of_cook
@_FORM
def collections_bench(request: HttpRequest) -> HttpResponse:
    """The collections, and the form that begins one. Address ``/bench/collections/``; cooks; each sees what they may change."""
    form = NewCollectionForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        made = make_collection(owner=request.user, title=form.cleaned_data["title"], at=timezone.now())
        return redirect("kitchen:collection-bench", made.slug)
    shown = Paginator(collections_on_bench(request.user), COLLECTIONS_A_PAGE).get_page(request.GET.get("page"))
    return render(request, "kitchen/bench/collections.html", {"form": form, "shown": shown})


@never_cache
@of_collection
@_FORM
def collection_bench(request: HttpRequest, collection: Collection) -> HttpResponse:
    """One collection, changed as a whole. Address ``/bench/collections/<slug>/``; its owner; 422 for what is wrong."""
    held, choices = dishes_on_bench(collection), list(recipes_to_collect(request.user))
    known = {one.pk for one in choices}
    choices += [one.recipe for one in held if one.recipe_id not in known]
    dishes = [(one.recipe_id, one.servings) for one in held]
    form = CollectionForm(
        request.POST if request.method == "POST" else None,
        dishes=dishes,
        choices=choices,
        initial={"title": collection.title, "summary": collection.summary},
    )
    if request.method == "POST" and form.is_valid():
        words = {name: form.cleaned_data[name] for name in ("title", "summary")}
        change_collection(collection=collection, dishes=form.dishes, at=timezone.now(), **words)
        return redirect("kitchen:collection-bench", collection.slug)
    context = {"collection": collection, "form": form, "links": _links(held)}
    context["hidden"] = [one.recipe.title for one in held if not is_out(one.recipe)]
    return render(request, "kitchen/bench/collection.html", context, status=422 if form.errors else 200)


def _links(held: list[Any]) -> list[BenchLink]:
    """Return what the cards offer for all of it."""
    dishes = [(one.recipe.slug, one.servings or one.written) for one in held]
    return [link for card in registered() for link in card.buying(dishes)] if held else []


@of_collection
@require_POST
def collection_undo(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Put back what the last change took. Address ``/bench/collections/<slug>/undo/`` (POST); its owner."""
    undo_change(collection=collection, at=timezone.now())
    return redirect("kitchen:collection-bench", collection.slug)


@of_collection
@require_POST
def collection_publish(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Show it to readers. Address ``/bench/collections/<slug>/publish/`` (POST); its owner; refused in a sentence where empty."""
    try:
        publish_collection(collection=collection, at=timezone.now())
        messages.success(request, "Readers can see it now. What you change here they see at once.")
    except NothingToShow as refusal:
        messages.error(request, str(refusal))
    return redirect("kitchen:collection-bench", collection.slug)


@of_collection
@require_POST
def collection_withdraw(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Take it back from readers. Address ``/bench/collections/<slug>/withdraw/`` (POST); its owner."""
    withdraw_collection(collection=collection, at=timezone.now())
    messages.success(request, "Taken back: its address says that it is gone. Its recipes stay where they are.")
    return redirect("kitchen:collection-bench", collection.slug)


@never_cache
@of_collection
@_FORM
def collection_delete(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Delete it after asking. Address ``/bench/collections/<slug>/delete/``; its owner; its recipes stay."""
    form = forms.Form(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        delete_collection(collection=collection)
        messages.success(request, f"“{collection.title}” is deleted. Its recipes stay.")
        return redirect("kitchen:collections-bench")
    return render(request, "kitchen/bench/collection-delete.html", {"collection": collection})
