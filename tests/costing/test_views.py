"""The bench pages of prices, shops and yields, tried by an owner, another cook and a stranger."""

import re
from datetime import timedelta
from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from costing.models import Quote, SheetRules, Shop, Yield
from costing.operations import record_yield
from kitchen.models import Food
from tests.costing.kitchen_of_prices import DAY, add_food, add_line, add_price, first_part

PRICE = {"food": "red lentils", "pack": "2 x 500 g", "price": "3.49", "shop": "Harrow Lane", "day": "2026-10-01", "note": ""}


@pytest.fixture
def pages(stew):
    """Every page that is read, and every address that only takes a form."""
    quote, tested = (
        Quote.objects.first(),
        record_yield(food=Food.objects.get(name="onion"), preparation="", percent=90, source=""),
    )
    return {
        "shared": [
            "/bench/prices/",
            "/bench/prices/rules/",
            f"/bench/prices/{quote.pk}/",
            f"/bench/prices/food/{quote.item.food_id}/",
            "/bench/shops/",
            f"/bench/prices/items/{quote.item_id}/",
            f"/bench/shops/{quote.shop_id}/",
            "/bench/yields/",
            f"/bench/yields/{tested.pk}/",
        ],
        "owners": ["/bench/recipes/stew/prices/"],
        "posted": [
            f"/bench/prices/{quote.pk}/remove/",
            f"/bench/shops/{quote.shop_id}/remove/",
            f"/bench/yields/{tested.pk}/remove/",
        ],
    }


def test_the_owner_reads_every_page(pages, owner_client):
    assert {owner_client.get(url).status_code for url in pages["shared"] + pages["owners"]} == {200}


def test_another_cook_shares_the_prices_but_not_the_recipe(pages, other_client):
    assert {other_client.get(url).status_code for url in pages["shared"]} == {200}
    assert {other_client.get(url).status_code for url in pages["owners"]} == {404}
    assert other_client.post("/bench/recipes/stew/prices/", {}).status_code == 404


def test_a_stranger_is_asked_to_sign_in(pages, stranger_client):
    before = Quote.objects.count()
    for url in pages["shared"] + pages["owners"] + pages["posted"]:
        answer = stranger_client.post(url) if url in pages["posted"] else stranger_client.get(url)
        assert answer.status_code == 302
        assert answer.url.startswith("/bench/sign-in/")
    assert stranger_client.post("/bench/prices/", PRICE).status_code == 302
    assert Quote.objects.count() == before


def test_what_is_not_there_is_404(site, owner_client):
    for url in (
        "/bench/prices/99/",
        "/bench/prices/food/99/",
        "/bench/shops/99/",
        "/bench/yields/99/",
        "/bench/recipes/x/prices/",
    ):
        assert owner_client.get(url).status_code == 404


def test_forms_that_write_do_not_answer_to_a_link(pages, owner_client):
    assert {owner_client.get(url).status_code for url in pages["posted"]} == {405}


def test_empty_pages_say_what_to_do(site, owner_client):
    assert "till slip" in owner_client.get("/bench/prices/").content.decode()
    assert "Add one here" in owner_client.get("/bench/shops/").content.decode()
    assert "Weigh a food" in owner_client.get("/bench/yields/").content.decode()


def test_a_price_in_one_quick_form(stew, other_client):
    answer = other_client.post("/bench/prices/", PRICE, follow=True)
    assert "The price of red lentils is saved: €3.49 per kg." in answer.content.decode()
    quote = Quote.objects.get(price="3.49")
    assert (quote.item.packs, quote.item.pack_amount, quote.item.pack_unit, quote.currency) == (2, 500, "g", "EUR")
    assert (quote.shop.name, quote.day.isoformat()) == ("Harrow Lane", "2026-10-01")


@pytest.mark.parametrize("typed", ["Red Lentils", "  red   lentils ", "dal"])
def test_a_food_is_found_by_any_of_its_names(stew, owner_client, typed):
    Food.objects.filter(name="red lentils").update(aliases=["Dal"])
    owner_client.post("/bench/prices/", PRICE | {"food": typed})
    assert Quote.objects.filter(price="3.49", item__food__name="red lentils").exists()


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("price", "-1", "A price cannot be below zero."),
        ("price", "three", "“three” is not a price."),
        ("price", "", "Type the price in figures"),
        ("pack", "0 g", "A pack must hold more than nothing."),
        ("pack", "some", "“some” is not a pack."),
        ("pack", "5 smidgens", "is not a unit we know"),
        ("food", "red lentil", "Did you mean “red lentils”?"),
        ("food", "unobtainium", "add it under Foods first"),
        ("food", "مرحبا 🙂", "No food is called"),
        ("shop", "", "Say where the price was seen."),
        ("day", "2999-01-01", "This day has not come yet."),
        ("day", "yesterday", "This is not a day."),
        ("day", "0001-01-01", "too long ago"),
    ],
)
@pytest.mark.usefixtures("contexts")
def test_bad_input_stands_beside_its_field_with_what_was_typed(stew, owner_client, field, typed, sentence):
    before = (Quote.objects.count(), Shop.objects.count())
    answer = owner_client.post("/bench/prices/", PRICE | {field: typed})
    html = answer.content.decode()
    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {field}
    assert sentence in html
    assert answer.context["form"][field].value() == typed
    assert 'value="Harrow Lane"' in html or field == "shop"
    assert (Quote.objects.count(), Shop.objects.count()) == before


