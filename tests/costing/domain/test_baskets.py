"""Baskets: one shop, and each thing where it costs least in whole packs."""

from dataclasses import replace
from fractions import Fraction

from costing.domain.baskets import baskets
from costing.domain.electricity import UNCOOKED
from costing.domain.sheet import make_sheet
from costing.domain.shopping import shopping_list
from costing.words import ENGLISH
from costing.words.baskets import basket_words
from tests.costing.domain.making import facts, line, quote


def bought(**prices):
    """A list of 300 g of each food: shop, price and grams of its pack."""
    told = [(food, grams, replace(quote(price, grams), shop=shop)) for food, (shop, price, grams) in prices.items()]
    lines = [line(food, bought=300, pack=grams, quote=seen) for food, grams, seen in told]
    return shopping_list([make_sheet(facts(*lines), 4, UNCOOKED)], {})


USUAL = bought(rice=("Mill", "2.00", 1000), oats=("Mill", "1.00", 500))
KIEL = bought(rice=("Kiel", "1.50", 500), oats=("Kiel", "1.40", 500))


def test_one_shop_and_item_by_item():
    found = baskets(USUAL, {"Mill": USUAL, "Kiel": KIEL})
    assert [(one.shop, one.cost, one.lacks) for one in found.shops] == [("Kiel", Fraction("2.9"), ()), ("Mill", Fraction(3), ())]
    assert found.apart.cost == Fraction("2.5")
    assert {item.food: item.quote.shop for item in found.apart.items} == {"rice": "Kiel", "oats": "Mill"}
    said = basket_words(found, "EUR", ENGLISH, at_least=False)
    assert said.saves == "Buying each thing where it costs least saves €0.40 over Kiel alone."
    assert said.places == (("Kiel", "rice"), ("Mill", "oats"))


def test_a_sack_that_is_cheaper_by_the_kilogram_and_dearer_at_the_till_is_not_least():
    sack = bought(rice=("Hall", "9.00", 10_000), oats=("Mill", "1.00", 500))
    found = baskets(USUAL, {"Mill": USUAL}, [sack])
    assert found.apart.cost == Fraction(3)
    assert basket_words(found, "EUR", ENGLISH, at_least=False).saves == "Nothing is cheaper elsewhere than at Mill."


def test_a_shop_that_lacks_something_comes_after_those_that_have_all():
    part = bought(rice=("Hall", "0.10", 500), oats=("Mill", "1.00", 500))
    found = baskets(USUAL, {"Mill": USUAL, "Hall": part})
    assert [(one.shop, one.lacks) for one in found.shops] == [("Mill", ()), ("Hall", ("oats",))]
    assert found.saves == Fraction(3) - Fraction("1.1")
    alone = basket_words(baskets(part, {"Hall": part}), "EUR", ENGLISH, at_least=True)
    assert (alone.rows[0].cost, alone.rows[0].lacks, alone.saves) == ("at least €0.10", "has no oats", "No shop has everything.")


def test_nothing_to_buy():
    found = baskets(shopping_list([], {}), {})
    assert (found.shops, found.apart.cost, found.saves) == ((), 0, None)
