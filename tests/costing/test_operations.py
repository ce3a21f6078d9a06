"""Writing prices, shops and yields."""

from decimal import Decimal
from fractions import Fraction

import pytest
from django.db import IntegrityError

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
from kitchen.domain.packs import Pack
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
    assert (quote.price, quote.item.pack_amount, quote.item.pack_unit, quote.item.packs) == (Decimal("3.49"), 500, "g", 2)


def test_several_prices_are_kept_together_or_not_at_all():
    lentils = add_food("red lentils")
    with pytest.raises(IntegrityError):
        record_quotes(seen=[seen(lentils), seen(lentils, price="-1")])
    assert not Quote.objects.exists()
    assert not Shop.objects.exists()


def standing():
    return Quote.objects.filter(taken_back_at=None)


def test_a_corrected_price_is_a_new_row_and_the_old_one_stays_in_the_ledger(owner, noon):
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    right = seen(quote.food, price="2.40", shop="Harrow Lane")
    again = correct_quote(quote=quote, seen=right, by=Hand(owner, noon))
    quote.refresh_from_db()
    assert (quote.price, quote.taken_back_at) == (Decimal("2.35"), noon)
    assert (again.replaces, again.price, again.shop.name, again.item.packs) == (quote, Decimal("2.40"), "Harrow Lane", 2)
    assert correct_quote(quote=quote, seen=right, by=Hand(owner, noon)) == quote
    assert correct_quote(quote=again, seen=right, by=Hand(owner, noon)) == again
    assert Quote.objects.count() == 2


def test_undoing_a_correction_takes_the_correction_back(owner, noon):
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    again = correct_quote(quote=quote, seen=seen(quote.food, price="2.40"), by=Hand(owner, noon))
    change = Change.objects.get(kind="prices", number=quote.pk)
    for _ in range(2):
        back = put_back(change=change, by=Hand(owner, noon))
        assert [(one.price, one.replaces) for one in standing()] == [(Decimal("2.35"), again)]
        assert back == standing().get()


def removal(by):
    quote = add_price(add_food("red lentils"), "500 g", "2.35")
    remove_quote(quote=quote, by=by)
    remove_quote(quote=quote, by=by)
    assert not standing().exists()
    return quote, Change.objects.get(kind="prices")


def test_a_removed_price_comes_back_as_a_new_row(owner, noon):
    quote, change = removal(Hand(owner, noon))
    back = put_back(change=change, by=Hand(owner, noon))
    assert (back.price, back.item, back.day, back.replaces) == (quote.price, quote.item, quote.day, quote)
    put_back(change=change, by=Hand(owner, noon))
    assert standing().count() == 1


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
