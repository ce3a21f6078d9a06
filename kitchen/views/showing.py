"""Showing a recipe: one road for public pages, scaled pages and drafts, from facts to the answer."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.cache import get_conditional_response, patch_cache_control, patch_vary_headers, set_response_etag

from kitchen.cards import Facts
from kitchen.forms.kit import KIT_COOKIE, KitReading, cookie_text
from kitchen.models import Site
from kitchen.page import Page, PageFrame, present_page
from kitchen.publish.jsonld import recipe_jsonld
from kitchen.views.asking import Asked, card_request
from kitchen.views.framing import address_of, measure_choices, place_of, rounding_choices, stepper, ways_of

_YEAR_S = 365 * 24 * 3600


def show_recipe(
    request: HttpRequest, facts: Facts, frame: PageFrame, site: Site, asked: Asked, *, audience: str = "reader"
) -> HttpResponse:
    """Return the recipe's page, whole or the part that htmx redraws.

    What cannot be read is said beside its field, with the page as written below it, as 400. ``audience="owner"`` also shows the
    cards that are the owner's alone.
    """
    answer = _kit_answer(request, frame, asked)
    if answer is not None:
        return answer
    page = present_page(facts, card_request(asked, site, frame, audience=audience))
    context = {
        "page": page,
        "frame": frame,
        "stepper": stepper(frame, asked),
        "measures": measure_choices(frame, asked),
        "roundings": rounding_choices(frame, asked),
        "asked": asked,
        "kit": asked.kit,
        "here": place_of(frame, asked),
        "ways": ways_of(frame, asked),
        "jsonld": _jsonld(page, frame),
    }
    return draw(request, "kitchen/recipe.html", "kitchen/recipe/main.html", context, status=200 if asked.sound else 400)


def _jsonld(page: Page, frame: PageFrame) -> str:
    """Return the linked data that the page carries: only at its own address, at the size it was written for."""
    if page.scaled or not frame.public:
        return ""
    return recipe_jsonld(page, frame, photo_root=frame.address.removesuffix(frame.path) + settings.MEDIA_URL)


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


def draw(request: HttpRequest, template: str, partial: str, context: dict[str, object], *, status: int = 200) -> HttpResponse:
    """Return a whole page, or the part that htmx redraws; a page that the browser restores from its history comes whole."""
    htmx = getattr(request, "htmx", None)
    part = bool(htmx) and not htmx.history_restore_request and not htmx.boosted
    return fresh(request, render(request, partial if part else template, {**context, "part": part}, status=status))


def fresh(request: HttpRequest, response: HttpResponse) -> HttpResponse:
    """Let browsers keep an answer but ask each time whether it still holds; answer 304 when it does."""
    patch_vary_headers(response, ["Cookie", "HX-Request"])
    patch_cache_control(response, private=True, no_cache=True)
    if response.status_code != 200:
        return response
    set_response_etag(response)
    return get_conditional_response(request, etag=response["ETag"], response=response) or response
