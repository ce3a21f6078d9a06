"""The shopping list of several dishes, and the price book out and in again."""

import csv
import io
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from costing.cards import CostCard
from costing.domain.electricity import Electricity
from costing.domain.sheet import make_sheet
from costing.domain.shopping import shopping_list
from costing.models import Quote
from costing.operations import SeenPrice, record_quote
from costing.queries.price_book import HEAD
from kitchen.cards import CardRequest, Dish
from kitchen.domain.money import round_bound
from kitchen.domain.packs import parse_pack
from kitchen.models import Food
from kitchen.operations import publish_recipe
from kitchen.operations.collections import change_collection, make_collection
from tests.costing.domain.making import facts, line, quote
from tests.costing.kitchen_of_prices import DAY, add_food, add_line, add_price, first_part, write_recipe

RAW = Electricity(needed=False)
BOOK = "/bench/prices/book/"


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


def upload(client, text):
    data = text if isinstance(text, bytes) else text.encode()
    return client.post(BOOK, {"table": SimpleUploadedFile("prices.csv", data)}, follow=True)


def test_the_price_book_goes_out_and_comes_in_without_doubles(stew, owner_client):
    pack, chickpeas = parse_pack("6 x 400 g, drained 240 g"), add_food("tinned chickpeas")
    record_quote(seen=SeenPrice(chickpeas, pack, Decimal("5.40"), "EUR", "Kieler Hof", DAY, "=1+1", "Kestrel"))
    add_price(Food.objects.get(name="onion"), "per kg", "1.99", day=date(2026, 10, 1))
    book = owner_client.get("/bench/prices/book.csv").content.decode()
    assert "'=1+1" in book
    assert "New and kept: 0." in upload(owner_client, book).content.decode()
    before = sorted(Quote.objects.values_list("item", "shop", "day", "last_day", "price", "currency", "note"), key=str)
    Quote.objects.all().delete()
    assert f"New and kept: {len(before)}." in upload(owner_client, book).content.decode()
    assert sorted(Quote.objects.values_list("item", "shop", "day", "last_day", "price", "currency", "note"), key=str) == before
    assert owner_client.get("/bench/prices/book.csv").content.decode() == book
    records = owner_client.get("/bench/prices/book.json").json()["prices"]
    told = {"food": "tinned chickpeas", "pack": "6 x 400 g, drained 240 g", "note": "=1+1"}
    assert any(told.items() <= record.items() for record in records)


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("unobtainium,,500 g,1,EUR,Mill Lane,2026-10-01,,", "Row 2: no food is called “unobtainium”"),
        ("onion,,some,1,EUR,Mill Lane,2026-10-01,,", "Row 2: the pack, the price or the day cannot be read."),
        ("onion,,500 g,NaN,EUR,Mill Lane,2026-10-01,,", "Row 2: the price or its currency cannot be kept."),
        ("onion,,500 g,1,XYZ,Mill Lane,2026-10-01,,", "Row 2: the price or its currency cannot be kept."),
        ("onion,,500 g,1,EUR,,2026-10-01,,", "Row 2: the shop needs a name"),
        ("onion,,500 g,1,EUR,Mill Lane,2999-10-01,,", "Row 2: this day cannot be the day of a price."),
        ("onion,,500 g,1,EUR,Mill Lane,2026-10-01,2026-09-01,", "Row 2: this day cannot be the day of a price."),
    ],
)
def test_a_row_that_cannot_be_read_keeps_nothing(stew, owner_client, row, sentence):
    before = Quote.objects.count()
    good = "onion,,500 g,1,EUR,Mill Lane,2026-10-01,,"
    answer = owner_client.post(BOOK, {"table": SimpleUploadedFile("p.csv", "\n".join([",".join(HEAD), row, good]).encode())})
    assert (answer.status_code, sentence in answer.content.decode()) == (422, True)
    assert Quote.objects.count() == before


@pytest.mark.parametrize("text", ["", "food,pack\nonion,500 g", b"\xff\xfe\x00", "x" * 10_000])
def test_what_is_no_price_book_is_refused(stew, owner_client, text):
    data = text if isinstance(text, bytes) else text.encode()
    assert owner_client.post(BOOK, {"table": SimpleUploadedFile("p.csv", data)}).status_code == 422
    assert owner_client.post(BOOK, {}).status_code == 422
