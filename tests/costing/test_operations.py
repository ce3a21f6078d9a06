"""Writing prices, shops and yields."""

from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import IntegrityError

from costing.domain.packs import Pack
from costing.models import Quote, Shop, Yield
from costing.operations import (
    SeenPrice,
    ShopInUse,
    close_shop,
    correct_quote,
    open_shop,
    record_quotes,
    record_yield,
    remove_quote,
    restore_quote,
    set_sheet_rules,
)
from tests.costing.kitchen_of_prices import DAY, add_food, add_price

pytestmark = pytest.mark.django_db


def seen(food, price="3.49", shop="Mill Lane", **kwargs):
    return SeenPrice(food, Pack(Fraction(500), "g", 2), Decimal(price), "EUR", shop, DAY, **kwargs)


def test_a_price_opens_its_shop_once():
    lentils = add_food("red lentils")
    record_quotes(seen=[seen(lentils), seen(lentils, shop="MILL LANE")])
    assert [shop.name for shop in Shop.objects.all()] == ["Mill Lane"]
    quote = Quote.objects.first()
    assert (quote.price, quote.pack_amount, quote.pack_unit, quote.packs) == (Decimal("3.49"), 500, "g", 2)


def test_several_prices_are_kept_together_or_not_at_all():
    lentils = add_food("red lentils")
    with pytest.raises(IntegrityError):
        record_quotes(seen=[seen(lentils), seen(lentils, price="-1")])
    assert not Quote.objects.exists()
    assert not Shop.objects.exists()


def test_a_corrected_price_keeps_its_number():
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    correct_quote(quote=quote, seen=seen(quote.food, price="2.40", shop="Harrow Lane"))
    again = Quote.objects.get(pk=quote.pk)
    assert (again.price, again.shop.name, again.packs) == (Decimal("2.40"), "Harrow Lane", 2)


def test_a_removed_price_comes_back_whole():
    quote = add_price(add_food("red lentils"), "1½ kg", "2.3500")
    before = Quote.objects.filter(pk=quote.pk).values().get()
    kept = remove_quote(quote=Quote.objects.get(pk=quote.pk))
    assert not Quote.objects.exists()
    restore_quote(kept=kept)
    assert Quote.objects.filter(pk=quote.pk).values().get() == before


def test_a_price_of_a_food_that_is_gone_does_not_come_back():
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    kept = remove_quote(quote=quote)
    quote.food.delete()
    assert restore_quote(kept=kept) is None


def test_a_price_comes_back_once():
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    kept = remove_quote(quote=Quote.objects.get(pk=quote.pk))
    restore_quote(kept=kept)
    assert restore_quote(kept=kept) is None
    assert Quote.objects.count() == 1


def test_a_shop_with_prices_stays():
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    with pytest.raises(ShopInUse, match="has prices"):
        close_shop(shop=quote.shop)
    empty = open_shop(name="Empty")
    close_shop(shop=empty)
    assert Shop.objects.count() == 1


def test_a_second_yield_replaces_the_first():
    onion = add_food("onion")
    record_yield(food=onion, preparation="", percent=Decimal(85), source="own test")
    record_yield(food=onion, preparation="", percent=Decimal(82), source="2 kg")
    assert Yield.objects.get().percent == 82


def test_the_rules_are_one_row():
    set_sheet_rules(rule="newest", last=3, shop=None, allowance_pct=Decimal(0))
    rules = set_sheet_rules(rule="median", last=5, shop=None, allowance_pct=Decimal(5))
    assert (rules.pk, rules.rule, rules.last) == (1, "median", 5)
