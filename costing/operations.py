"""Writes: what a cook does with prices, shops and yields. Every one is whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import TypeVar

from django.db import transaction
from django.db.models import Model

from costing.domain.packs import Pack
from costing.models import Quote, SheetRules, Shop, Yield
from kitchen.models import Food
from kitchen.operations.journal import Hand, noted

T = TypeVar("T", bound=Model)


@dataclass(frozen=True)
class SeenPrice:
    """A price as it was seen: for one food, a pack, at a shop, on a day."""

    food: Food
    pack: Pack
    price: Decimal
    currency: str
    shop_name: str
    day: date
    note: str = ""


class ShopInUse(ValueError):
    """A shop with prices cannot be removed."""


def record_quote(*, seen: SeenPrice, by: Hand | None = None) -> Quote:
    """Keep a price that was seen; a shop of a new name is opened."""
    return record_quotes(seen=[seen], by=by)[0]


@transaction.atomic
def record_quotes(*, seen: Sequence[SeenPrice], by: Hand | None = None) -> list[Quote]:
    """Keep several prices at once, all of them or none."""
    return [_save(Quote(**_quote_values(price, by)), by) for price in seen]


@transaction.atomic
def correct_quote(*, quote: Quote, seen: SeenPrice, by: Hand | None = None) -> Quote:
    """Write over a quote what was really seen."""
    for name, value in _quote_values(seen, by).items():
        setattr(quote, name, value)
    return _save(quote, by)


@transaction.atomic
def remove_quote(*, quote: Quote, by: Hand | None = None) -> None:
    """Remove a quote."""
    with noted(quote, by):
        quote.delete()


@transaction.atomic
def open_shop(*, name: str, note: str = "", by: Hand | None = None) -> Shop:
    """Return the shop of this name, whatever its capitals; open it if there is none."""
    found = Shop.objects.filter(name__iexact=name).first()
    return found or _save(Shop(name=name, note=note), by)


@transaction.atomic
def rename_shop(*, shop: Shop, name: str, note: str, by: Hand | None = None) -> Shop:
    """Give a shop another name and note."""
    shop.name, shop.note = name, note
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
def record_yield(*, food: Food, preparation: str, percent: Decimal, source: str, by: Hand | None = None) -> Yield:
    """Keep a yield; a second one for the same food and preparation replaces the first."""
    tested = Yield.objects.filter(food=food, preparation=preparation).first() or Yield(food=food)
    return correct_yield(tested=tested, preparation=preparation, percent=percent, source=source, by=by)


@transaction.atomic
def correct_yield(*, tested: Yield, preparation: str, percent: Decimal, source: str, by: Hand | None = None) -> Yield:
    """Write over a yield what was really found."""
    tested.preparation, tested.percent, tested.source = preparation, percent, source
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


def _quote_values(seen: SeenPrice, by: Hand | None) -> dict[str, object]:
    return {
        "food": seen.food,
        "shop": open_shop(name=seen.shop_name, by=by),
        "day": seen.day,
        "price": seen.price,
        "currency": seen.currency,
        "pack_amount": seen.pack.amount,
        "pack_unit": seen.pack.unit,
        "packs": seen.pack.packs,
        "note": seen.note,
    }
