"""Writes: what a cook does with prices, shops and yields. Every one is whole or not at all."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from decimal import Decimal
from typing import Any, BinaryIO, TypeVar

from django.db import transaction
from django.db.models import Model
from django.utils import timezone

from costing.domain.quotes import shop_key
from costing.models import Item, Learnt, Quote, Receipt, ReceiptPhoto, SheetRules, Shop, Yield
from kitchen.domain.packs import LOOSE, Pack
from kitchen.models import Food
from kitchen.operations.journal import CHANGED, REMOVED, Hand, note_made, noted
from kitchen.operations.room import need_room
from kitchen.publish.opening import MOST_BYTES
from kitchen.publish.photos import one_file

T = TypeVar("T", bound=Model)


@dataclass(frozen=True)
class SeenPrice:
    """A price as it was seen: for one food, a pack, at a shop, on a day, for a sale until a last day."""

    food: Food
    pack: Pack
    price: Decimal
    currency: str
    shop_name: str
    day: date
    note: str = ""
    brand: str = ""
    last_day: date | None = None
    country: str = ""


class ShopInUse(ValueError):
    """A shop with prices cannot be removed."""


def record_quote(*, seen: SeenPrice, by: Hand | None = None) -> Quote:
    """Keep a price that was seen; a shop of a new name is opened."""
    return record_quotes(seen=[seen], by=by)[0]


@transaction.atomic
def record_quotes(*, seen: Sequence[SeenPrice], by: Hand | None = None, receipt: Receipt | None = None) -> list[Quote]:
    """Keep several prices at once, all of them or none, in as many queries as there are shops and a few, not as prices."""
    shops = {
        name: open_shop(name=name, country=country, by=by)
        for name, country in {one.shop_name: one.country for one in seen}.items()
    }
    rows = [_quote(one, item, shops[one.shop_name], by) for one, item in zip(seen, items_for(seen, by=by), strict=True)]
    for row in rows:
        row.receipt = receipt
    made = Quote.objects.bulk_create(rows, batch_size=500)
    note_made(Quote.objects.select_related("item__food", "shop").in_bulk([row.pk for row in made]).values(), by)
    return made


def not_here(seen: Sequence[SeenPrice]) -> list[SeenPrice]:
    """Return the prices that are not here yet; two that say the same are here when both are. One query."""
    foods = {one.food.pk for one in seen}
    rows = Quote.objects.filter(taken_back_at=None, item__food__in=foods).values_list(
        *(f"item__{name}" for name in ("food", "brand", "pack_amount", "pack_unit", "packs", "sold")),
        *("shop__name", "day", "last_day", "price", "currency", "note"),
    )
    here = Counter((*row[:5], row[5] == LOOSE, shop_key(row[6]), *row[7:]) for row in rows)
    new = []
    for one in seen:
        pack, rest = one.pack, (one.day, one.last_day, one.price, one.currency, one.note)
        own = (one.food.pk, one.brand, pack.amount, pack.unit, pack.packs, pack.sold == LOOSE, shop_key(one.shop_name), *rest)
        here[own] -= 1
        if here[own] < 0:
            new.append(one)
    return new


@transaction.atomic
def record_receipt(*, receipt: Receipt, goods: Sequence[tuple[str, Sequence[SeenPrice]]], by: Hand) -> Receipt:
    """Keep a till slip and the prices on it, all or none; what the till calls each thing is learnt for the next slip."""
    receipt.shop = open_shop(name=goods[0][1][0].shop_name, country=goods[0][1][0].country, by=by)
    receipt.kept_at = by.at
    receipt.save()
    quotes = record_quotes(seen=[seen for _, prices in goods for seen in prices], by=by, receipt=receipt)
    said = [words.casefold()[:120] for words, prices in goods for _ in prices]
    learnt = {
        words: Learnt(shop=receipt.shop, words=words, item=quote.item) for words, quote in zip(said, quotes, strict=True) if words
    }
    Learnt.objects.bulk_create(learnt.values(), update_conflicts=True, unique_fields=["shop", "words"], update_fields=["item"])
    return receipt


def keep_receipt_photo(*, receipt: Receipt, picture: BinaryIO) -> None:
    """Keep the picture of a slip in the place of an earlier one.

    Raises
    ------
    PhotoRefused
        If it is no photo.
    DiskFull
        If what is left of the disk is kept for readings.
    """
    need_room()
    made = one_file(picture.read(MOST_BYTES + 1))
    ReceiptPhoto.objects.update_or_create(receipt=receipt, defaults={"picture": made})


def remove_receipt_photo(*, receipt: Receipt) -> None:
    """Take the picture of a slip away."""
    ReceiptPhoto.objects.filter(receipt=receipt).delete()


@transaction.atomic
def take_receipt_back(*, receipt: Receipt, by: Hand) -> int:
    """Take all prices of a receipt back that still count, and return how many."""
    return _take_all_back(receipt.quotes, by)


@transaction.atomic
def take_table_back(*, known_at: datetime, by: Hand) -> int:
    """Take all prices back that were brought in as a table at a moment and still count, and return how many."""
    return _take_all_back(Quote.objects.filter(known_at=known_at, receipt=None, known_guessed=False), by)


def _take_all_back(quotes: Any, by: Hand) -> int:
    standing = list(quotes.filter(taken_back_at=None))
    for quote in standing:
        remove_quote(quote=quote, by=by)
    return len(standing)


@transaction.atomic
def correct_quote(*, quote: Quote, seen: SeenPrice, by: Hand | None = None) -> Quote:
    """Keep what was really seen as a new price that replaces this one; the old row stays in the ledger and no longer counts.

    Nothing happens where the same was typed again, or the price was taken back already.
    """
    held = Quote.objects.select_for_update(of=("self",)).get(pk=quote.pk)
    shop = open_shop(name=seen.shop_name, country=seen.country, by=by)
    right = _quote(seen, items_for([seen], by=by)[0], shop, by)
    if held.taken_back_at is not None or _says(held) == _says(right):
        return held
    _take_back(held, right.known_at, by, CHANGED)
    right.replaces = held
    return _save(right, by)


@transaction.atomic
def remove_quote(*, quote: Quote, by: Hand | None = None) -> None:
    """Take a price back, once: from now on it counts for no sheet."""
    held = Quote.objects.select_for_update(of=("self",)).get(pk=quote.pk)
    if held.taken_back_at is None:
        _take_back(held, _moment(held.day, by), by, REMOVED)


@transaction.atomic
def put_quote_back(quote: Quote) -> None:
    """Let a price that was taken back count again from now on: as a new row, in the place of what had replaced it."""
    last = Quote.objects.filter(pk=quote.pk).first()
    while last is not None and (newer := Quote.objects.filter(replaces=last).first()) is not None:
        last = newer
    if last is not None and last.taken_back_at is None and _says(last) == _says(quote):
        quote.pk = last.pk
        return
    at = timezone.now()
    if last is not None and last.taken_back_at is None:
        _take_back(last, at, None, CHANGED)
    if last is not None:
        quote.pk, quote.replaces, quote.known_at, quote.known_guessed = None, last, at, False
    quote.taken_back_at, quote._state.adding = None, True
    quote.save()


@transaction.atomic
def describe_item(*, item: Item, by: Hand | None = None, **known: Any) -> Item:
    """Keep what is known of a thing on the shelf: how it is sold, what it holds and gives."""
    for name, value in known.items():
        setattr(item, name, value)
    return _save(item, by)


@transaction.atomic
def open_shop(*, name: str, note: str = "", country: str = "", by: Hand | None = None) -> Shop:
    """Return the shop of this name, whatever its spaces and capitals; open it if there is none."""
    tidy = " ".join(name.split())
    found = same_shop(tidy)
    if found is not None and country and not found.country:
        found.country = country
        return _save(found, by)
    return found or _save(Shop(name=tidy, note=note, country=country), by)


def same_shop(name: str, *, but: Shop | None = None) -> Shop | None:
    """Return the shop that a name means, whatever its spaces and capitals."""
    others = Shop.objects.exclude(pk=but.pk) if but is not None else Shop.objects.all()
    return next((shop for shop in others if shop_key(shop.name) == shop_key(name)), None)


@transaction.atomic
def rename_shop(*, shop: Shop, name: str, note: str, country: str = "", by: Hand | None = None) -> Shop:
    """Give a shop another name, note and country."""
    shop.name, shop.note, shop.country = name, note, country
    return _save(shop, by)


@transaction.atomic
def close_shop(*, shop: Shop, by: Hand | None = None) -> None:
    """Remove a shop that has no prices; raises ShopInUse for one that has."""
    if shop.quotes.exists():
        raise ShopInUse(shop.name)
    for rules in SheetRules.objects.filter(shop=shop):
        rules.shop = None
        _save(rules, by)
    with noted(shop, by):
        shop.delete()


@transaction.atomic
def record_yield(
    *,
    food: Food,
    preparation: str,
    percent: Decimal,
    source: str,
    process: str = "trim",
    from_day: date | None = None,
    by: Hand | None = None,
) -> Yield:
    """Keep a yield; a second one of the same process, food and preparation from the same day on replaces the first."""
    same = Yield.objects.filter(food=food, preparation=preparation, process=process, from_day=from_day).first()
    return correct_yield(
        tested=same or Yield(food=food),
        preparation=preparation,
        percent=percent,
        source=source,
        process=process,
        from_day=from_day,
        by=by,
    )


@transaction.atomic
def correct_yield(
    *,
    tested: Yield,
    preparation: str,
    percent: Decimal,
    source: str,
    process: str = "trim",
    from_day: date | None = None,
    by: Hand | None = None,
) -> Yield:
    """Write over a yield what was really found; what it said before stays written down with the moment."""
    tested.process, tested.preparation, tested.from_day = process, preparation, from_day
    tested.percent, tested.source = percent, source
    return _save(tested, by)


@transaction.atomic
def remove_yield(*, tested: Yield, by: Hand | None = None) -> None:
    """Remove a yield: the food's refuse counts again."""
    with noted(tested, by):
        tested.delete()


