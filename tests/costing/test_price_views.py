"""Typing prices as they are printed, what lies on the shelf, and what a sheet that lacks prices may not do."""

from datetime import timedelta
from decimal import Decimal

import pytest
from django.utils import timezone

from costing.models import Item, Quote, Shop, Yield
from kitchen.models import Food
from kitchen.operations import publish_recipe
from tests.costing.kitchen_of_prices import add_food, add_line, add_price, first_part, write_recipe
from tests.costing.test_views import PRICE


def test_the_shop_and_the_day_are_remembered_for_the_next_price(stew, owner_client):
    owner_client.post("/bench/prices/", PRICE)
    for url in ("/bench/prices/", "/bench/recipes/stew/prices/"):
        html = owner_client.get(url).content.decode()
        assert 'value="Harrow Lane"' in html
        assert 'value="2026-10-01"' in html


def test_a_price_of_tomorrow_is_refused(stew, owner_client):
    tomorrow = (timezone.localdate() + timedelta(days=1)).isoformat()
    answer = owner_client.post("/bench/prices/", PRICE | {"day": tomorrow})
    assert (answer.status_code, "This day has not come yet." in answer.content.decode()) == (422, True)


@pytest.mark.parametrize(
    ("typed", "kept"),
    [
        ({"pack": "", "price": "2.35/kg"}, ("1/1", "kg", 1, "loose", "2.3500")),
        ({"pack": "500 g", "price": "2.35/kg"}, ("500/1", "g", 1, "pack", "1.1750")),
        ({"pack": "400 g tin", "price": "2 for 3.00"}, ("400/1", "g", 2, "pack", "3.0000")),
        ({"pack": "6 x 400 g", "price": "0.45 each"}, ("400/1", "g", 6, "pack", "2.7000")),
        ({"pack": "", "price": "99c each"}, ("1/1", "", 1, "pack", "0.9900")),
        ({"pack": "case of 24", "price": "1,299.00"}, ("24/1", "", 1, "pack", "1299.0000")),
        ({"pack": "1 dozen", "price": "free"}, ("12/1", "", 1, "pack", "0.0000")),
    ],
)
def test_pack_and_price_are_typed_as_they_are_printed(stew, owner_client, typed, kept):
    assert owner_client.post("/bench/prices/", PRICE | typed).status_code == 302
    quote = Quote.objects.order_by("pk").last()
    item = Item.objects.filter(pk=quote.item_id).values_list("pack_amount", "pack_unit", "packs", "sold").get()
    assert (f"{item[0].numerator}/{item[0].denominator}", *item[1:], str(quote.price)) == kept


@pytest.mark.parametrize("price", ["10 Stück 2,99", "10 for 2.99"])
def test_a_number_of_pieces_told_twice_is_asked(stew, owner_client, price):
    answer = owner_client.post("/bench/prices/", PRICE | {"pack": "10", "price": price})
    assert (answer.status_code, "or for 10 packs of 10?" in answer.content.decode()) == (422, True)
    assert owner_client.post("/bench/prices/", PRICE | {"pack": "1", "price": price}).status_code == 302
    assert Quote.objects.order_by("pk").last().item.packs == 10


def test_the_country_of_the_shop_says_what_a_comma_means(stew, owner_client):
    owner_client.post("/bench/shops/", {"name": "Kieler Hof", "country": "DE"})
    ambiguous = PRICE | {"price": "1,299", "pack": "5 kg", "shop": " kieler  hof "}
    assert owner_client.post("/bench/prices/", ambiguous).status_code == 302
    assert Quote.objects.order_by("pk").last().price == Decimal("1.299")
    assert owner_client.post("/bench/prices/", ambiguous | {"shop": "Anywhere"}).status_code == 422


def test_shops_that_differ_by_spaces_or_capitals_are_one(stew, owner_client):
    owner_client.post("/bench/prices/", PRICE | {"shop": "harrowlane"})
    owner_client.post("/bench/prices/", PRICE | {"shop": " HARROW  LANE "})
    assert Shop.objects.filter(name__icontains="harrow").count() == 1


def test_what_is_known_of_a_thing_on_the_shelf(stew, owner_client):
    item = Item.objects.get(food__name="red lentils")
    juice = add_food("lemon juice")
    typed = {"sold": "singly", "state": "dry", "container": "tins", "drained": "240 g", "pieces": "8", "tax_pct": "7"}
    gives = {"part_1": "lemon juice", "part_amount_1": "48 g", "part_share_1": "80"}
    url = f"/bench/prices/items/{item.pk}/"
    assert owner_client.post(url, typed | gives).status_code == 302
    item.refresh_from_db()
    assert (item.sold, item.state, item.container, item.drained_g, item.pieces) == ("singly", "dry", "can", 240, 8)
    assert item.gives == [{"food_id": juice.pk, "amount": "48", "unit": "g", "share": "80"}]
    html = owner_client.get(url).content.decode()
    for value in ("can", "240 g", "8", "lemon juice", "48 g"):
        assert f'value="{value}"' in html
    for field, bad, sentence in (
        ("drained", "600 g", "cannot weigh more"),
        ("container", "kg", "Use a word for one pack"),
        ("pieces", "some", "a number of pieces"),
        ("part_amount_1", "", "how much of it one pack gives"),
    ):
        answer = owner_client.post(url, typed | gives | {field: bad})
        assert (answer.status_code, sentence in answer.content.decode()) == (422, True), field


def test_a_cooking_gain_is_entered_and_a_trim_above_100_is_not(stew, owner_client):
    rice = {
        "food": "red lentils",
        "process": "cook",
        "preparation": "",
        "percent": "",
        "bought": "100 g",
        "left": "280 g",
        "source": "",
    }
    assert owner_client.post("/bench/yields/", rice).status_code == 302
    assert Yield.objects.get(process="cook").percent == 280
    assert owner_client.post("/bench/yields/", rice | {"process": "trim"}).status_code == 422


def publish(recipe, at, by):
    return publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=by, note="", at=at)


def test_a_recipe_with_only_its_salt_priced_is_not_the_cheapest(stew, owner, noon, client):
    add_price(Food.objects.get(name="ground cumin"), "45 g", "1.60")
    publish(stew, noon, owner)
    pot = write_recipe(owner, noon, slug="pot", title="Salt pot")
    salt = Food.objects.get(name="salt")
    add_price(salt, "1 kg", "0.85")
    add_line(first_part(pot), "5 g salt", 5, "g", salt)
    add_line(first_part(pot), "1 kg venison", 1, "kg", add_food("venison"))
    publish(pot, noon, owner)
    sorted_by_cost = client.get("/?sort=cost_per_serving").content.decode()
    assert sorted_by_cost.index("Lentil stew") < sorted_by_cost.index("Salt pot")
    limited = client.get("/?cost=0.60").content.decode()
    assert "Lentil stew" in limited
    assert "Salt pot" not in limited
