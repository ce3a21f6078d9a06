"""Costing's part of a packed library: shops, prices, yields and the rules of the cost sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from datetime import UTC, datetime, time
from fractions import Fraction
from typing import Any

from costing.domain.archive import (
    GivenDocument,
    ItemDocument,
    LearntDocument,
    PricesDocument,
    QuoteDocument,
    ReceiptDocument,
    RulesDocument,
    ShopDocument,
    YieldDocument,
)
from costing.models import Item, Learnt, Quote, Receipt, SheetRules, Shop, Yield
from costing.operations import open_shop, same_item, same_shop
from kitchen.archivists import Archivist, Desk
from kitchen.domain import record
from kitchen.domain.archive import Document, FoodLink
from kitchen.domain.packs import LOOSE
from kitchen.models import Food
from kitchen.operations.unpacked_rows import refused, row_from
from kitchen.queries.packed import food_link

_PLACE = "apps/costing.json"
_SAME_BY = ("item_id", "shop_id", "day", "last_day", "price", "currency", "note")


class CostingArchivist(Archivist):
    """Packs and unpacks what costing keeps. A shop is the same by its name; a price when it says the same in every column."""

    slug = "costing"

    def pack(self) -> Document:
        """Return shops, prices, yields and rules."""
        quotes = Quote.objects.select_related("item__food", "shop", "receipt").order_by("pk")
        yields = Yield.objects.select_related("food").order_by("food__name", "process", "preparation", "from_day")
        foods = Food.objects.in_bulk(
            {part["food_id"] for gives in Item.objects.exclude(gives=[]).values_list("gives", flat=True) for part in gives}
        )
        rules = SheetRules.objects.select_related("shop").first()
        packed = PricesDocument(
            shops=tuple(record.taken(ShopDocument, shop) for shop in Shop.objects.order_by("name")),
            items=tuple(_item(item, foods) for item in Item.objects.select_related("food").order_by("food__name", "pk")),
            quotes=tuple(_quote(quote) for quote in quotes),
            receipts=tuple(_receipt(receipt) for receipt in Receipt.objects.select_related("shop").order_by("day", "pk")),
            learnt=tuple(
                LearntDocument(known.shop.name, known.words, _item(known.item, foods))
                for known in Learnt.objects.select_related("shop", "item__food").order_by("shop__name", "words")
            ),
            yields=tuple(record.taken(YieldDocument, tested, food=food_link(tested.food)) for tested in yields),
            rules=None if rules is None else _rules(rules),
        )
        return dict(record.write(packed))

    def unpack(self, held: Document, desk: Desk) -> None:
        """Add the shops, prices and yields that are not here."""
        packed = record.read(PricesDocument, held)
        shops = {document.name: _open(document, desk) for document in packed.shops}
        _add_items(packed, desk)
        receipts = {document.uid: _add_receipt(document, shops, desk) for document in packed.receipts}
        _add_quotes(packed, shops, receipts, desk)
        _learn(packed, shops, desk)
        for tested in packed.yields:
            _add_yield(tested, desk)
        if packed.rules is not None and desk.fresh and not SheetRules.objects.exists():
            shop = None if packed.rules.shop is None else _shop(shops, packed.rules.shop)
            row_from(SheetRules, packed.rules, place=_PLACE, pk=1, shop=shop).save()


def _item(item: Item, foods: Mapping[int, Food]) -> ItemDocument:
    """Pack a thing on the shelf; a part whose food is gone is left out, since it gives nothing any more."""
    gives = tuple(
        GivenDocument(link, Fraction(part["amount"]), part["unit"], part.get("share"))
        for part in item.gives
        if (link := food_link(foods.get(part["food_id"]))) is not None
    )
    return record.taken(ItemDocument, item, food=food_link(item.food), gives=gives)


def _quote(quote: Quote) -> QuoteDocument:
    item = quote.item
    given = {name: getattr(item, name) for name in ("pack_amount", "pack_unit", "packs", "brand")}
    given |= {"food": food_link(item.food), "shop": quote.shop.name, "loose": item.sold == LOOSE}
    return record.taken(QuoteDocument, quote, **given, receipt=None if quote.receipt is None else str(quote.receipt.uid))


def _receipt(receipt: Receipt) -> ReceiptDocument:
    return record.taken(ReceiptDocument, receipt, shop=receipt.shop.name)


def _rules(rules: SheetRules) -> RulesDocument:
    return record.taken(RulesDocument, rules, shop=None if rules.shop is None else rules.shop.name)


def _open(document: ShopDocument, desk: Desk) -> Shop:
    known = same_shop(document.name)
    desk.account.same["shops"] += known is not None
    if known is not None:
        return known
    checked = row_from(Shop, document, place=_PLACE)
    desk.account.added["shops"] += 1
    return open_shop(name=checked.name, note=checked.note, country=checked.country)


def _shop(shops: Mapping[str, Shop], name: str) -> Shop:
    if name not in shops:
        raise refused(_PLACE, f"it names the shop “{name}”, which is not there")
    return shops[name]


def _add_items(packed: PricesDocument, desk: Desk) -> None:
    """Make the things on the shelf that are not here; what is known of one that is here stays."""
    for document in packed.items:
        food = _food(document.food, "a thing on the shelf", desk)
        if food is None:
            desk.account.left["items"] += 1
            continue
        given = [(part, here) for part in document.gives if (here := desk.food(part.food)) is not None]
        gives = [
            {"food_id": here.pk, "amount": str(part.amount), "unit": part.unit, "share": part.share}
            for part, here in given
            if here
        ]
        new = row_from(Item, document, place=_PLACE, food=food, gives=gives)
        there = same_item(new)
        desk.account.added["items"] += there is None
        desk.account.same["items"] += there is not None
        if there is None:
            new.save()


def _add_quotes(packed: PricesDocument, shops: Mapping[str, Shop], receipts: Mapping[str, Receipt], desk: Desk) -> None:
    """Add as many of each price as the archive has more than are here: two that say the same may both be true."""
    here = Counter(Quote.objects.values_list(*_SAME_BY))
    new = []
    for document in packed.quotes:
        food = _food(document.food, "a price", desk)
        if food is None:
            desk.account.left["prices"] += 1
            continue
        quote = _row(document, food, shops)
        quote.receipt = receipts.get(document.receipt or "")
        columns = _columns_of(quote)
        if here[columns] > 0:
            here[columns] -= 1
            desk.account.same["prices"] += 1
        else:
            new.append(quote)
    Quote.objects.bulk_create(new, batch_size=500)
    desk.account.added["prices"] += len(new)


def _row(document: QuoteDocument, food: Food, shops: Mapping[str, Shop]) -> Quote:
    """Return the price's row; one from before moments were kept is known since the day it was seen."""
    new = row_from(Item, document, place=_PLACE, food=food, sold=LOOSE if document.loose else "pack")
    item = same_item(new) or new
    if item.pk is None:
        item.save()
    moment = document.known_at or datetime.combine(document.day, time(12), UTC)
    guessed = document.known_guessed or document.known_at is None
    given = {
        "item": item,
        "shop": _shop(shops, document.shop),
        "known_at": moment,
        "known_guessed": guessed,
        "replaces": None,
        "receipt": None,
    }
    return row_from(Quote, document, place=_PLACE, **given)


