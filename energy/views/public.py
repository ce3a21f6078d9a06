"""What readers see of measuring: how one recipe's figures were measured, and how figures are measured at all."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from energy.cards.measured import how_it_was_measured
from energy.cards.method import method_numbers
from kitchen.models import Recipe
from kitchen.queries import the_site
from kitchen.views.editions import of_published
from kitchen.views.framing import frame_of
from kitchen.views.showing import fresh


@require_safe
@of_published
def how_measured(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Every run behind a recipe's figures. ``/r/<slug>/runs/``; anybody; from the edition; 404 when nothing was measured."""
    edition = recipe.current_edition
    facts = edition.facts if edition else {}
    if "energy" not in facts.get("cards", {}):
        raise Http404("Nothing was measured for this edition.")
    shown = how_it_was_measured(facts["cards"]["energy"])
    context = {"title": facts["recipe"]["title"], "measured": shown, "frame": frame_of(request, recipe, the_site())}
    return fresh(request, render(request, "energy/public/runs.html", context))


@require_safe
def method(request: HttpRequest) -> HttpResponse:
    """How figures are measured and what they mean. ``/method/``; anybody."""
    return fresh(request, render(request, "energy/public/method.html", {"numbers": method_numbers()}))
