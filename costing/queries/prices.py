"""Lists of the bench: prices, shops and yields."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Count, OuterRef, Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from costing.domain.quotes import is_stale
from costing.models import Item, Quote, Shop, Yield
from kitchen.domain.packs import pack_words
from kitchen.models import Food


@dataclass(frozen=True)
class PriceAsk:
    """What is looked for in the list of prices: words in a food's or a shop's name, and only those that are too old."""

    words: str = ""
    stale_by: date | None = None


def price_numbers(ask: PriceAsk) -> QuerySet[Quote, int]:
    """Return the numbers of the quotes that fit, the newest first, to be counted and cut into pages; ``quotes_of`` reads a page.

    Of prices that are too old, the newest of each food is returned alone: that one is to be looked at again.
    """
    found = Quote.objects.filter(taken_back_at=None, **({} if ask.stale_by is None else {"pk__in": stale_numbers(ask.stale_by)}))
    for word in ask.words.split():
        shops = list(Shop.objects.filter(name__icontains=word).values_list("pk", flat=True))
        items = Item.objects.filter(Q(food__name__icontains=word) | Q(brand__icontains=word)).values_list("pk", flat=True)
        found = found.filter(Q(item__in=list(items)) | Q(shop__in=shops))
    return found.order_by("-day", "-pk").values_list("pk", flat=True)


def quotes_of(numbers: Iterable[int]) -> list[Quote]:
    """Return the quotes of some numbers, the newest first, each with its food and its shop. One query."""
    return list(Quote.objects.filter(pk__in=list(numbers)).select_related("item__food", "shop").order_by("-day", "-pk"))


def history_of(food: Food) -> QuerySet[Quote, int]:
    """Return the numbers of a food's quotes, the newest first."""
    return Quote.objects.filter(item__food=food, taken_back_at=None).order_by("-day", "-pk").values_list("pk", flat=True)


def stale_numbers(day: date) -> list[int]:
    """Return the newest quote of each food that has only old ones. One query, that asks an index once for each item."""
    own = Quote.objects.filter(item=OuterRef("pk"), taken_back_at=None).order_by("-day", "-pk")
    rows = Item.objects.annotate(newest=Subquery(own.values("pk")[:1]), seen=Subquery(own.values("day")[:1]))
    newest: dict[int, tuple[date, int]] = {}
    for food, number, seen in rows.filter(newest__isnull=False).values_list("food", "newest", "seen"):
        newest[food] = max(newest.get(food, (seen, number)), (seen, number))
    return [number for seen, number in newest.values() if is_stale(seen, day)]


def item_words(item: Item) -> str:
    """Return an item's pack as a person would type it."""
    return pack_words(item.pack_amount, item.pack_unit, item.packs, sold=item.sold, drained_g=item.drained_g)


def what_replaced(quote: Quote) -> Quote | None:
    """Return the price that replaced one, or None. One query."""
    return Quote.objects.filter(replaces=quote).first()


def shops() -> QuerySet[Shop]:
    """Return the shops with how many prices that count were seen there and when the last one was."""
    own = Quote.objects.filter(shop=OuterRef("pk"), taken_back_at=None).order_by()
    seen = Subquery(own.values("shop").annotate(seen=Count("pk")).values("seen"))
    newest = Subquery(own.order_by("-day").values("day")[:1])
    return Shop.objects.annotate(seen=Coalesce(seen, 0), last_day=newest).order_by("name")


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
