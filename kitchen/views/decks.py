"""Decks: several recipes as cards in one file, of a collection or of recipes that a reader chose, with word of how far it is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any, cast

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import urlencode

from kitchen.collected import Collection
from kitchen.forms.printing import PrintForm
from kitchen.gathering import Gathering
from kitchen.operations.progress import MAKING_DIGITS, how_far, making_name, note_making
from kitchen.operations.turns import DECKS_FOR_STRANGERS, Busy
from kitchen.publish.leaves import CardSet
from kitchen.publish.paper import print_cards
from kitchen.queries import the_site
from kitchen.queries.collections import every_recipe_shown, recipes_shown
from kitchen.queries.shown import MOST_CHOSEN, chosen_shows, collection_shows, shelf_shows
from kitchen.views.collections import AskedTogether, gather, gather_collection, of_shown, read_together
from kitchen.views.doors import of_anybody
from kitchen.views.framing import whole_address
from kitchen.views.made_once import KEPT, OF_DECK, made_once
from kitchen.views.public import pdf_answer

MOST_IN_DECK = MOST_CHOSEN


@dataclass(frozen=True)
class Deck:
    """What a deck is of: its name, where its pages stand, and what is in it."""

    title: str
    home: str
    place: str
    found: Callable[[HttpRequest, AskedTogether], Gathering]

    @property
    def pdf(self) -> str:
        """Where the file stands."""
        return f"{self.place}deck.pdf"


def _of_collection(collection: Collection) -> Deck:
    home = reverse("kitchen:collection", args=[collection.slug])
    return Deck(collection.title, home, home, lambda request, asked: gather_collection(request, the_site(), asked, collection))


def _of_chosen(chosen: str) -> Deck:
    recipes = recipes_shown(chosen.split("+")[:MOST_IN_DECK])
    if not recipes:
        raise Http404("None of these recipes is here.")
    place = reverse("kitchen:deck", args=[chosen])
    dishes = [(recipe, None) for recipe in recipes]
    return Deck(
        the_site().name, reverse("kitchen:decks"), place, lambda request, asked: gather(request, the_site(), asked, dishes)
    )


@of_anybody
@made_once(shelf_shows)
def choose_deck(request: HttpRequest) -> HttpResponse:
    """Choose recipes to be printed as cards. Address ``/deck/``; anybody; ``/deck/choose/?r=...`` leads on with those chosen."""
    return render(request, "kitchen/deck/choose.html", {"recipes": every_recipe_shown(), "most": MOST_IN_DECK})


@of_anybody
def chosen_deck(request: HttpRequest) -> HttpResponse:
    """Lead to the deck of what was chosen. Address ``/deck/choose/?r=stew&r=cocoa``; anybody; none or too many: 400."""
    known = [recipe.slug for recipe in recipes_shown(request.GET.getlist("r")[: 10 * MOST_IN_DECK])]
    if 0 < len(known) <= MOST_IN_DECK:
        return HttpResponseRedirect(reverse("kitchen:deck", args=["+".join(known)]))
    wrong = f"A deck holds at most {MOST_IN_DECK} recipes; these are {len(known)}." if known else "Choose at least one recipe."
    context = {"recipes": every_recipe_shown(), "most": MOST_IN_DECK, "wrong": wrong, "chosen": known}
    return render(request, "kitchen/deck/choose.html", context, status=400)


@of_anybody
@of_shown
def collection_deck(request: HttpRequest, collection: Collection) -> HttpResponse:
    """How a collection's cards are printed. Address ``/c/<slug>/deck/``; anybody; 410 and 404 as its page."""
    return _printing(request, _of_collection(collection))


@of_anybody
def deck(request: HttpRequest, slug: str) -> HttpResponse:
    """How the cards of chosen recipes are printed. Address ``/deck/<slug>+<slug>/``; anybody; none of them here, 404."""
    return _printing(request, _of_chosen(slug))


@of_anybody
@made_once(collection_shows, OF_DECK, kit=True)
@of_shown
def collection_deck_pdf(request: HttpRequest, collection: Collection) -> HttpResponse:
    """A collection's cards. Address ``/c/<slug>/deck.pdf?size=a6``; anybody; what cannot be printed is 404."""
    return _printed(request, _of_collection(collection))


