"""What every template knows: whose kitchen it is, and on the bench where one can go from there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from operator import itemgetter
from typing import Any

from django.http import HttpRequest
from django.templatetags.static import static
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from kitchen.cards import BenchLink, BenchSection, owner_pages, registered
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
        if helps := is_helper(user):
            opened = [replace(one, pages=tuple(page for page in one.pages if helper_may_follow(page.url))) for one in sections]
            sections = [one for one in opened if one.pages]
        known |= {"bench_sections": sections, "bench_section": section_of(request.path, sections), "helps": helps}
    return known


def bench_sections(*, owner: bool) -> list[BenchSection]:
    """Return the bench's sections: recipes, what the cards' apps offer, and the kitchen itself, with more for the owner."""
    pages = (("All recipes", "bench"), ("Collections", "collections-bench"), ("Foods", "foods"))
    recipes = tuple(BenchLink(label, reverse(f"kitchen:{name}")) for label, name in pages)
    sections = [BenchSection("Recipes", recipes), *(section for card in registered() for section in card.bench_sections())]
    kitchen = [BenchLink("This kitchen", reverse("kitchen:kitchen"))]
    if owner:
        kitchen += [BenchLink("People", reverse("kitchen:cooks")), BenchLink("Settings", reverse("kitchen:site-settings"))]
        kitchen += [BenchLink("Archive", reverse("kitchen:archive")), *owner_pages()]
    kitchen += [BenchLink("Changes", reverse("kitchen:changes")), BenchLink("Password", reverse("kitchen:password"))]
    return [*sections, BenchSection("Kitchen", tuple(kitchen))]


def section_of(path: str, sections: Sequence[BenchSection]) -> BenchSection | None:
    """Return the section in which a page stands: the one with the page whose address its own continues furthest."""
    places = [(place, one) for one in sections for place in (*one.beneath, *(page.url for page in one.pages))]
    return max(((len(place), one) for place, one in places if path.startswith(place)), key=itemgetter(0), default=(0, None))[1]
