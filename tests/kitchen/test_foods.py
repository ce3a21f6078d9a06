"""Foods: the reference table and what a cook makes of it."""

import re
from io import StringIO

import pytest
from django.core.management import call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from kitchen.models import Food, Line
from kitchen.operations import (
    FoodInUse,
    NotInTable,
    add_food,
    change_food,
    load_reference_foods,
    remove_food,
    reset_food,
)
from kitchen.reference import load_reference
from tests.kitchen.desk import form_fields, write_pot

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


def posted(client, address, **changes):
    """Send a food's page as a browser would, with these fields changed."""
    page = client.get(address).content.decode()
    return client.post(
        address, form_fields(page) | ticked(page) | {name.replace("__", "-"): value for name, value in changes.items()}
    )


def ticked(page):
    found = re.findall(r'name="(allergens|some_brands)" value="([^"]+)"[^>]*checked', page)
    return {name: [value for of, value in found if of == name] for name in {name for name, _ in found}}


def address_of(food):
    return reverse("kitchen:food-edit", args=[food.pk])


def test_the_household_weights_come_with_the_table():
    load_reference_foods()
    onion = Food.objects.get(name="onion")
    assert {"unit": "cup", "words": "chopped", "g": 160.0} in onion.weights
    change_food(food=onion, values={"weights": []})
    load_reference_foods()
    onion.refresh_from_db()
    assert onion.weights == []


@pytest.mark.parametrize("name", ["onion", "English muffin", "soy sauce", "prawns", "curry powder", "spirits"])
def test_a_food_s_page_sent_back_as_it_is_changes_nothing(owner_client, name):
    load_reference_foods()
    food = Food.objects.get(name=name)
    before = {field.attname: getattr(food, field.attname) for field in Food._meta.concrete_fields}
    assert posted(owner_client, address_of(food)).status_code == 302
    food.refresh_from_db()
    after = {field.attname: getattr(food, field.attname) for field in Food._meta.concrete_fields}
    assert after == before


def test_household_weights_are_added_changed_and_removed_by_the_page(owner_client):
    food = add_food(values={"name": "stardust", "weights": [{"unit": "cup", "words": "sifted", "g": 90.0}]})
    posted(owner_client, address_of(food), weight__1__unit="tbsp", weight__1__words="heaped", weight__1__g="11,5")
    food.refresh_from_db()
    assert food.weights == [{"unit": "cup", "words": "sifted", "g": 90.0}, {"unit": "tbsp", "words": "heaped", "g": 11.5}]
    posted(owner_client, address_of(food), weight__0__unit="", weight__0__words="", weight__0__g="")
    food.refresh_from_db()
    assert food.weights == [{"unit": "tbsp", "words": "heaped", "g": 11.5}]


def test_rows_are_added_and_taken_away_without_script_and_nothing_is_kept_yet(owner_client):
    food = add_food(values={"name": "stardust", "weights": [{"unit": "cup", "words": "sifted", "g": 90.0}]})
    more = posted(owner_client, address_of(food), do="more", name="night dust", weight__1__g="7").content.decode()
    assert 'name="weight-2-g"' in more
    assert 'value="night dust"' in more
    less = posted(owner_client, address_of(food), do="less-0").content.decode()
    assert 'name="weight-0-g"' not in less
    food.refresh_from_db()
    assert (food.name, len(food.weights)) == ("stardust", 1)


def test_the_last_weight_can_be_taken_away(owner_client):
    food = add_food(values={"name": "stardust", "weights": [{"unit": "cup", "words": "", "g": 90.0}]})
    page = owner_client.post(address_of(food), {**OAT, "weights": "shown", "weight-0-g": "90", "do": "less-0"}).content.decode()
    owner_client.post(address_of(food), form_fields(page))
    food.refresh_from_db()
    assert food.weights == []


@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("weight-0-g", "", "Type its grams, or empty the row."),
        ("weight-0-g", "much", "“much” is not a number."),
        ("weight-0-g", "0", "A number above 0"),
        ("weight-0-unit", "parsec", "Select a valid choice"),
        ("water_g", "120", "A number from 0 to 100"),
        ("protein_g", "-1", "A number from 0 to 100"),
        ("energy_kcal", "lots", "“lots” is not a number."),
    ],
)
def test_nonsense_in_weights_and_composition_is_said(owner_client, field, typed, sentence):
    data = OAT | {"weights": "shown", "weight-0-unit": "cup", "weight-0-words": "heaped", "weight-0-g": "90"}
    html = owner_client.post(NEW, data | {field: typed}).content.decode()
    assert sentence in html
    assert "heaped" in html
    assert not Food.objects.exists()