@transaction.atomic
def set_sheet_rules(*, rule: str, last: int, shop: Shop | None, allowance_pct: Decimal, by: Hand | None = None) -> SheetRules:
    """Say how the kitchen's sheets are made from now on; published editions stay as they are."""
    rules = SheetRules.objects.filter(pk=1).first() or SheetRules(pk=1)
    rules.rule, rules.last, rules.shop, rules.allowance_pct = rule, last, shop, allowance_pct
    return _save(rules, by)


def _save(thing: T, by: Hand | None) -> T:
    with noted(thing, by):
        thing.save()
    return thing


def items_for(seen: Sequence[SeenPrice], *, by: Hand | None = None) -> list[Item]:
    """Return for each price the thing on the shelf that its pack is; new ones are made, and what a label says is learnt."""
    wanted = [_item(one) for one in seen]
    here = _items_here({item.food_id for item in wanted})
    new = {_is_item(item): item for item in wanted if _is_item(item) not in here}
    made = Item.objects.bulk_create(new.values(), batch_size=500)
    note_made(Item.objects.select_related("food").in_bulk([item.pk for item in made]).values(), by)
    here |= new
    for item in wanted:
        _learn(here[_is_item(item)], item, by)
    return [here[_is_item(item)] for item in wanted]


def same_item(item: Item) -> Item | None:
    """Return the thing on the shelf that is the same: of the same food, brand and pack, loose or not."""
    return _items_here({item.food_id}).get(_is_item(item))


