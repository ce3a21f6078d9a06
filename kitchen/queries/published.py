"""What the world may read: published editions, one by one and as the library's shelf."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import reduce
from operator import or_
from typing import Any

from django.db import connection
from django.db.models import Count, F, FilteredRelation, Min, OuterRef, Q, QuerySet, Subquery

from kitchen.cards import Headline
from kitchen.domain import record
from kitchen.domain.allergens import MAYBE
from kitchen.domain.facts import Plate
from kitchen.domain.pictures import stem_of, wide_name
from kitchen.domain.search import AskedWord, asked_words, nearest
from kitchen.models import Edition, Figure, PastSlug, Recipe, ShelfMark, ShelfWord, ShownPicture

ALLERGEN = "allergen"


@dataclass(frozen=True)
class ShelfAsk:
    """What a reader looks for: ``sort`` is ``title``, ``newest`` or a figure; ``at_most`` holds upper limits of figures.

    ``marks`` are those it must have, by their kind; ``free_of`` the allergens that neither it nor its labels may bring. ``near``
    are the words of the shelf to look for instead of one that nothing has.
    """

    words: str = ""
    sort: str = "title"
    at_most: Mapping[str, Decimal] = field(default_factory=dict)
    marks: Mapping[str, str] = field(default_factory=dict)
    free_of: tuple[str, ...] = ()
    near: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class ShelfPlate(Plate):
    """One recipe on the shelf, read from its current edition."""

    slug: str
    headlines: tuple[Headline, ...]


def recipes_with_photo(name: str) -> QuerySet[Recipe]:
    """Return the recipes among whose photos the picture of this file is. One query."""
    return Recipe.objects.filter(photos__wide=wide_name(stem_of(name))).distinct()


def is_shown_in_public(name: str) -> bool:
    """Whether an edition that readers can see shows the picture of this file. One query."""
    seen = ShownPicture.objects.filter(stem=stem_of(name), edition__recipe__withdrawn_at=None)
    return seen.filter(edition__recipe__current_edition__isnull=False).exists()


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

    Every word must be found, in full or as the beginning of one; a recipe that lacks a figure does not pass a limit on it, and
    stands last when sorted by it. The rows hold no more than their numbers, so that the database sorts little.
    """
    return _sorted(_fitting(ask), ask.sort).only("pk", "slug")


def recipes_seen() -> QuerySet[Recipe]:
    """Return the recipes that readers see: published, and not taken back."""
    return Recipe.objects.filter(current_edition__isnull=False, withdrawn_at__isnull=True)


def _fitting(ask: ShelfAsk) -> QuerySet[Recipe]:
    found = recipes_seen()
    for asked in asked_words(ask.words):
        near = ask.near.get(asked.spellings[0])
        found = found.filter(pk__in=_with_word(AskedWord(near, whole=True) if near else asked))
    for name, limit in ask.at_most.items():
        found = found.filter(pk__in=Figure.objects.filter(name=name, value__lte=limit).values("recipe"))
    for kind, value in ask.marks.items():
        found = found.filter(pk__in=ShelfMark.objects.filter(kind=kind, value=value).values("recipe"))
    if ask.free_of:
        found = found.exclude(pk__in=_marked_with(*ask.free_of, MAYBE))
    return found


def _marked_with(*allergens: str) -> QuerySet[ShelfMark, Any]:
    return ShelfMark.objects.filter(kind=ALLERGEN, value__in=allergens).values("recipe")


def marks_counted(ask: ShelfAsk, kinds: Sequence[str]) -> dict[str, list[tuple[str, int]]]:
    """Return by kind its marks and how many recipes would fit with each instead of the one asked for.

    One query for all kinds of which none was asked for, and one for each other.
    """
    found: dict[str, list[tuple[str, int]]] = {kind: [] for kind in kinds}
    for some in ([kind for kind in kinds if kind not in ask.marks], *([kind] for kind in kinds if kind in ask.marks)):
        for kind, value, many in _marks_counted(ask, some) if some else ():
            found[kind].append((value, many))
    return found


def _marks_counted(ask: ShelfAsk, kinds: Sequence[str]) -> Iterable[tuple[str, str, int]]:
    others = _fitting(replace(ask, marks={one: value for one, value in ask.marks.items() if one not in kinds}))
    counted = ShelfMark.objects.filter(kind__in=kinds)
    if ask.marks.keys() - set(kinds) or ask.words.strip() or ask.at_most or ask.free_of:
        counted = counted.filter(recipe__in=others.order_by().values("pk"))
    else:
        counted = counted.filter(recipe__withdrawn_at__isnull=True)
    return counted.values_list("kind", "value").annotate(many=Count("recipe")).order_by("kind", "value")


def not_known_to_be_free(ask: ShelfAsk) -> int:
    """Return how many recipes would fit if all was known of their allergens. One query."""
    return (
        _fitting(replace(ask, free_of=())).filter(pk__in=_marked_with(MAYBE)).exclude(pk__in=_marked_with(*ask.free_of)).count()
    )


def words_near(words: str) -> dict[str, tuple[str, ...]]:
    """Return for each of these words that no recipe has the words of the shelf that it may be a slip of. Two queries a word."""
    found = {}
    for asked in asked_words(words):
        if not asked.whole and not _with_word(asked).exists():
            first = asked.spellings[0][:1]
            known = ShelfWord.objects.filter(_begins(first)).values_list("word", flat=True).distinct()
            found[asked.spellings[0]] = nearest(asked.spellings, known)
    return {word: near for word, near in found.items() if near}


def _with_word(asked: AskedWord) -> QuerySet[ShelfWord, Any]:
    """Return the numbers of the recipes that have such a word."""
    fits = Q(word__in=asked.spellings) if asked.whole else reduce(or_, map(_begins, asked.spellings))
    return ShelfWord.objects.filter(fits).values("recipe")


def _begins(beginning: str) -> Q:
    """Return the condition that each engine answers from its index on words."""
    if connection.vendor == "sqlite":
        return Q(word__gte=beginning, word__lt=beginning + chr(0x10FFFF))
    return Q(word__startswith=beginning)


def _sorted(found: QuerySet[Recipe], sort: str) -> QuerySet[Recipe]:
    if sort == "newest":
        return found.order_by("-current_edition__published_at", "shelf_title", "pk")
    if sort != "title":
        of_that_name = FilteredRelation("figures", condition=Q(figures__name=sort))
        return found.annotate(sorted_by=of_that_name).order_by(F("sorted_by__value").asc(nulls_last=True), "shelf_title", "pk")
    return found.order_by("shelf_title", "pk")


def shelf_plates(recipes: Sequence[Recipe]) -> list[ShelfPlate]:
    """Return what the library shows of these recipes (a page of ``shelf``), in their order. One query."""
    wanted = [recipe.pk for recipe in recipes]
    editions = Edition.objects.filter(published_as__in=wanted).annotate(
        slug=F("published_as__slug"), shelved=F("published_as__pk")
    )
    rows = {edition.shelved: edition for edition in editions.only("headlines", "plate")}
    return [_plate(rows[pk]) for pk in wanted if pk in rows]


def _plate(edition: Any) -> ShelfPlate:
    headlines = tuple(record.read(Headline, headline) for headline in edition.headlines)
    return record.taken(ShelfPlate, record.read(Plate, edition.plate), slug=edition.slug, headlines=headlines)
