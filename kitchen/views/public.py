"""What the world sees: the library, a recipe, its printed card, its editions."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from typing import Any
from urllib.parse import parse_qsl

from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse

from kitchen.access import edition_of
from kitchen.domain.band import shelf_top_w
from kitchen.domain.changes import what_changed
from kitchen.domain.facts import RecipeFacts
from kitchen.forms.kit import read_kit
from kitchen.forms.printing import PrintForm
from kitchen.forms.shelf import ShelfForm
from kitchen.models import Edition, Recipe
from kitchen.operations.turns import PRINTING_FOR_STRANGERS
from kitchen.page import present_page, read_facts, read_recipe
from kitchen.publish.leaves import CARD_SIZES, CardSet
from kitchen.publish.paper import print_cards
from kitchen.queries import editions_of, not_known_to_be_free, shelf, shelf_plates, the_site, words_near
from kitchen.queries.collections import collections_shown
from kitchen.queries.shown import recipe_shows, shelf_shows
from kitchen.views.asking import card_request, read_asked
from kitchen.views.doors import of_anybody
from kitchen.views.editions import of_published
from kitchen.views.framing import address_of, frame_of, place_of, whole_address
from kitchen.views.made_once import OF_CARD, OF_RECIPE, OF_SHELF, made_once
from kitchen.views.showing import show_recipe

PLATES_A_PAGE = 24


@of_anybody
@made_once(shelf_shows, OF_SHELF)
def library(request: HttpRequest) -> HttpResponse:
    """The shelf of published recipes. Address ``/``; anybody; a limit that cannot be read answers 400."""
    form = ShelfForm(request.GET)
    kit = read_kit(request.GET.dict())
    ask = form.ask(kit.limits)
    shown = Paginator(shelf(ask), PLATES_A_PAGE).get_page(request.GET.get("page"))
    if ask.words and not shown.paginator.count and (near := words_near(ask.words)):
        ask = replace(ask, near=near)
        shown = Paginator(shelf(ask), PLATES_A_PAGE).get_page(request.GET.get("page"))
    form.count(ask)
    query = request.GET.copy()
    query.pop("page", None)
    asked = any(query.get(name) for name in form.fields if name != "sort")
    plates = shelf_plates(list(shown))
    context = {"form": form, "shown": shown, "plates": plates, "asked": asked, "kit": kit}
    context["collections"] = list(collections_shown())
    context["top_w"] = shelf_top_w(plate.band for plate in plates)
    context |= {"near": ask.near, "unknown": not_known_to_be_free(ask) if ask.free_of else 0}
    context["query"] = f"{query.urlencode()}&" if query else ""
    return render(request, "kitchen/library.html", context, status=400 if form.errors else 200)


@of_anybody
@made_once(recipe_shows, OF_RECIPE, kit=True)
@of_published
def recipe(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe as written. Address ``/r/<slug>/``; anybody; 301 moved, 410 withdrawn, 404 not published.

    ``?for=8`` leads to the page for eight; a number that makes no sense is said beside the field (400).
    """
    site = the_site()
    facts, frame = read_facts(_edition(recipe).facts), frame_of(request, recipe, site)
    asked = read_asked(request, facts.recipe, site)
    if asked.readable and ("for" in request.GET or request.GET.get("grams")):
        return HttpResponseRedirect(address_of(frame, asked, asked.kept))
    return show_recipe(request, facts, frame, site, asked)


@of_anybody
@made_once(recipe_shows, OF_RECIPE, kit=True)
@of_published
def recipe_for(request: HttpRequest, recipe: Recipe, servings: str) -> HttpResponse:
    """A recipe for another number of servings. Address ``/r/<slug>/for-<n>/``; otherwise as ``recipe``.

    The number the recipe was written for, or one in another spelling ("08"), leads to the one address of that page.
    """
    site = the_site()
    facts, frame = read_facts(_edition(recipe).facts), frame_of(request, recipe, site)
    asked = read_asked(request, facts.recipe, site, servings)
    if asked.readable and (place_of(frame, asked) != request.path or request.GET.get("grams")):
        return HttpResponseRedirect(address_of(frame, asked, asked.kept))
    return show_recipe(request, facts, frame, site, asked)