def _item(seen: SeenPrice) -> Item:
    pack = seen.pack
    own = {"pack_amount": pack.amount, "pack_unit": pack.unit, "packs": pack.packs, "sold": pack.sold or "pack"}
    return Item(food_id=seen.food.pk, brand=seen.brand, container=pack.container or "", drained_g=pack.drained_g, **own)


def _is_item(item: Item) -> tuple[object, ...]:
    return item.food_id, item.brand, item.pack_amount, item.pack_unit, item.packs, item.sold == LOOSE


def _items_here(foods: Iterable[int]) -> dict[tuple[object, ...], Item]:
    return {_is_item(item): item for item in Item.objects.filter(food__in=foods)}


def _learn(item: Item, label: Item, by: Hand | None) -> None:
    """Keep what a label says that nobody knew of a thing: the word for one pack, and its drained weight."""
    news = [name for name in ("container", "drained_g") if getattr(label, name) and not getattr(item, name)]
    for name in news:
        setattr(item, name, getattr(label, name))
    if news:
        _save(item, by)


def _quote(seen: SeenPrice, item: Item, shop: Shop, by: Hand | None) -> Quote:
    return Quote(
        item=item,
        shop=shop,
        day=seen.day,
        last_day=seen.last_day,
        price=seen.price,
        currency=seen.currency,
        note=seen.note,
        known_at=_moment(seen.day, by),
        known_guessed=by is None,
    )


def _moment(day: date, by: Hand | None) -> datetime:
    """When a price became known: at the hand's moment; without one all that is known is the day it was seen."""
    return datetime.combine(day, time(12), UTC) if by is None else by.at


def _says(quote: Quote) -> tuple[object, ...]:
    return quote.item_id, quote.shop_id, quote.day, quote.last_day, quote.price, quote.currency, quote.note


def _take_back(quote: Quote, at: datetime, by: Hand | None, done: str) -> None:
    with noted(quote, by, done):
        quote.taken_back_at = at
        quote.save(update_fields=["taken_back_at"])
