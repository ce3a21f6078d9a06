"""The shopping list of several dishes."""

import csv
import io
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from costing.cards import CostCard
from costing.domain.electricity import Electricity
from costing.domain.sheet import make_sheet
from costing.domain.shopping import shopping_list
from kitchen.cards import CardRequest, Dish
from kitchen.domain.money import round_bound
from kitchen.models import Food
from kitchen.operations import pair_side, publish_recipe
from kitchen.operations.collections import change_collection, make_collection
from tests.costing.domain.making import facts, line, quote
from tests.costing.kitchen_of_prices import DAY, add_line, add_price, first_part, write_recipe

RAW = Electricity(needed=False)


def sheet(*lines):
    return make_sheet(facts(*lines), 4, RAW)


def test_dishes_share_packs_and_stand_by_shop_and_aisle():
    rice = quote("2.00", 1000)
    found = shopping_list(
        [sheet(line("rice", bought=600, quote=rice), line("oil", bought=10)), sheet(line("rice", bought=300, quote=rice))],
        {"rice": "grains", "oil": ""},
    )
    assert [(stop.shop, stop.aisle, [(item.food, item.packs) for item in stop.items]) for stop in found.stops] == [
        ("Mill Lane", "grains", [("rice", 1)]),
        ("Mill Lane", "", [("oil", 1)]),
    ]
    assert found.cost == Fraction(4)


def test_the_list_for_a_recipe_names_what_has_no_price(stew, owner, owner_client, noon):
    other = write_recipe(owner, noon, slug="dal", title="Dal")
    add_line(first_part(other), "300 g red lentils", 300, "g", Food.objects.get(name="red lentils"))
    page = " ".join(owner_client.get("/bench/shopping/?stew=4&dal=4").content.decode().split())
    assert "2 x 500 g" in page
    assert "400 g left over" in page
    assert "ground cumin" in page.split("Without a price")[1]
    assert "at least €6.15" in page
    plain = owner_client.get("/bench/shopping/").content.decode()
    assert "Lentil stew" in plain
    assert "to-buy__thing" not in plain


def test_a_collection_leads_to_one_list_for_all_of_it_and_adds_its_costs(stew, owner, owner_client, noon):
    """300 g and 450 g of lentils are one line of the list; what has no price is named, and the sum is the least of more."""
    made = make_collection(owner=owner, title="Twice", at=noon)
    change_collection(collection=made, title="Twice", summary="", dishes=[(stew.pk, None), (stew.pk, 6)], at=noon)
    page = owner_client.get("/bench/collections/twice/").content.decode()
    assert "/bench/shopping/?stew=10" in page
    assert "2 x 500 g" in owner_client.get("/bench/shopping/?stew=10").content.decode()
    held = CostCard().read(CostCard().collect(stew.revisions.get(), at=noon))
    cost = [CostCard().prepare(held, CardRequest(servings, 4)) for servings in (4, 6)]
    found = CostCard().together([Dish("Stew", one, CardRequest(4, 4)) for one in cost], CardRequest(1, 1))
    least = sum(one.total for one in cost)
    sums = found.figures["cost"]
    assert (sums["low"], sums["high"], sums["at_least"]) == (str(round_bound(least, 2, "least")), None, True)
    assert found.lacks == ("Stew: the cost lacks ground cumin.",)
    assert CostCard().together([Dish("Salad", None, CardRequest(1, 1))], CardRequest(1, 1)).headlines == ()


def test_what_another_cook_published_is_bought_as_published(stew, owner, other_client, noon):
    assert "to-buy__thing" not in other_client.get("/bench/shopping/?stew=4").content.decode()
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    assert "to-buy__thing" in other_client.get("/bench/shopping/?stew=4").content.decode()


@pytest.mark.parametrize("query", ["?stew=x", "?stew=-1", "?stew=99999", "?nothing=4", "?stew=٤"])
def test_an_address_that_asks_for_nothing_shows_no_list(stew, owner_client, query):
    answer = owner_client.get(f"/bench/shopping/{query}")
    assert (answer.status_code, "to-buy__thing" in answer.content.decode()) == (200, False)


def test_another_cook_shops_for_their_own_recipes(stew, other_client, stranger_client):
    assert "Lentil stew" not in other_client.get("/bench/shopping/?stew=4").content.decode()
    assert stranger_client.get("/bench/shopping/").status_code == 302


def test_the_list_as_a_table_runs_nothing(stew, owner_client):
    Food.objects.filter(name="red lentils").update(name="=cmd|lentils")
    answer = owner_client.get("/bench/shopping/?stew=4&as=csv")
    rows = list(csv.reader(io.StringIO(answer.content.decode())))
    assert answer["Content-Type"] == "text/csv; charset=utf-8"
    assert {row[2] for row in rows[1:]} == {"'=cmd|lentils", "onion"}


def test_shops_are_compared_when_it_is_asked(stew, owner_client):
    lentils, onion = (Food.objects.get(name=name) for name in ("red lentils", "onion"))
    for food, pack, price in ((lentils, "500 g", "1.35"), (onion, "1 kg", "1.95")):
        add_price(food, pack, price, shop="Kieler Hof", day=DAY - timedelta(9))
    page = " ".join(owner_client.get("/bench/shopping/?stew=4&compare=on").content.decode().split())
    assert "Buying each thing where it costs least saves €0.50 over Kieler Hof alone." in page
    assert "<b>at least €3.30</b>" in page
    assert "<b>at least €2.80</b>" in page
    assert "Kieler Hof:</b> red lentils" in page
    assert "Where it costs least" not in owner_client.get("/bench/shopping/?stew=4").content.decode()


def test_what_is_served_beside_takes_the_same_pack_at_todays_price(stew, owner, owner_client, noon):
    side = write_recipe(owner, noon, slug="dal", title="Dal", servings=4)
    lentils = Food.objects.get(name="red lentils")
    add_line(first_part(side), "100 g red lentils", 100, "g", lentils)
    publish_recipe(recipe=side, revision=side.revisions.get(), by=owner, at=noon)
    pair_side(main=stew, side=side, portions=Decimal(1), at=noon)
    add_price(lentils, "500 g", "2.60", day=DAY + timedelta(1))
    page = " ".join(owner_client.get("/bench/shopping/?stew=4").content.decode().split())
    assert page.count("<b>red lentils</b>") == 1
    assert "<b>red lentils</b>, 500 g <small>100 g left over" in page
