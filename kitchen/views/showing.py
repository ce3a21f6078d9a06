"""Showing a recipe: one road for public pages, scaled pages and drafts, from facts to the answer."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django_htmx.middleware import HtmxDetails

from kitchen.cards import registered
from kitchen.domain.changes import estimated_otherwise
from kitchen.models import Site
from kitchen.page import Page, PageFrame, ReadFacts, present_page
from kitchen.publish.jsonld import iso_minutes, recipe_jsonld
from kitchen.publish.qr import qr_code
from kitchen.publish.sharing import pictures_of
from kitchen.views.asking import Asked, card_request
from kitchen.views.framing import measure_choices, photo_root, rounding_choices, stepper, ways_of


def show_recipe(
    request: HttpRequest, facts: ReadFacts, frame: PageFrame, site: Site, asked: Asked, *, audience: str = "reader"
) -> HttpResponse:
    """Return the recipe's page.

    What cannot be read is said beside its field, with the page as written below it, as 400. ``audience="owner"`` also shows the
    cards that are the owner's alone.
    """
    page = present_page(facts, card_request(asked, site, frame, audience=audience))
    other = page.scaled or bool(page.request.kit)
    context = {
        "page": page,
        "frame": frame,
        "otherwise": () if other else estimated_otherwise(frame.headlines, page.headlines),
        "anew": bool(frame.edition_number and page.standing == "estimated" and other),
        "stepper": stepper(frame, asked),
        "measures": measure_choices(frame, asked),
        "roundings": rounding_choices(frame, asked),
        "asked": asked,
        "kit": asked.kit,
        "ways": ways_of(frame, asked),
        **_for_machines(page, frame),
        "qr": qr_code(frame.address) if frame.public and frame.address else None,
        "cards": list(registered()),
    }
    return render(request, "kitchen/recipe.html", context, status=200 if asked.sound else 400)


def _for_machines(page: Page, frame: PageFrame) -> dict[str, object]:
    """Return what other programs read: its time, its pictures, and at its own address and written size its linked data."""
    root = photo_root(frame)
    jsonld = "" if page.scaled or not frame.public else recipe_jsonld(page, frame, photo_root=root)
    return {"jsonld": jsonld, "duration": iso_minutes(page.whole_min), "pictures": pictures_of(page, frame, photo_root=root)}


def wants_part(request: HttpRequest) -> bool:
    """Whether htmx redraws a part of the page."""
    htmx: HtmxDetails | None = getattr(request, "htmx", None)
    return htmx is not None and bool(htmx) and not htmx.history_restore_request and not htmx.boosted
