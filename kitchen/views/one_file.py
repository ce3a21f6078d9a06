"""A recipe or a collection as one file to take along."""

from __future__ import annotations

from django.http import Http404, HttpRequest, HttpResponse

from kitchen.collected import Collection
from kitchen.gathering import Gathered, Gathering
from kitchen.models import Recipe
from kitchen.page import present_page, read_facts
from kitchen.publish.one_file import one_file
from kitchen.queries import the_site
from kitchen.queries.shown import collection_shows, recipe_shows
from kitchen.views.asking import card_request, read_asked
from kitchen.views.collections import gather_collection, of_shown, read_together
from kitchen.views.doors import of_anybody
from kitchen.views.editions import of_published
from kitchen.views.framing import frame_of
from kitchen.views.made_once import OF_COLLECTION, OF_RECIPE, made_once


@of_anybody
@made_once(recipe_shows, OF_RECIPE | OF_COLLECTION, kit=True)
@of_published
def recipe_file(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe as one file. Address ``/r/<slug>/one-file.html?for=8``; anybody; what makes no sense is 404."""
    site, edition = the_site(), recipe.current_edition
    facts, frame = read_facts(edition.facts if edition else {}), frame_of(request, recipe, site)
    asked = read_asked(request, facts.recipe, site)
    if not asked.sound:
        raise Http404(asked.sentence)
    page = present_page(facts, card_request(asked, site, frame))
    return _file(one_file(page.recipe.title, Gathering((Gathered(page, frame),)), alone=True), recipe.slug)


@of_anybody
@made_once(collection_shows, OF_COLLECTION, kit=True)
@of_shown
def collection_file(request: HttpRequest, collection: Collection) -> HttpResponse:
    """A collection as one file. Address ``/c/<slug>/one-file.html?for=8``; anybody; what makes no sense is 404."""
    site, asked = the_site(), read_together(request)
    if asked.sentence or not asked.kit.sound:
        raise Http404(asked.sentence)
    found = gather_collection(request, site, asked, collection)
    return _file(one_file(collection.title, found, summary=collection.summary), collection.slug)


def _file(text: str, name: str) -> HttpResponse:
    """Return a file to be saved: opened here, its own style would be refused."""
    return HttpResponse(text, headers={"Content-Disposition": f'attachment; filename="{name}.html"'})
