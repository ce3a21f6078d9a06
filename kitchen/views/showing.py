"""Showing a recipe: one road for public pages, scaled pages and drafts, from facts to the answer."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.cache import get_conditional_response, patch_cache_control, patch_vary_headers, set_response_etag
from django_htmx.middleware import HtmxDetails

from kitchen.cards import registered
from kitchen.domain.changes import estimated_otherwise
from kitchen.forms.kit import KIT_COOKIE, KitReading, cookie_text
from kitchen.models import Site
from kitchen.page import Page, PageFrame, ReadFacts, present_page
from kitchen.publish.jsonld import iso_minutes, recipe_jsonld
from kitchen.publish.sharing import pictures_of
from kitchen.views.asking import Asked, card_request
from kitchen.views.framing import address_of, measure_choices, photo_root, place_of, rounding_choices, stepper, ways_of

_YEAR_S = 365 * 24 * 3600


def show_recipe(
    request: HttpRequest, facts: ReadFacts, frame: PageFrame, site: Site, asked: Asked, *, audience: str = "reader"
) -> HttpResponse:
    """Return the recipe's page.

    What cannot be read is said beside its field, with the page as written below it, as 400. ``audience="owner"`` also shows the
    cards that are the owner's alone.
    """
    answer = _kit_answer(request, frame, asked)
    if answer is not None:
        return answer
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
        "here": place_of(frame, asked),
        "ways": ways_of(frame, asked),
        **_for_machines(page, frame),
        "cards": list(registered()),
    }
    return draw(request, "kitchen/recipe.html", context, status=200 if asked.sound else 400)


def _for_machines(page: Page, frame: PageFrame) -> dict[str, object]:
    """Return what other programs read: its time, its pictures, and at its own address and written size its linked data."""
    root = photo_root(frame)
    jsonld = "" if page.scaled or not frame.public else recipe_jsonld(page, frame, photo_root=root)
    return {"jsonld": jsonld, "duration": iso_minutes(page.whole_min), "pictures": pictures_of(page, frame, photo_root=root)}


def _kit_answer(request: HttpRequest, frame: PageFrame, asked: Asked) -> HttpResponse | None:
    """Return the answer to "remember my kit" and "forget it": back to the clean address, with or without the cookie."""
    wish = request.GET.get("kit")
    if wish not in ("keep", "forget") or (wish == "keep" and not asked.sound):
        return None
    answer = HttpResponseRedirect(address_of(frame, asked, asked.kept_measures))
    return keep_kit(request, answer, asked.kit if wish == "keep" else None)


def keep_kit(request: HttpRequest, answer: HttpResponse, kit: KitReading | None) -> HttpResponse:
    """Return the answer with the cookie that remembers a kit, or, without one, the order to forget it."""
    text = "{}" if kit is None else cookie_text(kit)
    if text == "{}":
        answer.delete_cookie(KIT_COOKIE, samesite="Lax")
    else:
        answer.set_cookie(KIT_COOKIE, text, max_age=_YEAR_S, samesite="Lax", secure=request.is_secure(), httponly=True)
    return answer


def draw(request: HttpRequest, template: str, context: dict[str, object], *, status: int = 200) -> HttpResponse:
    """Return a whole page, of which htmx takes the part that it redraws."""
    return fresh(request, render(request, template, context, status=status))


def wants_part(request: HttpRequest) -> bool:
    """Whether htmx redraws a part of the page."""
    htmx: HtmxDetails | None = getattr(request, "htmx", None)
    return htmx is not None and bool(htmx) and not htmx.history_restore_request and not htmx.boosted


def fresh(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """Let browsers keep an answer but ask each time whether it still holds; answer 304 when it does."""
    patch_vary_headers(response, ["Cookie"])
    patch_cache_control(response, private=True, no_cache=True)
    if response.status_code != 200:
        return response
    set_response_etag(response)
    return get_conditional_response(request, etag=response["ETag"], response=response) or response