def _add_receipt(document: ReceiptDocument, shops: Mapping[str, Shop], desk: Desk) -> Receipt:
    """Return the slip of this name, kept here before or from now on."""
    new = row_from(Receipt, document, place=_PLACE, shop=_shop(shops, document.shop))
    here = Receipt.objects.filter(uid=new.uid).first()
    desk.account.added["receipts"] += here is None
    desk.account.same["receipts"] += here is not None
    if here is None:
        new.save()
    return here or new


def _learn(packed: PricesDocument, shops: Mapping[str, Shop], desk: Desk) -> None:
    """Take over what tills print, where nothing else was learnt here."""
    for document in packed.learnt:
        food = desk.food(document.item.food)
        item = None if food is None else same_item(row_from(Item, document.item, place=_PLACE, food=food, gives=[]))
        if item is not None:
            known = row_from(Learnt, document, place=_PLACE, shop=_shop(shops, document.shop), item=item)
            Learnt.objects.get_or_create(shop=known.shop, words=known.words, defaults={"item": item})


def _columns_of(quote: Quote) -> tuple[Any, ...]:
    return tuple(getattr(quote, name) for name in _SAME_BY)


def _add_yield(document: YieldDocument, desk: Desk) -> None:
    food = _food(document.food, "a yield", desk)
    if food is None:
        desk.account.left["yields"] += 1
        return
    new = row_from(Yield, document, place=_PLACE, food=food)
    here = Yield.objects.filter(food=food, preparation=new.preparation, process=new.process, from_day=new.from_day).first()
    if here is None:
        new.save()
        desk.account.added["yields"] += 1
    elif (here.percent, here.source) == (new.percent, new.source):
        desk.account.same["yields"] += 1
    else:
        desk.account.left["yields"] += 1
        desk.account.said.append(f"The yield of {food} {new.preparation} here is another than the archive’s; yours stays.")


def _food(link: FoodLink, what: str, desk: Desk) -> Food | None:
    found = desk.food(link)
    if found is None:
        desk.account.said.append(f"No food here is called “{link.name}”, so {what} of it is left out.")
    return found
