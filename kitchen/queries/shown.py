"""What public pages are made of, in few short rows: where these are the same, the pages are the same.

Each is one query whose text is made once: it is asked before every page, so that its spelling must not cost more than its answer.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import Any

from django.db import connection
from django.db.models import QuerySet
from django.utils import timezone

from kitchen.collected import CollectedRecipe, Collection
from kitchen.models import Edition, Recipe, Site
from kitchen.queries.site import zone_called

Rows = list[tuple[Any, ...]]
_SLUG = "slug-that-is-asked"
MOST_CHOSEN = 60
"""So many recipes are asked for together at most."""


def recipe_shows(slug: str) -> Rows:
    """Return what a published recipe's pages are made of, a row for each edition; none where readers see none. One query."""
    return _rows(_of_recipe, slug)


def shelf_shows() -> Rows:
    """Return what the library is made of, a row for each recipe and each collection that readers see. One query.

    The marks by which it is filtered are rows of their own; they follow from the edition and from the rules it was shelved by.
    """
    return _rows(_of_shelf)


def collection_shows(slug: str) -> Rows:
    """Return what a collection's pages are made of, a row for each of its recipes that readers see. One query."""
    return _rows(_of_collection, slug)


def chosen_shows(slugs: str) -> Rows:
    """Return what cards of several recipes are made of, their addresses joined by a plus sign. A query for each recipe."""
    return [row for slug in slugs.split("+")[:MOST_CHOSEN] for row in recipe_shows(slug)]


def site_shows() -> Rows:
    """Return what the site says of itself on every page: its settings. One query."""
    return _rows(_of_site)


def day_by(site: Rows) -> date:
    """Return which day it is by the clock that the site's settings name."""
    return timezone.localdate(timezone=zone_called(site[0][-1] if site else ""))


def _of_recipe() -> QuerySet[Any, Any]:
    seen = Edition.objects.filter(recipe__slug=_SLUG, recipe__withdrawn_at=None, recipe__current_edition__isnull=False)
    columns = ("recipe", "pk", "number", "digest", "published_at", "note", "recipe__current_edition")
    live = ("recipe__blog_url", "recipe__film_url", "recipe__film_on", "recipe__film_chapters")
    return seen.order_by("number").values_list(*columns, *live)


def _of_shelf() -> QuerySet[Any, Any]:
    seen = Recipe.objects.filter(current_edition__isnull=False, withdrawn_at=None)
    columns = ("pk", "slug", "shelved_by", "current_edition", "current_edition__digest", "current_edition__published_at")
    held = Collection.objects.filter(published_at__isnull=False, withdrawn_at=None)
    rows = held.order_by().values_list("pk", "slug", "owner", "owner", "title", "updated_at")
    return seen.order_by().values_list(*columns).union(rows, all=True).order_by("pk")


def _of_collection() -> QuerySet[Any, Any]:
    seen = CollectedRecipe.objects.filter(recipe__withdrawn_at=None, recipe__current_edition__isnull=False)
    shown = seen.filter(collection__slug=_SLUG, collection__published_at__isnull=False, collection__withdrawn_at=None)
    own = ("collection", "collection__title", "collection__summary", "collection__updated_at", "position", "servings")
    edition = ("recipe", "recipe__slug", "recipe__current_edition", "recipe__current_edition__digest", "recipe__shelved_by")
    return shown.order_by("position").values_list(*own, *edition, "recipe__current_edition__published_at", "recipe__blog_url")


def _of_site() -> QuerySet[Any, Any]:
    others = [one.attname for one in Site._meta.concrete_fields if one.name not in ("demo_rows", "time_zone")]
    return Site.objects.values_list(*others, "time_zone")


def _rows(of: Any, *slug: str) -> Rows:
    sql, holes = _spelled(of, connection.vendor)
    if holes != (_SLUG,) * len(slug):
        raise ValueError(f"{of.__name__} asks for {holes}, and {len(slug)} came")
    with connection.cursor() as cursor:
        cursor.execute(sql, slug)
        return list(cursor.fetchall())


@lru_cache(maxsize=8)
def _spelled(of: Any, _vendor: str) -> tuple[str, tuple[Any, ...]]:
    """Return a query's text, for one engine, and what stands in its places."""
    sql, holes = of().query.sql_with_params()
    return sql, tuple(holes)