def test_ten_megabytes_are_refused_with_a_sentence(stew, owner_client):
    answer = owner_client.post("/bench/prices/", PRICE | {"price": "9" * 2_000_000})
    assert answer.status_code == 422
    assert not Quote.objects.filter(shop__name="Harrow Lane").exists()


def test_a_pack_in_a_unit_that_the_food_cannot_convert_is_kept_and_said(stew, owner_client):
    answer = owner_client.post("/bench/prices/", PRICE | {"pack": "1 L"}, follow=True)
    html = answer.content.decode()
    assert "In others it cannot be converted: add grams per mL for this food (red lentils)." in html
    assert Quote.objects.filter(item__pack_unit="L").exists()


def test_another_currency_is_typed_with_the_price(stew, owner_client):
    owner_client.post("/bench/prices/", PRICE | {"price": "4.20 CHF"})
    quote = Quote.objects.get(currency="CHF")
    assert 'value="4.20 CHF"' in owner_client.get(f"/bench/prices/{quote.pk}/").content.decode()


def test_a_price_is_corrected_from_what_was_typed(stew, owner_client):
    quote = Quote.objects.get(item__food__name="red lentils")
    html = owner_client.get(f"/bench/prices/{quote.pk}/").content.decode()
    for typed in ("red lentils", "500 g", "2.35", "Mill Lane", "2026-10-02"):
        assert f'value="{typed}"' in html
    owner_client.post(f"/bench/prices/{quote.pk}/", PRICE)
    quote = Quote.objects.get(replaces=quote)
    assert quote.price == Decimal("3.49")
    assert owner_client.post(f"/bench/prices/{quote.pk}/", PRICE | {"price": "-2"}).status_code == 422
    quote.refresh_from_db()
    assert quote.price == Decimal("3.49")


def test_a_removed_price_can_be_brought_back(stew, owner_client):
    quote = Quote.objects.get(item__food__name="red lentils")
    answer = owner_client.post(f"/bench/prices/{quote.pk}/remove/", follow=True)
    page = answer.content.decode()
    assert "Removed: red lentils at Mill Lane, 2 October 2026." in page
    assert not Quote.objects.filter(taken_back_at=None, item__food__name="red lentils").exists()
    (back,) = re.findall(r'action="(/bench/changes/[0-9]+/put-back/)"', page)
    again = owner_client.post(back).headers["Location"]
    assert Quote.objects.get(taken_back_at=None, item__food__name="red lentils").price == quote.price
    assert again == f"/bench/prices/{Quote.objects.get(replaces=quote).pk}/"
    assert "Removed:" not in owner_client.get(answer.redirect_chain[-1][0]).content.decode()


@pytest.mark.usefixtures("contexts")
def test_searching_by_food_by_shop_and_for_old_prices(stew, owner_client):
    add_price(Food.objects.get(name="salt"), "750 g", "0.85", shop="Harrow Lane", day=DAY - timedelta(3000))

    def found(query):
        return [quote.food.name for quote in owner_client.get(f"/bench/prices/?{query}").context["shown"]]

    assert found("q=lentil") == ["red lentils"]
    assert found("q=harrow") == ["salt"]
    assert found("q=harrow+lentil") == []
    assert "salt" in found("stale=on")
    add_price(Food.objects.get(name="salt"), "1 kg", "0.79", day=DAY - timedelta(900))
    assert found("stale=on").count("salt") == 1
    add_price(Food.objects.get(name="salt"), "500 g", "0.50", day=timezone.localdate())
    assert "salt" not in found("stale=on")
    assert found("q=" + "x" * 500)


def test_the_list_alone_for_htmx(stew, owner_client):
    answer = owner_client.get("/bench/prices/?q=onion", headers={"HX-Request": "true"})
    html = answer.content.decode()
    assert html.lstrip().startswith('<div id="price-list">')
    assert "<html" not in html
    assert "HX-Request" in answer["Vary"]
    restored = owner_client.get("/bench/prices/", headers={"HX-Request": "true", "HX-History-Restore-Request": "true"})
    assert "<html" in restored.content.decode()