def test_what_is_hardly_true_is_said_and_kept(owner_client):
    data = OAT | {"water_g": "60", "protein_g": "20", "fat_g": "30", "carbohydrate_g": "5", "ash_g": "1", "energy_kcal": "2100"}
    page = owner_client.post(NEW, data, follow=True).content.decode()
    food = Food.objects.get()
    assert food.fat_g == 30.0
    assert "Saved, but look again: Water, protein, fat, carbohydrate and ash come to 116 g of 100 g." in page
    assert "Is it in kJ?" in page


def test_the_list_shows_ones_own_the_changed_and_the_rest(owner_client):
    load_reference_foods()
    add_food(values={"name": "stardust"})
    change_food(food=Food.objects.get(name="onion"), values={"g_per_ml": 0.7})

    def names(whose):
        page = owner_client.get("/bench/foods/", {"whose": whose, "q": "" if whose != "reference" else "onion"}).content.decode()
        return re.findall(r'<th scope="row"[^>]*><a [^>]*>([^<]+)</a>', page)

    assert names("own") == ["stardust"]
    assert names("changed") == ["onion"]
    assert "onion" not in names("reference")
    assert "spring onion" in names("reference")
    assert "not-a-filter" not in owner_client.get("/bench/foods/", {"whose": "not-a-filter"}).content.decode()


def test_an_empty_filter_says_so(owner_client):
    load_reference_foods()
    assert "You have no foods of your own yet." in owner_client.get("/bench/foods/", {"whose": "own"}).content.decode()
    page = owner_client.get("/bench/foods/", {"q": "star dust"}).content.decode()
    assert "/bench/foods/new/?name=star%20dust" in page
    assert 'value="star dust"' in owner_client.get("/bench/foods/new/?name=star%20dust").content.decode()


def test_an_unused_food_of_ones_own_is_removed(owner_client):
    food = add_food(values={"name": "stardust"})
    assert "Remove this food" in owner_client.get(address_of(food)).content.decode()
    assert posted(owner_client, address_of(food), do="remove").headers["Location"].startswith("/bench/foods/?removed=")
    assert not Food.objects.exists()


def test_a_food_in_use_stays_and_says_what_uses_it(owner_client, owner, noon):
    food = add_food(values={"name": "red lentils"})
    write_pot(owner, noon)
    assert Line.objects.filter(food=food).count() == 1
    page = owner_client.get(address_of(food)).content.decode()
    assert "used by 1 line" in page
    assert "Remove this food" not in page
    answer = owner_client.post(address_of(food), {"do": "remove"}, follow=True).content.decode()
    assert "“red lentils” stays. It is used by 1 ingredient line." in answer
    assert Food.objects.filter(pk=food.pk).exists()


def test_a_row_of_the_table_is_not_removed():
    load_reference_foods()
    with pytest.raises(FoodInUse, match="come back"):
        remove_food(food=Food.objects.get(name="onion"))


def test_changes_to_a_row_of_the_table_are_undone(owner_client):
    load_reference_foods()
    food = Food.objects.get(name="onion")
    before = (food.name, food.g_per_ml, food.weights, food.aliases)
    change_food(food=food, values={"name": "best onion", "g_per_ml": 0.7, "weights": [], "aliases": ["zwiebel"]})
    assert "Undo all changes" in owner_client.get(address_of(food)).content.decode()
    owner_client.post(address_of(food), {"do": "reset"})
    food.refresh_from_db()
    assert (food.name, food.g_per_ml, food.weights, food.aliases) == before
    assert not food.kept_by_cook


def test_a_row_whose_name_another_food_took_is_not_reset(owner_client):
    load_reference_foods()
    food = Food.objects.get(name="onion")
    change_food(food=food, values={"name": "best onion"})
    add_food(values={"name": "onion"})
    with pytest.raises(NotInTable):
        reset_food(food=food)
    assert "stays" in owner_client.post(address_of(food), {"do": "reset"}, follow=True).content.decode()
    with pytest.raises(NotInTable):
        reset_food(food=add_food(values={"name": "stardust"}))


def test_a_stranger_removes_nothing(stranger_client):
    food = add_food(values={"name": "stardust"})
    assert stranger_client.post(address_of(food), {"do": "remove"}).status_code == 302
    assert Food.objects.filter(pk=food.pk).exists()