@of_anybody
@made_once(chosen_shows, OF_DECK, kit=True)
def deck_pdf(request: HttpRequest, slug: str) -> HttpResponse:
    """The cards of chosen recipes. Address ``/deck/<slug>+<slug>/deck.pdf?size=a6``; anybody; what cannot be printed is 404."""
    return _printed(request, _of_chosen(slug))


@of_anybody
@of_shown
def collection_deck_made(request: HttpRequest, collection: Collection) -> HttpResponse:
    """Make a collection's cards and say where they are. Address ``/c/<slug>/deck/made/``; anybody."""
    found = _of_collection(collection)
    return _made(request, found, lambda: collection_deck_pdf(request, slug=collection.slug))


@of_anybody
def deck_made(request: HttpRequest, slug: str) -> HttpResponse:
    """Make the cards of chosen recipes and say where they are. Address ``/deck/<slug>+<slug>/made/``; anybody."""
    return _made(request, _of_chosen(slug), lambda: deck_pdf(request, slug=slug))


@of_anybody
def deck_progress(request: HttpRequest, key: str) -> HttpResponse:
    """How far a deck is. Address ``/deck/progress/<name>/``; anybody; holds nothing of it; what is no name is 404."""
    if len(key) != MAKING_DIGITS:
        raise Http404("Nothing is being made under this name.")
    done, of = how_far(key)
    answer = render(request, "kitchen/deck/progress.html", {"done": done, "of": of})
    answer["Cache-Control"] = "no-store"
    return answer


def _printing(request: HttpRequest, of: Deck) -> HttpResponse:
    """Return the form, or where it is filled in the file; with script the file is made while the page says how far it is."""
    asked = read_together(request)
    form = PrintForm(request.GET if any(name in request.GET for name in PrintForm.base_fields) else None)
    context = {"deck": of, "form": form, "asked": asked}
    if form.is_bound and form.is_valid() and not asked.sentence:
        sent = urlencode({**{name: value for name, value in form.cleaned_data.items() if value}, **asked.query})
        if not getattr(request, "htmx", False):
            return HttpResponseRedirect(f"{of.pdf}?{sent}")
        context |= {"made": f"{request.path}made/?{sent}", "name": making_name(of.pdf, form.wish, asked.query)}
        return render(request, "kitchen/deck/making.html", context)
    return render(request, "kitchen/deck/printing.html", context, status=400 if form.errors or asked.sentence else 200)


def _printed(request: HttpRequest, of: Deck) -> HttpResponse:
    site, asked, form = the_site(), read_together(request), PrintForm(request.GET)
    if not form.is_valid() or asked.sentence or not asked.kit.sound:
        raise Http404("These cards cannot be printed. Choose size and paper on the page before.")
    name, found = making_name(of.pdf, form.wish, asked.query), of.found(request, asked)
    pages = {
        dish.address: (dish.page, replace(dish.frame, asked_address=whole_address(request, site, dish.address)))
        for dish in found.dishes
    }
    if not pages:
        raise Http404("There is nothing to print.")
    cards = CardSet(tuple(pages.values()), form.wish, called=of.title)
    try:
        made = print_cards(cards, turn=DECKS_FOR_STRANGERS.turn, told=lambda done, parts: note_making(name, done, parts + 1))
    finally:
        note_making(name, 1, 1)
    return pdf_answer(made, f"deck-{form.wish.size.key}.pdf")


def _made(request: HttpRequest, of: Deck, make: Callable[[], HttpResponseBase]) -> HttpResponse:
    """Make the file as its own address would, and answer with the way to it."""
    request.path = of.pdf
    try:
        answer = cast(HttpResponse, make())
    except Busy as busy:
        return _told(request, {"wait_s": busy.wait_s})
    request.META.pop(KEPT, None)
    return _told(request, {"pdf": f"{of.pdf}?{request.GET.urlencode()}"}) if answer.status_code == 200 else answer


def _told(request: HttpRequest, context: dict[str, Any]) -> HttpResponse:
    told = render(request, "kitchen/deck/made.html", context)
    told["Cache-Control"] = "no-store"
    return told
