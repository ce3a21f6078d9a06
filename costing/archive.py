"""Costing's part of a packed library: shops, prices, yields and the rules of the cost sheets."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from typing import Any

from costing.domain.archive import PricesDocument, QuoteDocument, RulesDocument, ShopDocument, YieldDocument
from costing.models import Quote, SheetRules, Shop, Yield
from costing.operations import open_shop
from kitchen.archivists import Archivist, Desk
from kitchen.domain import record
from kitchen.domain.archive import Document, FoodLink
from kitchen.models import Food
from kitchen.operations.unpacked_rows import refused, row_from
from kitchen.queries.packed import food_link

_PLACE = "apps/costing.json"
_SAME_BY = ("food_id", "shop_id", "day", "price", "currency", "pack_amount", "pack_unit", "packs", "note")


class CostingArchivist(Archivist):
    """Packs and unpacks what costing keeps. A shop is the same by its name; a price when it says the same in every column."""

    slug = "costing"

    def pack(self) -> Document:
        """Return shops, prices, yields and rules."""
        quotes = Quote.objects.select_related("food", "shop").order_by("pk")
        yields = Yield.objects.select_related("food").order_by("food__name", "preparation")
        rules = SheetRules.objects.select_related("shop").first()
        packed = PricesDocument(
            shops=tuple(record.taken(ShopDocument, shop) for shop in Shop.objects.order_by("name")),
            quotes=tuple(
                record.taken(QuoteDocument, quote, food=food_link(quote.food), shop=quote.shop.name) for quote in quotes
            ),
            yields=tuple(record.taken(YieldDocument, tested, food=food_link(tested.food)) for tested in yields),
            rules=None if rules is None else _rules(rules),
        )
        return dict(record.write(packed))

    def unpack(self, held: Document, desk: Desk) -> None:
        """Add the shops, prices and yields that are not here."""
        packed = record.read(PricesDocument, held)
        shops = {document.name: _open(document, desk) for document in packed.shops}
        _add_quotes(packed, shops, desk)
        for tested in packed.yields:
            _add_yield(tested, desk)
        if packed.rules is not None and desk.fresh and not SheetRules.objects.exists():
            shop = None if packed.rules.shop is None else _shop(shops, packed.rules.shop)
            row_from(SheetRules, packed.rules, place=_PLACE, pk=1, shop=shop).save()


def _rules(rules: SheetRules) -> RulesDocument:
    return record.taken(RulesDocument, rules, shop=None if rules.shop is None else rules.shop.name)


def _open(document: ShopDocument, desk: Desk) -> Shop:
    known = Shop.objects.filter(name__iexact=document.name).first()
    desk.account.same["shops"] += known is not None
    if known is not None:
        return known
    checked = row_from(Shop, document, place=_PLACE)
    desk.account.added["shops"] += 1
    return open_shop(name=checked.name, note=checked.note)


def _shop(shops: Mapping[str, Shop], name: str) -> Shop:
    if name not in shops:
        raise refused(_PLACE, f"it names the shop “{name}”, which is not there")
    return shops[name]


def _add_quotes(packed: PricesDocument, shops: Mapping[str, Shop], desk: Desk) -> None:
    """Add as many of each price as the archive has more than are here: two that say the same may both be true."""
    here = Counter(Quote.objects.values_list(*_SAME_BY))
    new = []
    for document in packed.quotes:
        food = _food(document.food, "a price", desk)
        if food is None:
            desk.account.left["prices"] += 1
            continue
        quote = row_from(Quote, document, place=_PLACE, food=food, shop=_shop(shops, document.shop))
        columns = _columns_of(quote)
        if here[columns] > 0:
            here[columns] -= 1
            desk.account.same["prices"] += 1
        else:
            new.append(quote)
    Quote.objects.bulk_create(new, batch_size=500)
    desk.account.added["prices"] += len(new)


def _columns_of(quote: Quote) -> tuple[Any, ...]:
    return tuple(getattr(quote, name) for name in _SAME_BY)


def _add_yield(document: YieldDocument, desk: Desk) -> None:
    food = _food(document.food, "a yield", desk)
    if food is None:
        desk.account.left["yields"] += 1
        return
    new = row_from(Yield, document, place=_PLACE, food=food)
    here = Yield.objects.filter(food=food, preparation=new.preparation).first()
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