def test_history_compares_packs_by_the_unit(stew, owner_client):
    lentils = Food.objects.get(name="red lentils")
    add_price(lentils, "5 kg", "18.00", day=DAY - timedelta(400))
    html = owner_client.get(f"/bench/prices/food/{lentils.pk}/").content.decode()
    assert "€4.70 per kg" in html
    assert "€3.60 per kg" in html


def rows(add, client, url):
    def count():
        with CaptureQueriesContext(connection) as held:
            client.get(url)
        return len(held)

    add(0)
    client.get(url)
    before = count()
    for number in range(1, 11):
        add(number)
    return before, count()


def test_lists_cost_no_more_queries_with_ten_more_rows(stew, owner_client):
    onion = Food.objects.get(name="onion")
    part = first_part(stew)

    def price(number):
        add_price(onion, "1 kg", "1.00", shop=f"shop {number}")

    def tested(number):
        record_yield(food=add_food(f"root {number}", refuse_pct=5), preparation="", percent=90, source="")

    def used(number):
        add_line(part, f"{number} g", 1, "g", add_food(f"leaf {number}", refuse_pct=5))

    for add, url in (
        (price, "/bench/prices/"),
        (price, f"/bench/prices/food/{onion.pk}/"),
        (price, "/bench/shops/"),
        (tested, "/bench/yields/"),
        (used, "/bench/yields/"),
        (used, "/bench/recipes/stew/prices/"),
    ):
        Quote.objects.all().delete()
        Shop.objects.all().delete()
        Yield.objects.all().delete()
        Food.objects.filter(name__contains=" ").exclude(name="red lentils").exclude(name="ground cumin").delete()
        before, after = rows(add, owner_client, url)
        assert after == before, url
        assert before <= (40 if url.endswith("/stew/prices/") else 16), url


def test_a_shop_is_opened_renamed_and_closed(site, owner_client):
    owner_client.post("/bench/shops/", {"name": "Quarry Road", "note": "Tuesdays"})
    shop = Shop.objects.get()
    owner_client.post(f"/bench/shops/{shop.pk}/", {"name": "Quarry Road dry goods", "note": ""})
    shop.refresh_from_db()
    assert shop.name == "Quarry Road dry goods"
    taken = owner_client.post("/bench/shops/", {"name": "quarry road DRY goods", "note": ""})
    assert "is there already" in taken.content.decode()
    owner_client.post(f"/bench/shops/{shop.pk}/remove/")
    assert not Shop.objects.exists()


def test_a_shop_with_prices_is_not_closed(stew, owner_client):
    shop = Shop.objects.get()
    answer = owner_client.post(f"/bench/shops/{shop.pk}/remove/", follow=True)
    assert "Mill Lane has prices." in answer.content.decode()
    assert Shop.objects.exists()


def test_a_yield_typed_or_tested(stew, owner_client):
    answer = owner_client.post("/bench/yields/", {"food": "onion", "percent": "85.5"}, follow=True)
    assert "The food table says 90 % (stem ends, skin and defects thrown away)." in answer.content.decode()
    assert (Yield.objects.get().percent, Yield.objects.get().source) == (Decimal("85.50"), "own test")
    owner_client.post("/bench/yields/", {"food": "onion", "preparation": "diced", "bought": "2.5 kg", "left": "1750 g"})
    assert Yield.objects.get(preparation="diced").percent == 70


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({"percent": "101"}, "percent", "Trimming leaves at most 100 %."),
        ({"percent": "0"}, "percent", "above 0 and at most 100"),
        ({"percent": "most"}, "percent", "in figures"),
        ({}, "percent", "Type the yield, or what was bought and what was left."),
        ({"bought": "1 kg"}, "percent", "Type the yield, or what was bought and what was left."),
        ({"bought": "1 kg", "left": "2 kg"}, "left", "at most what was bought"),
        ({"bought": "1 kg", "left": "1 cup"}, "left", "in the same way"),
        ({"percent": "90", "food": "onoin"}, "food", "Did you mean “onion”?"),
    ],
)
@pytest.mark.usefixtures("contexts")
def test_a_bad_yield_stands_beside_its_field(stew, owner_client, typed, field, sentence):
    answer = owner_client.post("/bench/yields/", {"food": "onion"} | typed)
    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {field}
    assert sentence in answer.content.decode()
    assert not Yield.objects.exists()


