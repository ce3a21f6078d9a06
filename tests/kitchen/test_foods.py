"""Foods: the reference table and what a cook makes of it."""

from io import StringIO

import pytest
from django.core.management import call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from kitchen.domain.reference import load_reference
from kitchen.models import Food
from kitchen.operations import change_food, load_reference_foods

pytestmark = pytest.mark.django_db

NEW = "/bench/foods/new/"
OAT = {"name": "Dark-site oats", "aliases": "night oats, Moon  oats", "aisle": "grains", "g_per_ml": "0,4", "refuse_pct": ""}


def test_the_reference_table_comes_in_once():
    assert load_reference_foods() == len(load_reference())
    assert load_reference_foods() == 0
    assert Food.objects.filter(sr_number__isnull=False).count() == len(load_reference())


def test_what_a_cook_changed_stays_and_the_rest_is_brought_up_to_date():
    load_reference_foods()
    mine, stale = Food.objects.filter(sr_number__isnull=False)[:2]
    change_food(food=mine, values={"g_per_ml": 1.234})
    Food.objects.filter(pk=stale.pk).update(g_per_ml=9.9, aliases=["old"])
    gone = Food.objects.last()
    gone.delete()
    assert load_reference_foods() == 2
    mine.refresh_from_db()
    fresh = Food.objects.get(pk=stale.pk)
    assert mine.g_per_ml == 1.234
    assert (fresh.g_per_ml, fresh.aliases) == (stale.g_per_ml, stale.aliases)
    assert Food.objects.filter(sr_number=gone.sr_number).exists()


def test_a_cook_s_own_food_of_the_same_name_is_left_alone():
    row = load_reference()[0]
    Food.objects.create(name=row.name, aisle="mine")
    assert load_reference_foods() == len(load_reference()) - 1
    assert Food.objects.get(name=row.name).aisle == "mine"


def test_keeping_a_food_unchanged_does_not_make_it_one_s_own():
    load_reference_foods()
    food = Food.objects.first()
    change_food(food=food, values={"name": food.name})
    assert not Food.objects.get(pk=food.pk).kept_by_cook


def test_the_command_says_what_it_did():
    out = StringIO()
    call_command("foods", stdout=out)
    call_command("foods", stdout=out)
    assert out.getvalue() == f"{len(load_reference())} foods added or brought up to date.\nThe foods are up to date.\n"


def test_a_food_of_one_s_own(other_client):
    assert other_client.post(NEW, OAT | {"allergens": ["gluten"]}).status_code == 302
    food = Food.objects.get()
    assert (food.aliases, food.g_per_ml, food.g_per_each, food.allergens) == (["night oats", "Moon oats"], 0.4, None, ["gluten"])
    assert food.kept_by_cook


def test_changing_a_food_by_its_page(other_client):
    load_reference_foods()
    food = Food.objects.get(name="onion")
    address = reverse("kitchen:food-edit", args=[food.pk])
    assert f"Row {food.sr_number} of the reference table" in other_client.get(address).content.decode()
    other_client.post(address, OAT | {"name": "onion", "g_per_each": "150"})
    food.refresh_from_db()
    assert (food.g_per_each, food.kept_by_cook) == (150.0, True)
    assert food.water_g is not None


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "", "Type the food’s name."),
        ("name", "ONION", "There is a food of this name already."),
        ("g_per_ml", "heavy", "“heavy” is not a number."),
        ("g_per_ml", "0", "A number above 0"),
        ("g_per_each", "-4", "A number above 0"),
        ("refuse_pct", "100", "A number from 0 to 99"),
    ],
)
def test_nonsense_is_said_beside_its_field(other_client, field, typed, sentence):
    Food.objects.create(name="onion")
    html = other_client.post(NEW, OAT | {field: typed}).content.decode()
    assert sentence in html
    assert "night oats" in html
    assert Food.objects.count() == 1


def test_the_list_finds_other_names_and_accents(other_client):
    Food.objects.create(name="Crème fraîche", aliases=["sour cream"])
    Food.objects.create(name="onion")
    for words in ("creme", "SOUR cream", "fraîche"):
        html = other_client.get("/bench/foods/", {"q": words}).content.decode()
        assert "Crème fraîche" in html
        assert "onion" not in html
    empty = other_client.get("/bench/foods/", {"q": "moon dust"})
    assert "No food has “moon dust”" in empty.content.decode()
    partial = other_client.get("/bench/foods/", {"q": "onion"}, headers={"HX-Request": "true", "HX-Target": "food-list"})
    assert partial.content.decode().startswith('<div id="food-list">')


def test_an_empty_table_says_what_to_do(other_client):
    assert "Run “manage.py foods”" in other_client.get("/bench/foods/").content.decode()


def test_the_list_asks_no_more_with_more_foods(other_client):
    def count():
        with CaptureQueriesContext(connection) as queries:
            other_client.get("/bench/foods/")
        return len(queries)

    Food.objects.create(name="onion")
    count()
    few = count()
    load_reference_foods()
    assert count() == few


def test_a_food_may_bring_an_allergen_in_some_brands_only(other_client):
    other_client.post(NEW, OAT | {"allergens": ["gluten"], "some_brands": ["milk", "gluten"]})
    assert Food.objects.get().allergens == ["gluten", "milk?"]


def test_none_of_these_is_said_and_not_with_others(other_client):
    answer = other_client.post(NEW, OAT | {"allergens": ["none", "milk"]})
    assert "You ticked “none of these” and others." in answer.content.decode()
    assert other_client.post(NEW, OAT | {"allergens": ["none"]}).status_code == 302
    assert Food.objects.get().allergens == ["none"]


def test_an_earlier_spelling_is_ticked_and_kept_as_the_list_spells_it(other_client):
    food = Food.objects.create(name="old", allergens=["egg", "peanut"])
    place = reverse("kitchen:food-edit", args=[food.pk])
    assert other_client.get(place).content.decode().count("checked") == 2


def test_keeping_a_reference_food_by_its_page_leaves_its_allergens(other_client):
    load_reference_foods()
    food = Food.objects.get(name="ramen noodles")
    ticks = {
        "allergens": [key for key in food.allergens if not key.endswith("?")],
        "some_brands": [key[:-1] for key in food.allergens if key.endswith("?")],
    }
    other_client.post(
        reverse("kitchen:food-edit", args=[food.pk]), OAT | ticks | {"name": food.name, "aliases": "", "g_per_ml": ""}
    )
    assert Food.objects.get(pk=food.pk).allergens == food.allergens
