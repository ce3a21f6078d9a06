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
    set_sheet_rules,
)
from kitchen.models import Change, Food
from kitchen.operations.journal import CannotBePutBack, Hand, put_back
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


def removal(by):
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    before = Quote.objects.filter(pk=quote.pk).values().get()
    remove_quote(quote=Quote.objects.get(pk=quote.pk), by=by)
    assert not Quote.objects.exists()
    return before, Change.objects.get(kind="prices")


def test_a_removed_price_comes_back_as_it_was(owner, noon):
    before, change = removal(Hand(owner, noon))
    assert put_back(change=change, by=Hand(owner, noon)).pk == before["id"]
    assert Quote.objects.values().get() == before
    put_back(change=change, by=Hand(owner, noon))
    assert Quote.objects.count() == 1


def test_a_price_of_a_food_that_is_gone_does_not_come_back(owner, noon):
    _, change = removal(Hand(owner, noon))
    Food.objects.all().delete()
    with pytest.raises(CannotBePutBack, match="It cannot stand as it did"):
        put_back(change=change, by=Hand(owner, noon))


def test_a_shop_with_prices_stays():
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    with pytest.raises(ShopInUse):
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
