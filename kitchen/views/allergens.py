"""The allergens of a recipe on the bench: what its foods bring, and what the cook says."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from kitchen.domain.allergens import listed
from kitchen.forms.allergens import AllergensForm
from kitchen.models import Recipe
from kitchen.operations import say_allergens
from kitchen.queries import newest_revision, recipe_facts
from kitchen.views.doors import of_recipe


@never_cache
@of_recipe
@require_http_methods(["GET", "HEAD", "POST"])
def recipe_allergens(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """What the foods of the newest revision bring, and the cook's word. Address ``/bench/recipes/<slug>/allergens/``; its owner.

    An allergen ticked in both lists is refused beside its field.
    """
    facts = recipe_facts(newest_revision(recipe))
    told = listed(line for part in facts.parts for line in part.lines)
    brought = {*told.keys, *told.label_keys, *facts.allergens_removed}
    said = {"added": facts.allergens_added, "removed": facts.allergens_removed}
    form = AllergensForm(request.POST if request.method == "POST" else None, brought=brought, initial=said)
    if request.method == "POST" and form.is_valid():
        say_allergens(recipe=recipe, **form.cleaned_data, at=timezone.now())
        messages.success(request, "Saved. Readers see it with the next edition.")
        return redirect("kitchen:recipe-bench", recipe.slug)
    return render(request, "kitchen/bench/allergens.html", {"recipe": recipe, "told": told, "form": form, "brought": brought})
