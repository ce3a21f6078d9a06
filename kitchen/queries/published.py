"""What the world may read: published editions, one by one and as the library's shelf."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from django.db.models import Exists, F, Min, OuterRef, QuerySet, Subquery
from django.db.models.fields.json import KeyTextTransform, KeyTransform
from django.db.models.functions import Lower

from kitchen.cards import Headline
from kitchen.domain import record
from kitchen.domain.facts import PhotoFacts
from kitchen.domain.search import fold
from kitchen.models import Edition, Figure, PastSlug, Recipe
from kitchen.page import badge_words, standing_of

SORTS: dict[str, str] = {
    "title": "title",
    "newest": "newest first",
    "energy_per_serving_wh": "least energy",
    "total_min": "quickest",
    "cost_per_serving": "cheapest",
    "peak_w": "lowest peak",
}


@dataclass(frozen=True)
class ShelfAsk:
    """What a reader looks for; ``at_most`` holds an upper limit for each named figure."""

    words: str = ""
    sort: str = "title"
    at_most: Mapping[str, Decimal] = field(default_factory=dict)


@dataclass(frozen=True)
class ShelfPlate:
    """One recipe on the shelf, read from its current edition."""

    slug: str
    title: str
    summary: str
    drawing: str
    photo: PhotoFacts | None
    headlines: tuple[Headline, ...]
    standing: str
    badge: str


def recipe_at(slug: str) -> Recipe | None:
    """Return the recipe at an address with its current edition and the day it was first published. One query."""
    first = Edition.objects.filter(recipe=OuterRef("pk")).values("recipe").annotate(first=Min("published_at")).values("first")
    found = Recipe.objects.select_related("current_edition").annotate(first_published_at=Subquery(first))
    return found.filter(slug=slug).first()


def slug_now(past_slug: str) -> str | None:
    """Return the address that a published recipe has now, asked by one that it had before."""
    published = PastSlug.objects.filter(slug=past_slug, recipe__current_edition__isnull=False)
    return published.values_list("recipe__slug", flat=True).first()


def editions_of(recipe: Recipe) -> list[Edition]:
    """Return a recipe's editions, the newest first, each with the facts that tell what changed. One query."""
    return list(recipe.editions.order_by("-number"))


def shelf(ask: ShelfAsk) -> QuerySet[Recipe]:
    """Return the published recipes that fit what was asked, in the order asked, ready for ``shelf_plates``.

    Every word must be found; a recipe that lacks a figure does not pass a limit on it, and stands last when sorted by it.
    """
    found = Recipe.objects.filter(current_edition__isnull=False, withdrawn_at__isnull=True)
    for word in fold(ask.words).split():
        found = found.filter(search_text__contains=word)
    for name, limit in ask.at_most.items():
        found = found.filter(Exists(Figure.objects.filter(recipe=OuterRef("pk"), name=name, value__lte=limit)))
    return _sorted(found, ask.sort).defer("search_text").prefetch_related("figures")


def _sorted(found: QuerySet[Recipe], sort: str) -> QuerySet[Recipe]:
    shown = found.annotate(
        shown_title=KeyTextTransform("title", KeyTransform("recipe", "current_edition__facts")),
        shown_recipe=F("current_edition__facts__recipe"),
        shown_headlines=F("current_edition__headlines"),
    )
    by_title = Lower("shown_title")
    if sort == "newest":
        return shown.order_by("-current_edition__published_at", by_title, "pk")
    if sort in SORTS and sort != "title":
        value = Figure.objects.filter(recipe=OuterRef("pk"), name=sort).values("value")
        return shown.annotate(sorted_by=Subquery(value)).order_by(F("sorted_by").asc(nulls_last=True), by_title, "pk")
    return shown.order_by(by_title, "pk")


def shelf_plates(recipes: Sequence[Any]) -> list[ShelfPlate]:
    """Return what the library shows of these recipes (rows of ``shelf``)."""
    return [_plate(recipe) for recipe in recipes]


def _plate(recipe: Any) -> ShelfPlate:
    shown = recipe.shown_recipe
    headlines = tuple(record.read(Headline, headline) for headline in recipe.shown_headlines)
    standing = standing_of(headlines)
    return ShelfPlate(
        slug=recipe.slug,
        title=shown["title"],
        summary=shown["summary"],
        drawing=shown["drawing"],
        photo=None if shown["photo"] is None else record.read(PhotoFacts, shown["photo"]),
        headlines=headlines,
        standing=standing,
        badge=badge_words(standing, {figure.name: figure.value for figure in recipe.figures.all()}),
    )
