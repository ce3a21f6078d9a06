"""What readers see of collections: the list, a collection's page, and the same as data."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.http import urlencode

from kitchen.access import Gone, published_collection
from kitchen.cards import CardRequest
from kitchen.collected import Collection
from kitchen.forms.kit import CALLED, KitReading, called, field_names, read_kit
from kitchen.forms.servings import ServingsForm
from kitchen.gathering import Gathered, Gathering, gathered
from kitchen.models import Recipe, Site
from kitchen.page import present_page, read_facts
from kitchen.publish.open_collection import listed, open_collection
from kitchen.queries import the_site
from kitchen.queries.collections import collections_shown, dishes_shown, every_recipe_shown
from kitchen.queries.shown import collection_shows, shelf_shows
from kitchen.views.doors import of_anybody
from kitchen.views.framing import address_for, frame_of, whole_address
from kitchen.views.machines import for_everybody
from kitchen.views.made_once import OF_COLLECTION, made_once


def of_shown(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """Give the view the collection that readers see at an address; 410 for one that was taken back, 404 for any other."""

    @wraps(view)
    def answer(request: HttpRequest, slug: str, **rest: Any) -> HttpResponse:
        try:
            return view(request, published_collection(slug), **rest)
        except Gone:
            return render(request, "kitchen/gone.html", {"what": "collection"}, status=410)

    return answer


@dataclass(frozen=True)
class AskedTogether:
    """What a request asks of several recipes: for how many, empty as each is kept, and the reader's kit."""

    typed: str
    sentence: str
    servings: int | None
    kit: KitReading
    named_kit: Mapping[str, str]
    called: str

    @property
    def query(self) -> dict[str, str]:
        """What was asked, as it stands in an address."""
        return {**({"for": str(self.servings)} if self.servings else {}), **self.named_kit}

    @property
    def query_text(self) -> str:
        """The same, spelled for an address."""
        return urlencode(self.query)


def read_together(request: HttpRequest) -> AskedTogether:
    """Return what an address asks of several recipes together."""
    typed = request.GET.get("for", "").strip()
    form = ServingsForm.asked(typed)
    servings = form.cleaned_data["servings"] if typed and form.is_valid() else None
    name = called(request.GET.dict())
    carried = {one: request.GET[one] for one in field_names() if request.GET.get(one)} | ({CALLED: name} if name else {})
    return AskedTogether(typed, form.sentence if typed else "", servings, read_kit(request.GET.dict()), carried, name)


def gather(request: HttpRequest, site: Site, asked: AskedTogether, dishes: Iterable[tuple[Recipe, int | None]]) -> Gathering:
    """Return these published recipes with their editions, each for the servings asked for, else its own, else as written."""
    found = [_gathered(request, site, asked, recipe, asked.servings or own) for recipe, own in dishes]
    return gathered(found, asked.kit.values, site.currency)


def _gathered(request: HttpRequest, site: Site, asked: AskedTogether, recipe: Recipe, wanted: int | None) -> Gathered:
    edition, frame = recipe.current_edition, frame_of(request, recipe, site)
    facts = read_facts(edition.facts if edition else {})
    written = facts.recipe.servings
    servings = wanted or written
    wish = CardRequest(
        servings,
        written,
        measures=site.measures,
        rounding=site.rounding,
        currency=site.currency,
        kit=asked.kit.values,
        path=frame.path,
    )
    return Gathered(present_page(facts, wish), frame, address_for(frame, servings, written, asked.named_kit))


def gather_collection(request: HttpRequest, site: Site, asked: AskedTogether, collection: Collection) -> Gathering:
    """Return what readers see of a collection."""
    return gather(request, site, asked, [(dish.recipe, dish.servings) for dish in dishes_shown(collection)])


@of_anybody
@made_once(shelf_shows)
def all_collections(request: HttpRequest) -> HttpResponse:
    """The collections that readers see. Address ``/c/``; anybody."""
    return render(request, "kitchen/collections.html", {"shown": list(collections_shown())})


@of_anybody
@made_once(collection_shows, OF_COLLECTION, kit=True)
@of_shown
def collection(request: HttpRequest, collection: Collection) -> HttpResponse:
    """A collection: recipes, sums, charges, allergens. Address ``/c/<slug>/``; anybody; 410 taken back, 404 private.

    ``?for=11`` asks for all of it for eleven; a number that makes no sense is said beside its field (400).
    """
    site, asked = the_site(), read_together(request)
    found = gather_collection(request, site, asked, collection)
    context = {"collection": collection, "gathering": found, "asked": asked, "kit": asked.kit}
    context["address"] = whole_address(request, site, request.path)
    context["on_page"] = {"headlines": found.headlines, "answer": found.answer}
    return render(request, "kitchen/collection.html", context, status=200 if asked.kit.sound and not asked.sentence else 400)


@of_anybody
@of_shown
def collection_json(request: HttpRequest, collection: Collection) -> HttpResponse:
    """A collection as data. Address ``/c/<slug>.json``; anybody; 410 and 404 as the page."""
    site, asked = the_site(), read_together(request)
    path = reverse("kitchen:collection", args=[collection.slug])
    told = open_collection(
        gather_collection(request, site, asked, collection),
        title=collection.title,
        summary=collection.summary,
        address=whole_address(request, site, path),
        root=whole_address(request, site, "/").rstrip("/"),
    )
    return for_everybody(request, JsonResponse(told, json_dumps_params={"ensure_ascii": False, "indent": 1, "allow_nan": False}))


@of_anybody
def library_json(request: HttpRequest) -> HttpResponse:
    """Every recipe that readers see, by its address and its edition. Address ``/library.json``; anybody; two queries."""
    site = the_site()
    root = whole_address(request, site, "/").rstrip("/")
    told = {"schema": 1, "url": f"{root}/", "name": site.name, "recipes": [listed(one, root) for one in every_recipe_shown()]}
    return for_everybody(request, JsonResponse(told, json_dumps_params={"ensure_ascii": False, "indent": 1}))


@of_anybody
def saved(request: HttpRequest) -> HttpResponse:
    """What this device keeps; its script finds it out. Address ``/saved/``; anybody; the same for everybody."""
    return render(request, "kitchen/saved.html")