@of_anybody
@made_once(recipe_shows, OF_CARD, kit=True)
@of_published
def card_pdf(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """The printed card. Address ``/r/<slug>/card.pdf?size=a6&for=8``; anybody; an unknown size or number is 404.

    ``sheet`` sets several on a sheet, ``ink`` is its colour, ``name`` and ``note`` stand at its foot.
    """
    site, form = the_site(), PrintForm(request.GET)
    facts, frame = read_facts(_edition(recipe).facts), frame_of(request, recipe, site)
    asked = read_asked(request, facts.recipe, site)
    if not form.is_valid() or not asked.readable:
        raise Http404(f"Cards are printed as {' or '.join(CARD_SIZES)}. {asked.sentence}")
    page = present_page(facts, card_request(asked, site, frame))
    frame = replace(frame, asked_address=whole_address(request, site, address_of(frame, asked, asked.kept)))
    cards = CardSet(((page, frame),), form.wish)
    return pdf_answer(print_cards(cards, turn=PRINTING_FOR_STRANGERS.turn), f"{recipe.slug}-{form.wish.size.key}.pdf")


@of_anybody
@of_published
def printing(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """How a card is printed: size, paper, ink, name and note. Address ``/r/<slug>/print/``; anybody; failures as ``recipe``.

    Servings and all else that was asked go on to the card; what cannot be printed is said beside its field (400).
    """
    site = the_site()
    facts, frame = read_facts(_edition(recipe).facts), frame_of(request, recipe, site)
    asked = read_asked(request, facts.recipe, site)
    if not asked.readable:
        raise Http404(asked.sentence)
    form = PrintForm(request.GET if any(name in request.GET for name in PrintForm.base_fields) else None)
    if form.is_bound and form.is_valid():
        return HttpResponseRedirect(f"{reverse('kitchen:card-pdf', args=[recipe.slug])}?{request.GET.urlencode()}")
    context = {"frame": frame, "recipe": facts.recipe, "form": form, "asked": asked, "kept": parse_qsl(asked.card_query)}
    return render(request, "kitchen/print.html", context, status=400 if form.errors else 200)


@of_anybody
@made_once(recipe_shows)
@of_published
def editions(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """Every edition with its day, its note and what changed. Address ``/r/<slug>/editions/``; anybody; failures as ``recipe``."""
    frame, newest_first = frame_of(request, recipe, the_site()), editions_of(recipe)
    read = {edition.number: read_recipe(edition.facts) for edition in newest_first}
    context = {
        "frame": frame,
        "recipe": read[_edition(recipe).number],
        "editions": _with_changes(newest_first, list(read.values())),
    }
    return render(request, "kitchen/editions.html", context)


@of_anybody
@made_once(recipe_shows, OF_RECIPE, kit=True)
@of_published
def past_edition(request: HttpRequest, recipe: Recipe, number: int) -> HttpResponse:
    """An older edition, from its own row. Address ``/r/<slug>/editions/<n>/``; anybody; no such edition, 404.

    The edition that readers see now has its own address: there it leads.
    """
    if number == _edition(recipe).number:
        return HttpResponseRedirect(reverse("kitchen:recipe", args=[recipe.slug]))
    edition, site = edition_of(recipe, number), the_site()
    facts = read_facts(edition.facts)
    asked = read_asked(request, facts.recipe, site)
    return show_recipe(request, facts, frame_of(request, recipe, site, edition), site, asked)


def _edition(recipe: Recipe) -> Edition:
    if recipe.current_edition is None:
        raise Http404("There is no recipe at this address.")
    return recipe.current_edition


def pdf_answer(content: bytes, name: str) -> HttpResponse:
    """Return a PDF that a browser shows, and keeps under this name."""
    return HttpResponse(content, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{name}"'})


def _with_changes(newest_first: list[Edition], read: list[RecipeFacts]) -> list[dict[str, Any]]:
    """Return each edition with what tells it from the one before."""
    changes = [what_changed(before, after) for after, before in pairwise(read)]
    return [
        {"edition": edition, "changes": told, "first": told is None}
        for edition, told in zip(newest_first, [*changes, None], strict=True)
    ]
