"""Lists of the bench: prices, shops and yields."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.db.models import Count, Max, Q, QuerySet

from costing.domain.quotes import STALE_AFTER
from costing.models import Quote, Shop, Yield
from kitchen.models import Food


@dataclass(frozen=True)
class PriceAsk:
    """What is looked for in the list of prices: words in a food's or a shop's name, and only those that are too old."""

    words: str = ""
    stale_by: date | None = None


def prices(ask: PriceAsk) -> QuerySet[Quote]:
    """Return the quotes that fit, the newest first, each with its food and its shop."""
    found = Quote.objects.select_related("food", "shop").order_by("-day", "-pk")
    for word in ask.words.split():
        found = found.filter(Q(food__name__icontains=word) | Q(shop__name__icontains=word))
    if ask.stale_by is None:
        return found
    newest = Food.objects.annotate(newest=Max("quotes__day")).filter(newest__lt=ask.stale_by - STALE_AFTER)
    return found.filter(food__in=newest)


def history_of(food: Food) -> QuerySet[Quote]:
    """Return a food's quotes, the newest first."""
    return food.quotes.select_related("shop", "food").order_by("-day", "-pk")


def shops() -> QuerySet[Shop]:
    """Return the shops with how many prices were seen there and when the last one was."""
    return Shop.objects.annotate(seen=Count("quotes"), last_day=Max("quotes__day")).order_by("name")


def shop_names() -> list[str]:
    """Return the names of all shops."""
    return list(Shop.objects.values_list("name", flat=True))


def default_yields() -> QuerySet[Food]:
    """Return the foods in use whose table refuse counts because nobody has tested their yield."""
    used = Food.objects.filter(refuse_pct__gt=0, yields__isnull=True, lines__isnull=False)
    return used.distinct().order_by("name").only("name", "refuse_pct", "refuse_words")


def yields() -> QuerySet[Yield]:
    """Return the yields with their foods, by food and preparation."""
    return Yield.objects.select_related("food").order_by("food__name", "preparation")
