"""Lists of the bench: prices, shops and yields."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Max, Q, QuerySet

from costing.domain.quotes import STALE_AFTER
from costing.models import Item, Quote, Shop, Yield
from kitchen.domain.packs import pack_words
from kitchen.models import Food


@dataclass(frozen=True)
class PriceAsk:
    """What is looked for in the list of prices: words in a food's or a shop's name, and only those that are too old."""

    words: str = ""
    stale_by: date | None = None


def prices(ask: PriceAsk) -> QuerySet[Quote]:
    """Return the quotes that fit, the newest first, each with its food and its shop."""
    found = Quote.objects.filter(taken_back_at=None).select_related("item__food", "shop").order_by("-day", "-pk")
    for word in ask.words.split():
        found = found.filter(Q(item__food__name__icontains=word) | Q(item__brand__icontains=word) | Q(shop__name__icontains=word))
    if ask.stale_by is None:
        return found
    newest = Food.objects.annotate(newest=Max("items__quotes__day", filter=Q(items__quotes__taken_back_at=None))).filter(
        newest__lt=ask.stale_by - STALE_AFTER
    )
    return found.filter(item__food__in=newest)


def history_of(food: Food) -> QuerySet[Quote]:
    """Return a food's quotes, the newest first."""
    found = Quote.objects.filter(item__food=food, taken_back_at=None)
    return found.select_related("shop", "item__food").order_by("-day", "-pk")


def item_words(item: Item) -> str:
    """Return an item's pack as a person would type it."""
    return pack_words(item.pack_amount, item.pack_unit, item.packs, sold=item.sold, drained_g=item.drained_g)


def what_replaced(quote: Quote) -> Quote | None:
    """Return the price that replaced one, or None. One query."""
    return Quote.objects.filter(replaces=quote).first()


def shops() -> QuerySet[Shop]:
    """Return the shops with how many prices were seen there and when the last one was."""
    return Shop.objects.annotate(
        seen=Count("quotes", filter=Q(quotes__taken_back_at=None)), last_day=Max("quotes__day")
    ).order_by("name")


def shop_countries() -> dict[str, str]:
    """Return the countries of all shops by their names; empty where nobody said."""
    return dict(Shop.objects.values_list("name", "country"))


def default_yields() -> QuerySet[Food]:
    """Return the foods in use whose table refuse counts because nobody has tested their yield."""
    used = Food.objects.filter(refuse_pct__gt=0, lines__isnull=False).exclude(yields__process="trim")
    return used.distinct().order_by("name").only("name", "refuse_pct", "refuse_words")


def yields() -> QuerySet[Yield]:
    """Return the yields with their foods, by food and preparation."""
    return Yield.objects.select_related("food").order_by("food__name", "process", "preparation", "from_day")
