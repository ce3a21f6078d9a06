"""What machines are told of the published: addresses with their days and pictures, and editions as they came out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import reduce
from operator import or_

from django.db.models import Max, Q, QuerySet
from django.db.models.fields.json import KeyTransform

from kitchen.domain import record
from kitchen.domain.facts import PhotoFacts
from kitchen.domain.pictures import search_pictures
from kitchen.domain.search import fold
from kitchen.models import Edition, Recipe
from kitchen.queries.published import ShelfAsk, recipes_seen, shelf

NEWEST_EDITIONS = 30


@dataclass(frozen=True)
class Offered:
    """A published recipe as a sitemap names it: its slug, when its page last changed, and the files of its picture."""

    slug: str
    changed_at: datetime
    pictures: tuple[str, ...]


def _at_home() -> QuerySet[Recipe]:
    """Return those whose home is here: a sitemap may name no page of another site (sitemaps.org, "Sitemap file location")."""
    return recipes_seen().filter(blog_url="")


def slug_at_home(address: str) -> str:
    """Return the slug of the published recipe whose home is an address of another site; empty where none is. One query."""
    held = recipes_seen().filter(blog_url=address).exclude(blog_url="").order_by("pk")
    return held.values_list("slug", flat=True).first() or ""


def count_offered() -> int:
    """Return how many recipes a sitemap names. One query."""
    return _at_home().count()


def last_published_at() -> datetime | None:
    """Return when a recipe that readers can see was last published. One query."""
    found: datetime | None = recipes_seen().aggregate(last=Max("current_edition__published_at"))["last"]
    return found


def offered(start: int, most: int) -> Iterator[Offered]:
    """Yield so many of the published recipes from the one at ``start`` on, the first written first. One query."""
    rows = _at_home().order_by("pk").values_list("slug", "current_edition__published_at", "current_edition__plate")
    for slug, published_at, plate in rows[start : start + most]:
        held = plate.get("photo")
        photo = record.read(PhotoFacts, held) if held else None
        yield Offered(slug, published_at, tuple(search_pictures(photo)) if photo else ())


def newest_editions(*, tag: str = "", cook: int | None = None) -> list[Edition]:
    """Return the last editions of recipes that readers can see, the newest first, with their recipe. Two queries at most.

    ``tag`` asks for recipes whose current edition has it, in any case or accent; ``cook`` is the number of their owner.
    """
    found = Edition.objects.filter(recipe__in=recipes_seen())
    if cook is not None:
        found = found.filter(recipe__owner=cook)
    if tag:
        found = found.filter(recipe__in=_tagged(tag))
    return list(found.select_related("recipe").order_by("-published_at", "-pk")[:NEWEST_EDITIONS])


def editions_before(editions: Sequence[Edition]) -> dict[int, Edition]:
    """Return for each edition but a recipe's first the one before it, by the number of its row. One query at most."""
    wanted = {(edition.recipe_id, edition.number - 1): edition.pk for edition in editions if edition.number > 1}
    if not wanted:
        return {}
    either = reduce(or_, (Q(recipe=recipe, number=number) for recipe, number in wanted))
    return {wanted[before.recipe_id, before.number]: before for before in Edition.objects.filter(either)}


def _tagged(tag: str) -> list[int]:
    """Return the numbers of the published recipes that have a tag: found by its words, then held to what was published."""
    found = Edition.objects.filter(published_as__in=shelf(ShelfAsk(words=tag)).order_by().values("pk"))
    rows = found.annotate(tags=KeyTransform("tags", KeyTransform("recipe", "facts"))).values_list("recipe", "tags")
    return [pk for pk, tags in rows if fold(tag) in map(fold, tags or ())]
