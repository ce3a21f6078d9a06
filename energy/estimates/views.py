"""What readers see of measuring: how one recipe's figures were measured, and how figures are measured at all."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone

from energy.cards.measured import how_it_was_measured
from energy.cards.method import method_numbers
from energy.cards.open_runs import runs_csv
from energy.facts import EnergyFacts
from energy.words import ENGLISH, sentence
from kitchen.models import Recipe
from kitchen.page import read_facts
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
    context = {"title": facts["recipe"]["title"], "measured": shown, "frame": frame_of(request, recipe, the_site())}
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
    frame, author = frame_of(request, recipe, site), facts.recipe.author
    cited = {"title": facts.recipe.title, "edition": edition.number, "site": site.name, "address": frame.address}
    about = {
        "recipe": facts.recipe.title,
        "recipe_url": frame.address,
        "edition": edition.number,
        "licence": sentence(ENGLISH, "no_licence", author=author),
        "cite_as": sentence(ENGLISH, "cite_runs", author=author, year=edition.published_at.year, **cited),
    }
    answer = HttpResponse(runs_csv(held, about, timezone.get_default_timezone()), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{recipe.slug}-runs.csv"'
    return for_everybody(request, answer)
