"""The bench: what waits, the recipes, one recipe's own page, its draft as readers would see it."""

from __future__ import annotations

from typing import Any

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.clickjacking import xframe_options_sameorigin
from django.views.decorators.http import require_safe

from kitchen.cards import Attention, registered
from kitchen.domain.address_words import says_nothing
from kitchen.forms.shelving import SideForm
from kitchen.models import Recipe, Revision
from kitchen.page import PageFrame, read_facts
from kitchen.queries import (
    collect_facts,
    newest_revision,
    pairings_of,
    recipes_on_bench,
    recipes_to_record,
    revision_stories,
    the_site,
)
from kitchen.queries.roles import is_helper
from kitchen.views.asking import read_asked
from kitchen.views.doors import of_cook, of_recipe
from kitchen.views.first_things import first_things, undone
from kitchen.views.helping import for_helpers
from kitchen.views.next_edition import next_edition, next_thing
from kitchen.views.showing import show_recipe

RECIPES_A_PAGE = 50
MOST_ATTENTION = 30

_LED_TO = ("write", "unmeasured")
"""What the way to the first published recipe says already."""


@for_helpers
@never_cache
@of_cook
@require_safe
def bench(request: HttpRequest) -> HttpResponse:
    """What needs attention, then the recipes. Address ``/bench/``; cooks; each sees what they may edit. Constant queries."""
    if is_helper(request.user):
        return _helpers_bench(request)
    recipes = list(recipes_on_bench(request.user))
    first = first_things(recipes)
    waiting = [*_waiting_recipes(recipes), *_waiting_cards(request)]
    waiting = [one for one in waiting if not first or one.kind not in _LED_TO]
    shown = Paginator(recipes, RECIPES_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "waiting": waiting[:MOST_ATTENTION],
        "more": max(0, len(waiting) - MOST_ATTENTION),
        "shown": shown,
        "first": first,
        "now": undone(first),
    }
    return render(request, "kitchen/bench/bench.html", context)


def _helpers_bench(request: HttpRequest) -> HttpResponse:
    """List every recipe of the kitchen with the ways to record a cook of it, for a helper. Two queries."""
    shown = Paginator(recipes_to_record(), RECIPES_A_PAGE).get_page(request.GET.get("page"))
    rows = [(recipe, [link for card in registered() for link in card.record_links(recipe)]) for recipe in shown]
    return render(request, "kitchen/bench/helper.html", {"shown": shown, "rows": rows})


def _waiting_cards(request: HttpRequest) -> list[Attention]:
    at = timezone.now()
    return [found for card in registered() for found in card.attention(request.user, at=at)]


def _waiting_recipes(recipes: list[Any]) -> list[Attention]:
    """Return what the recipes of the bench's list, with what it says of each, wait for: words, or being published."""
    found = []
    for recipe in recipes:
        edit = reverse("kitchen:recipe-edit", args=[recipe.slug])
        missing = [words for words, there in (("ingredients", recipe.has_lines), ("method", recipe.has_steps)) if not there]
        if missing:
            found.append(Attention(f"{recipe.title} has no {' and no '.join(missing)} yet.", edit, "write"))
        elif recipe.published_revision is not None and recipe.published_revision < recipe.newest_number:
            words = f"{recipe.title}: revision {recipe.newest_number} is not published; readers see {recipe.published_revision}."
            found.append(Attention(words, reverse("kitchen:recipe-publish", args=[recipe.slug]), "publish"))
    return found


@never_cache
@of_recipe
@require_safe
def recipe_bench(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """A recipe's workbench: figures, state, what to do next, cooks, prices, revisions. ``/bench/recipes/<slug>/``; its owner."""
    stories = revision_stories(recipe)
    ahead = next_edition(recipe, newest_revision(recipe), timezone.now())
    context = {
        "recipe": recipe,
        "newest": stories[0].revision,
        "plain_address": says_nothing(recipe.slug, recipe.title),
        "stories": stories,
        "ahead": ahead,
        "next": next_thing(ahead),
        "sides": pairings_of(recipe),
        "side_form": SideForm(recipe=recipe, person=request.user),
    }
    return render(request, "kitchen/bench/recipe.html", context)


@xframe_options_sameorigin
@never_cache
@of_recipe
@require_safe
def recipe_draft(request: HttpRequest, recipe: Recipe) -> HttpResponse:
    """The newest revision as readers would see it. Address ``/bench/recipes/<slug>/draft/``; its owner; failures as the page."""
    revision = newest_revision(recipe)
    facts = read_facts(collect_facts(revision, at=timezone.now()))
    site = the_site()
    asked = read_asked(request, facts.recipe, site)
    return show_recipe(request, facts, _draft_frame(recipe, revision, site.name), site, asked, audience="owner")


def _draft_frame(recipe: Recipe, revision: Revision, site_name: str) -> PageFrame:
    path = reverse("kitchen:recipe-draft", args=[recipe.slug])
    return PageFrame(site_name=site_name, path=path, draft=True, revision=revision.number)
