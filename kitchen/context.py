"""What every template knows: whose kitchen it is, and on the bench where one can go from there."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from kitchen.cards import BenchLink, registered
from kitchen.queries import the_site


def site(request: HttpRequest) -> dict[str, Any]:
    """Return ``site`` (one query, asked for once a page and only where it is used) and the bench's sections."""
    known: dict[str, Any] = {"site": SimpleLazyObject(the_site)}
    user = getattr(request, "user", None)
    if request.path.startswith("/bench/") and user is not None and user.is_authenticated:
        known["bench_sections"] = bench_sections(owner=user.is_superuser)
    return known


def bench_sections(*, owner: bool) -> list[BenchLink]:
    """Return the bench's sections: recipes and foods, what the cards' apps offer, and for the owner cooks and settings."""
    sections = [BenchLink("Recipes", reverse("kitchen:bench")), BenchLink("Foods", reverse("kitchen:foods"))]
    for card in registered():
        sections.extend(card.bench_sections())
    if owner:
        sections += [BenchLink("Cooks", reverse("kitchen:cooks")), BenchLink("Settings", reverse("kitchen:site-settings"))]
    return [*sections, BenchLink("Password", reverse("kitchen:password"))]
