"""What every template knows: whose kitchen it is, and on the bench where one can go from there."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.templatetags.static import static
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from kitchen.cards import BenchLink, registered
from kitchen.queries import the_site
from kitchen.queries.roles import is_helper
from kitchen.views.framing import whole_address
from kitchen.views.helping import helper_may_follow


def site(request: HttpRequest) -> dict[str, Any]:
    """Return ``site`` (one query, asked for once a page and only where it is used) and the bench's sections.

    ``page_address`` is the page's whole address without its query, ``mark_address`` that of the kitchen's mark as a picture.
    """
    kept: Any = SimpleLazyObject(the_site)
    known: dict[str, Any] = {"site": kept, "page_address": SimpleLazyObject(lambda: whole_address(request, kept, request.path))}
    known["mark_address"] = SimpleLazyObject(lambda: whole_address(request, kept, static("img/icon-512.png")))
    user = getattr(request, "user", None)
    if request.path.startswith("/bench/") and user is not None and user.is_authenticated:
        sections = bench_sections(owner=user.is_superuser)
        helps = is_helper(user)
        known["bench_sections"] = [one for one in sections if helper_may_follow(one.url)] if helps else sections
    return known


def bench_sections(*, owner: bool) -> list[BenchLink]:
    """Return the bench's sections: recipes and foods, what the cards' apps offer, and for the owner cooks and settings."""
    sections = [BenchLink("Recipes", reverse("kitchen:bench")), BenchLink("Foods", reverse("kitchen:foods"))]
    for card in registered():
        sections.extend(card.bench_sections())
    sections.append(BenchLink("Changes", reverse("kitchen:changes")))
    if owner:
        sections += [BenchLink("Cooks", reverse("kitchen:cooks")), BenchLink("Settings", reverse("kitchen:site-settings"))]
    return [*sections, BenchLink("Password", reverse("kitchen:password"))]
