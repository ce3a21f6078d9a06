"""Putting a recipe before the world and taking it back: publish, withdraw, its address, its sides, its end."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST

from kitchen.access import side_for_bench
from kitchen.forms.shelving import PublishForm, SideForm, SlugForm
from kitchen.models import Recipe
from kitchen.operations import (
    CannotDelete,
    CannotPublish,
    SlugTaken,
    bring_back_recipe,
    delete_recipe,
    pair_side,
    publish_recipe,
    rename_slug,
    unpair_side,
    withdraw_recipe,
)
from kitchen.queries import newest_revision
from kitchen.views.doors import of_recipe
from kitchen.views.next_edition import next_edition

_FORM = require_http_methods(["GET", "HEAD", "POST"])


@never_cache
@of_recipe
@_FORM
def recipe_publish(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """What would go out, and the form that sends it. Address ``/bench/recipes/<slug>/publish/``; its owner.

    A recipe without ingredients or method, or one that says just what its edition says, is refused in a sentence.
    """
    revision, at = newest_revision(recipe), timezone.now()
    form = PublishForm(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            edition = publish_recipe(recipe=recipe, revision=revision, by=request.user, note=form.cleaned_data["note"], at=at)
        except CannotPublish as refusal:
            form.add_error(None, str(refusal))
        else:
            messages.success(request, f"Edition {edition.number} is out.")
            return redirect("kitchen:recipe-bench", recipe.slug)
    ahead = next_edition(recipe, revision, at)
    context = {"recipe": recipe, "revision": revision, "form": form, "ahead": ahead, "missing": ahead.missing}
    return render(request, "kitchen/bench/publish.html", {**context, "unsaved": bool(revision.typed.get("fields"))})


@of_recipe
@require_POST
def recipe_withdraw(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Take a published recipe back. Address ``/bench/recipes/<slug>/withdraw/`` (POST); its owner."""
    withdraw_recipe(recipe=recipe, at=timezone.now())
    messages.success(request, "Withdrawn: its address says that it is gone. Its editions stay, and it can be published again.")
    return redirect("kitchen:recipe-bench", recipe.slug)


@of_recipe
@require_POST
def recipe_bring_back(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Show a withdrawn recipe again. Address ``/bench/recipes/<slug>/bring-back/`` (POST); its owner."""
    bring_back_recipe(recipe=recipe, at=timezone.now())
    messages.success(request, "It is back, as it was last published.")
    return redirect("kitchen:recipe-bench", recipe.slug)


@never_cache
@of_recipe
@_FORM
def recipe_address(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Move a recipe to another address. Address ``/bench/recipes/<slug>/address/``; its owner; a taken one is refused."""
    form = SlugForm(request.POST if request.method == "POST" else None, initial={"slug": recipe.slug})
    if request.method == "POST" and form.is_valid():
        try:
            recipe = rename_slug(recipe=recipe, slug=form.cleaned_data["slug"], at=timezone.now())
            return redirect("kitchen:recipe-bench", recipe.slug)
        except SlugTaken as refusal:
            form.add_error("slug", str(refusal))
    return render(request, "kitchen/bench/address.html", {"recipe": recipe, "form": form})


@never_cache
@of_recipe
@_FORM
def recipe_sides(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Serve a side with a recipe. Address ``/bench/recipes/<slug>/sides/``; its owner; what is wrong stands beside its field."""
    form = SideForm(request.POST if request.method == "POST" else None, recipe=recipe, person=request.user)
    if request.method == "POST" and form.is_valid():
        pair_side(main=recipe, side=form.cleaned_data["side"], portions=form.cleaned_data["portions"], at=timezone.now())
        return redirect("kitchen:recipe-bench", recipe.slug)
    return render(request, "kitchen/bench/sides.html", {"recipe": recipe, "form": form})


@of_recipe
@require_POST
def recipe_unpair(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """Take a side away. Address ``/bench/recipes/<slug>/sides/<n>/remove/`` (POST); its owner."""
    unpair_side(main=recipe, side=side_for_bench(recipe, number), at=timezone.now())
    return redirect("kitchen:recipe-bench", recipe.slug)


@never_cache
@of_recipe
@_FORM
def recipe_delete(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Delete a recipe after asking. Address ``/bench/recipes/<slug>/delete/``; its owner; a published or cooked one is kept."""
    form = forms.Form(request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        try:
            delete_recipe(recipe=recipe)
            messages.success(request, f"“{recipe.title}” is deleted.")
            return redirect("kitchen:bench")
        except CannotDelete as refusal:
            form.add_error(None, str(refusal))
    return render(request, "kitchen/bench/delete.html", {"recipe": recipe, "form": form})
