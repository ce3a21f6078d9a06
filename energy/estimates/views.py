"""What readers see of measuring: how one recipe's figures were measured, and how figures are measured at all."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from energy.cards.measured import how_it_was_measured
from energy.cards.method import method_numbers
from energy.cards.open_runs import runs_csv
from energy.facts import EnergyFacts
from kitchen.models import Recipe
from kitchen.page import read_facts, read_recipe
from kitchen.publish.rights import rights_of
from kitchen.queries import the_site
from kitchen.queries.shown import recipe_shows, site_shows
from kitchen.views.doors import of_anybody
from kitchen.views.editions import of_published
from kitchen.views.framing import frame_of
from kitchen.views.machines import for_everybody
from kitchen.views.made_once import made_once


@of_anybody
@made_once(recipe_shows)
@of_published
def how_measured(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Every run behind a recipe's figures. ``/r/<slug>/runs/``; anybody; from the edition; 404 when nothing was measured."""
    edition = recipe.current_edition
    facts = edition.facts if edition else {}
    if "energy" not in facts.get("cards", {}):
        raise Http404("Nothing was measured for this edition.")
    shown = how_it_was_measured(facts["cards"]["energy"])
    frame = frame_of(request, recipe, the_site())
    rights = rights_of(read_recipe(facts), frame, "cite_runs")
    context = {"title": facts["recipe"]["title"], "measured": shown, "frame": frame, "rights": rights}
    return render(request, "energy/public/runs.html", context)


@of_anybody
@made_once(site_shows)
def method(request: HttpRequest) -> HttpResponse:
    """How figures are measured and what they mean. ``/method/``; anybody."""
    return render(request, "energy/public/method.html", {"numbers": method_numbers()})


@of_anybody
@of_published
def runs_as_csv(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """The measured runs as data. Address ``/r/<slug>/runs.csv``; anybody; nothing measured is 404; otherwise as the page."""
    edition, site = recipe.current_edition, the_site()
    facts = None if edition is None else read_facts(edition.facts)
    held: EnergyFacts | None = facts.cards.get("energy") if facts else None
    if edition is None or facts is None or held is None:
        raise Http404("Nothing was measured for this edition.")
    frame = frame_of(request, recipe, site)
    rights = rights_of(facts.recipe, frame, "cite_runs")
    about = {
        "recipe": facts.recipe.title,
        "recipe_url": frame.address,
        "edition": edition.number,
        "licence": rights.licence or rights.words,
        "cite_as": rights.cite_as,
    }
    answer = HttpResponse(runs_csv(held, about, timezone.get_default_timezone()), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{recipe.slug}-runs.csv"'
    if rights.header:
        answer["Link"] = rights.header
    return for_everybody(request, answer)
