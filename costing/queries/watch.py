"""What of the price book wants looking at: prices that are ten times the one before, foods whose prices are old or missing."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import Exists, OuterRef, Q, QuerySet, Subquery

from costing.domain.quotes import is_odd
from costing.models import Item, Quote
from costing.queries.prices import stale_numbers
from costing.queries.sheets import offer_of
from kitchen.models import Food, Line, Recipe, Revision

_ENTRIES = 40
_DEFERRED = tuple(f"item__food__{one.name}" for one in Food._meta.concrete_fields if one.name not in ("id", "name"))


@dataclass(frozen=True)
class OddPrice:
    """A price that is ten times, or a tenth of, the one that was seen before it."""

    quote: Quote
    before: Quote


@dataclass(frozen=True)
class Watch:
    """What wants looking at."""

    odd: tuple[OddPrice, ...]
    stale: int
    missing: tuple[Food, ...]


def watch(person: Any, day: date) -> Watch:
    """Return what of the price book wants looking at; what has no price, of a cook's own recipes."""
    return Watch(tuple(odd_prices()), len(stale_numbers(day)), tuple(_missing(person)))


def odd_prices() -> list[OddPrice]:
    """Return the odd ones of the newest entries, the newest first. Two queries."""
    earlier = Q(day__lt=OuterRef("day")) | Q(day=OuterRef("day"), pk__lt=OuterRef("pk"))
    own = Quote.objects.filter(earlier, item__food=OuterRef("item__food"), currency=OuterRef("currency"), taken_back_at=None)
    before = Subquery(own.order_by("-day", "-pk").values("pk")[:1])
    told = Quote.objects.select_related("item__food", "shop").defer("note", "item__gives", *_DEFERRED)
    entries = list(told.filter(taken_back_at=None).order_by("-pk").annotate(before=before)[:_ENTRIES])
    held = told.in_bulk({quote.before or quote.pk for quote in entries})
    pairs = [(quote, held[quote.before]) for quote in entries if quote.before in held]
    return [OddPrice(quote, last) for quote, last in pairs if is_odd(offer_of(quote), offer_of(last))]


def _missing(person: Any) -> QuerySet[Food]:
    """Return the foods with an amount in a cook's recipes of which no price counts, by name. One query."""
    mine = Recipe.objects.all() if person.is_superuser else Recipe.objects.filter(owner=person)
    newest = Revision.objects.filter(recipe=OuterRef("pk")).order_by("-number").values("pk")[:1]
    revisions = mine.annotate(newest=Subquery(newest)).values("newest")
    used = Line.objects.filter(food=OuterRef("pk"), part__revision__in=revisions, low__isnull=False)
    given = {part["food_id"] for gives in Item.objects.exclude(gives=[]).values_list("gives", flat=True) for part in gives}
    priced = Quote.objects.filter(item__food=OuterRef("pk"), taken_back_at=None)
    found = Food.objects.filter(Exists(used)).exclude(Exists(priced)).exclude(pk__in=given)
    return found.exclude(name__iexact="water").exclude(name__iexact="ice").only("name").order_by("name")