def test_a_yield_is_corrected_and_removed(stew, owner_client):
    onion = Food.objects.get(name="onion")
    first = record_yield(food=onion, preparation="", percent=Decimal(85), source="own test")
    record_yield(food=onion, preparation="diced", percent=Decimal(80), source="own test")
    url = f"/bench/yields/{first.pk}/"
    assert 'value="85"' in owner_client.get(url).content.decode()
    assert owner_client.post(url, {"preparation": "diced", "percent": "84"}).status_code == 422
    owner_client.post(url, {"preparation": "", "percent": "84", "source": "5 kg"})
    first.refresh_from_db()
    assert (first.percent, first.source) == (84, "5 kg")
    owner_client.post(f"{url}remove/")
    assert Yield.objects.count() == 1


def test_the_default_yield_is_seen_and_can_be_changed_from_there(stew, owner_client):
    html = owner_client.get("/bench/yields/").content.decode()
    assert "Stem ends, skin and defects" in html
    assert "/bench/yields/?food=onion" in html
    assert 'value="onion"' in owner_client.get("/bench/yields/?food=onion").content.decode()


def test_missing_prices_of_a_recipe_in_one_grid(stew, owner_client):
    cumin = Food.objects.get(name="ground cumin")
    url = "/bench/recipes/stew/prices/"
    html = owner_client.get(url).content.decode()
    assert "1½ tsp ground cumin" in html
    typed = {f"pack_{cumin.pk}": "45 g", f"price_{cumin.pk}": "1.60", "shop": "Quarry Road", "day": "2026-10-02"}
    answer = owner_client.post(url, typed, follow=True)
    assert "1 price is saved." in answer.content.decode()
    assert "3 of 3" in owner_client.get(url).content.decode()
    assert Quote.objects.get(item__food=cumin).shop.name == "Quarry Road"


@pytest.mark.parametrize(
    ("typed", "field", "sentence"),
    [
        ({}, "__all__", "Nothing was typed yet"),
        ({"pack": "45 g"}, "price", "Type its price"),
        ({"price": "1.60"}, "pack", "Say what the price buys"),
        ({"pack": "45 g", "price": "three"}, "price", "is not a price"),
        ({"pack": "45 g", "price": "1.60", "shop": ""}, "shop", "Say where the price was seen"),
        ({"pack": "45 g", "price": "1.60", "day": "soon"}, "day", "This is not a day."),
    ],
)
@pytest.mark.usefixtures("contexts")
def test_a_bad_row_keeps_the_whole_grid_as_typed(stew, owner_client, typed, field, sentence):
    cumin, thyme = Food.objects.get(name="ground cumin"), add_food("thyme")
    add_line(first_part(stew), "5 g thyme", 5, "g", thyme)
    named = {f"{name}_{cumin.pk}" if name in {"pack", "price"} else name: value for name, value in typed.items()}
    whole = {f"pack_{thyme.pk}": "15 g", f"price_{thyme.pk}": "1.20"} if typed else {}
    data = {"shop": "Quarry Road", "day": "2026-10-02"} | whole | named
    before = Quote.objects.count()
    answer = owner_client.post("/bench/recipes/stew/prices/", data)
    wanted = f"{field}_{cumin.pk}" if field in {"pack", "price"} else field
    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {wanted}
    assert sentence in answer.content.decode()
    assert Quote.objects.count() == before
    assert not whole or 'value="15 g"' in answer.content.decode()


def test_lines_that_a_price_does_not_solve_say_what_would(stew, owner_client):
    add_line(first_part(stew), "a good handful of luck", None, "", None)
    add_line(first_part(stew), "1 cup red lentils", 1, "cup", Food.objects.get(name="red lentils"))
    html = owner_client.get("/bench/recipes/stew/prices/").content.decode()
    assert "No food is chosen for this line." in html
    assert "add grams per mL for this food" in html
    assert "/bench/foods/" in html


def test_the_rules_are_chosen(stew, owner_client):
    shop = Shop.objects.get()
    url = "/bench/prices/rules/"
    assert owner_client.post(url, {"rule": "shop", "allowance_pct": "0"}).status_code == 422
    assert owner_client.post(url, {"rule": "median", "allowance_pct": "0"}).status_code == 422
    bad = owner_client.post(url, {"rule": "newest", "allowance_pct": "80"})
    assert "50 % is the most." in bad.content.decode()
    assert not SheetRules.objects.exists()
    owner_client.post(url, {"rule": "shop", "shop": shop.pk, "allowance_pct": "5"})
    rules = SheetRules.objects.get()
    assert (rules.rule, rules.shop, rules.last, rules.allowance_pct) == ("shop", shop, 3, 5)


def test_nothing_is_drawn_inline(pages, owner_client):
    for url in pages["shared"] + pages["owners"]:
        html = owner_client.get(url).content.decode()
        assert " style=" not in html
        assert " onclick=" not in html
