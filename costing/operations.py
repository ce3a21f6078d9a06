"""Writes: what a cook does with prices, shops and yields. Every one is whole or not at all."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from django.db import transaction

from costing.domain.packs import Pack
from costing.models import Quote, SheetRules, Shop, Yield
from kitchen.models import Food


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


def record_quote(*, seen: SeenPrice) -> Quote:
    """Keep a price that was seen; a shop of a new name is opened."""
    with transaction.atomic():
        return Quote.objects.create(**_quote_values(seen))


def record_quotes(*, seen: Sequence[SeenPrice]) -> list[Quote]:
    """Keep several prices at once, all of them or none."""
    with transaction.atomic():
        return [Quote.objects.create(**_quote_values(price)) for price in seen]


def correct_quote(*, quote: Quote, seen: SeenPrice) -> Quote:
    """Write over a quote what was really seen."""
    with transaction.atomic():
        for name, value in _quote_values(seen).items():
            setattr(quote, name, value)
        quote.save()
    return quote


def remove_quote(*, quote: Quote) -> dict[str, object]:
    """Remove a quote; return what `restore_quote` needs to bring it back, as plain JSON."""
    kept = {
        "id": quote.pk,
        "food_id": quote.food_id,
        "shop_name": quote.shop.name,
        "day": quote.day.isoformat(),
        "price": str(quote.price),
        "currency": quote.currency,
        "pack_amount": str(quote.pack_amount),
        "pack_unit": quote.pack_unit,
        "packs": quote.packs,
        "note": quote.note,
    }
    quote.delete()
    return kept


def restore_quote(*, kept: dict[str, str]) -> Quote | None:
    """Bring a removed quote back under its own number; None when its food is gone or the quote is there already."""
    with transaction.atomic():
        if not Food.objects.filter(pk=kept["food_id"]).exists() or Quote.objects.filter(pk=kept["id"]).exists():
            return None
        return Quote.objects.create(
            id=int(kept["id"]),
            food_id=int(kept["food_id"]),
            shop=open_shop(name=kept["shop_name"]),
            day=date.fromisoformat(kept["day"]),
            price=Decimal(kept["price"]),
            currency=kept["currency"],
            pack_amount=Fraction(kept["pack_amount"]),
            pack_unit=kept["pack_unit"],
            packs=int(kept["packs"]),
            note=kept["note"],
        )


def open_shop(*, name: str, note: str = "") -> Shop:
    """Return the shop of this name, whatever its capitals; open it if there is none."""
    found = Shop.objects.filter(name__iexact=name).first()
    return found or Shop.objects.get_or_create(name=name, defaults={"note": note})[0]


def rename_shop(*, shop: Shop, name: str, note: str) -> Shop:
    """Give a shop another name and note."""
    shop.name, shop.note = name, note
    shop.save()
    return shop


def close_shop(*, shop: Shop) -> None:
    """Remove a shop that has no prices; raises ShopInUse for one that has."""
    with transaction.atomic():
        if shop.quotes.exists():
            raise ShopInUse(f"{shop.name} has prices. Remove or move them first.")
        shop.delete()


def record_yield(*, food: Food, preparation: str, percent: Decimal, source: str) -> Yield:
    """Keep a yield; a second one for the same food and preparation replaces the first."""
    found, _ = Yield.objects.update_or_create(food=food, preparation=preparation, defaults={"percent": percent, "source": source})
    return found


def correct_yield(*, tested: Yield, preparation: str, percent: Decimal, source: str) -> Yield:
    """Write over a yield what was really found."""
    tested.preparation, tested.percent, tested.source = preparation, percent, source
    tested.save()
    return tested


def remove_yield(*, tested: Yield) -> None:
    """Remove a yield: the food's refuse counts again."""
    tested.delete()


def set_sheet_rules(*, rule: str, last: int, shop: Shop | None, allowance_pct: Decimal) -> SheetRules:
    """Say how the kitchen's sheets are made from now on; published editions stay as they are."""
    values = {"rule": rule, "last": last, "shop": shop, "allowance_pct": allowance_pct}
    rules, _ = SheetRules.objects.update_or_create(pk=1, defaults=values)
    return rules


def _quote_values(seen: SeenPrice) -> dict[str, object]:
    return {
        "food": seen.food,
        "shop": open_shop(name=seen.shop_name),
        "day": seen.day,
        "price": seen.price,
        "currency": seen.currency,
        "pack_amount": seen.pack.amount,
        "pack_unit": seen.pack.unit,
        "packs": seen.pack.packs,
        "note": seen.note,
    }
