"""The library: search, limits, order, pages; and how many queries it takes."""

from datetime import timedelta
from decimal import Decimal

import pytest

from kitchen.cards import Card, ShelfFigure, register
from kitchen.models import Recipe, ShelfMark
from kitchen.operations import publish_recipe, shelve_by_new_rules, withdraw_recipe
from kitchen.queries import ShelfAsk, marks_counted, not_known_to_be_free, shelf, shelf_plates
from tests.kitchen.stew import next_revision, write_stew


@pytest.fixture
def publish(tally, owner, noon):
    """Publish a stew at an address, with so many watt-hours in all (six servings), so many days after the first."""

    def publish(slug, title, wh=240, days=0):
        tally.tally = wh
        recipe = write_stew(owner, noon, slug=slug, title=title)
        publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon + timedelta(days=days))
        return recipe

    return publish


def _slugs(**asked):
    return [recipe.slug for recipe in shelf(ShelfAsk(**asked))]


def test_an_empty_library_says_what_to_do(stranger_client, owner_client, other_client):
    for client in (stranger_client, owner_client, other_client):
        page = client.get("/").content.decode()
        assert "No recipes yet" in page
        assert "bench" in page


def test_a_plate_shows_the_edition_and_not_the_draft(publish, stranger_client):
    recipe = publish("stew", "Red lentil and squash pot")
    recipe.title = "Something unfinished"
    recipe.save(update_fields=["title"])
    page = stranger_client.get("/").content.decode()
    assert "Red lentil and squash pot" in page
    assert "unfinished" not in page
    assert "measured 3 times" in page
    assert "<b>40&nbsp;<small>Wh</small>" in page


def test_unpublished_recipes_stand_on_nobodys_shelf(no_cards, owner, noon, owner_client):
    write_stew(owner, noon)
    assert "Red lentil" not in owner_client.get("/").content.decode()


@pytest.mark.parametrize(
    "words",
    ["lentil", "LENTILS", "squash pot", "pot red", "one pot", "Jalapeno", "jalapeño", "mirror cools", "vegetable   stock"],
)
def test_words_are_found_in_title_summary_tags_and_ingredients(publish, words):
    publish("stew", "Red lentil and squash pot")
    assert _slugs(words=words) == ["stew"]


@pytest.mark.parametrize("words", ["beans", "lentil beans", "%", "_", "'; drop table", "🍲🍲"])
def test_words_that_are_not_there_find_nothing(publish, words):
    publish("stew", "Red lentil and squash pot")
    assert _slugs(words=words) == ([] if any(sign.isalnum() or sign == "_" for sign in words) else ["stew"])


@pytest.mark.parametrize(
    ("words", "found"),
    [("len", True), ("lentils", True), ("tomatoes squash", False), ("entil", False), ("le", False), ("l", False), ("豆", False)],
)
def test_a_word_is_found_by_its_beginning_of_three_letters_or_more(publish, words, found):
    publish("stew", "Red lentil and squash pot")
    assert _slugs(words=words) == (["stew"] if found else [])


def test_a_script_without_spaces_is_found_from_any_sign(publish):
    publish("soup", "冬の豆スープ")
    assert _slugs(words="豆") == _slugs(words="スープ") == ["soup"]


def test_a_new_edition_is_found_by_its_own_words(publish, owner, noon):
    recipe = publish("stew", "Red lentil and squash pot")
    publish_recipe(recipe=recipe, revision=next_revision(recipe, noon, text="350 g black beans"), by=owner, at=noon)
    assert _slugs(words="jalapeno") == []


class _Water(Card):
    """Litres, as many as the title has letters: what a new card declares, and nothing else."""

    slug = "water"
    shelf_figures = (ShelfFigure("water_l", "least water", "Water, at most", "water", "L"),)

    def collect(self, revision, *, at):
        return {"l": len(revision.recipe.title)}

    def present(self, facts, request):
        return None

    def figures(self, facts, request):
        return {"water_l": Decimal(facts["l"])}


def test_a_new_card_is_sorted_and_limited_by_what_it_declares(publish, stranger_client):
    register(_Water())
    publish("a", "A long title of a pot")
    publish("b", "Short pot")
    page = stranger_client.get("/").content.decode()
    assert '<option value="water_l">least water</option>' in page
    assert page.index('name="cost"') < page.index('name="water"')
    page = stranger_client.get("/?sort=water_l").content.decode()
    assert page.index("Short pot") < page.index("A long title")
    page = stranger_client.get("/?water=9").content.decode()
    assert "Short pot" in page
    assert "A long title" not in page


def test_limits_need_the_figure(publish, tally):
    publish("light", "Light pot", wh=120)
    publish("heavy", "Heavy pot", wh=900)
    assert _slugs(at_most={"energy_per_serving_wh": Decimal(20)}) == ["light"]
    assert _slugs(at_most={"energy_per_serving_wh": Decimal("19.9999")}) == []
    assert _slugs(at_most={"cost_per_serving": Decimal(5)}) == []
    assert _slugs(at_most={"energy_per_serving_wh": Decimal(500), "total_min": Decimal(20)}) == ["heavy", "light"]


def test_orders(publish):
    publish("b", "beans", wh=120, days=2)
    publish("c", "Carrots", wh=60, days=1)
    publish("a", "Apples", wh=None, days=3)
    assert _slugs() == ["a", "b", "c"]
    assert _slugs(sort="newest") == ["a", "b", "c"]
    assert _slugs(sort="energy_per_serving_wh") == ["c", "b", "a"]


def test_the_shelf_costs_no_more_with_ten_more_rows(publish, stranger_client, django_assert_max_num_queries):
    publish("first", "First")
    with django_assert_max_num_queries(6) as few:
        stranger_client.get("/?sort=energy_per_serving_wh&wh=50&q=lentil")
    for more in range(10):
        publish(f"more-{more}", f"More {more}")
    with django_assert_max_num_queries(len(few)):
        page = stranger_client.get("/?sort=energy_per_serving_wh&wh=50&q=lentil").content.decode()
    assert page.count('class="tile"') == 11


def test_twenty_four_plates_a_page(publish, stranger_client):
    for number in range(25):
        publish(f"pot-{number}", f"Pot {number:02d}")
    first = stranger_client.get("/?q=pot").content.decode()
    assert first.count('class="tile"') == 24
    assert "?q=pot&amp;page=2" in first
    assert "Pot 24" in stranger_client.get("/?q=pot&page=2").content.decode()
    assert stranger_client.get("/?page=nonsense").status_code == 200


@pytest.mark.parametrize(
    ("query", "sentence"),
    [
        ({"wh": "many"}, "Type a number above zero"),
        ({"w": "-1"}, "Type a number above zero"),
        ({"minutes": "1e400"}, "Type a number"),
        ({"cost": "NaN"}, "Type a number above zero"),
        ({"wh": "9999999999"}, "below 1,000,000"),
        ({"q": "x" * 201}, "fewer words"),
    ],
)
def test_a_limit_that_makes_no_sense_is_said_beside_its_field(publish, stranger_client, query, sentence):
    publish("stew", "Red lentil and squash pot")
    answer = stranger_client.get("/", query)
    assert answer.status_code == 400
    assert sentence in answer.content.decode()
    assert next(iter(query.values())) in answer.content.decode()
    assert "Red lentil" in answer.content.decode()


def test_an_unknown_order_is_the_usual_one(publish, stranger_client):
    publish("stew", "Red lentil and squash pot")
    assert "Red lentil" in stranger_client.get("/?sort=smell").content.decode()


def test_nothing_found_says_how_to_find_more(publish, stranger_client):
    publish("stew", "Red lentil and squash pot")
    assert "Nothing here fits that" in stranger_client.get("/?q=beans").content.decode()


def test_htmx_takes_the_shelf_of_the_page_that_everybody_gets(publish, stranger_client):
    publish("stew", "Red lentil and squash pot")
    whole = stranger_client.get("/?q=lentil").content.decode()
    assert stranger_client.get("/?q=lentil", HTTP_HX_REQUEST="true").content.decode() == whole
    assert 'data-hx-target="#shelf" data-hx-select="#shelf"' in whole


def test_a_plate_is_read_without_its_facts(publish, django_assert_num_queries):
    publish("stew", "Red lentil and squash pot")
    with django_assert_num_queries(2):
        (plate,) = shelf_plates(list(shelf(ShelfAsk())))
    assert (plate.title, plate.standing, plate.badge) == ("Red lentil and squash pot", "measured", "measured 3 times")


@pytest.fixture
def three_pots(publish, owner, noon):
    """A stew with milk, one of which nothing is known, and one that is free of everything; each with tags of its own."""
    told = {"milky": {"allergens": ("milk",)}, "unknown": {"allergens": ("?",)}, "plain": {"allergens": ()}}
    for number, (slug, marks) in enumerate(told.items()):
        recipe = publish(slug, slug.title())
        recipe.shelf_marks.all().delete()
        tags = [("tag", "soup"), *([("tag", "vegan")] if number else [])]
        rows = [*tags, *(("allergen", key) for key in marks["allergens"])]
        ShelfMark.objects.bulk_create(ShelfMark(recipe=recipe, kind=kind, value=value) for kind, value in rows)


def test_what_is_not_known_is_never_called_free(three_pots, stranger_client):
    assert _slugs(free_of=("milk",)) == ["plain"]
    assert _slugs(free_of=("sesame",)) == ["milky", "plain"]
    page = stranger_client.get("/?free=milk").content.decode()
    assert "1 recipe" in page
    assert "is left out because not all is known of its ingredients" in page
    assert not_known_to_be_free(ShelfAsk(free_of=("milk",))) == 1


def test_marks_are_counted_as_they_would_be_if_chosen(three_pots):
    assert marks_counted(ShelfAsk(), ["tag"])["tag"] == [("soup", 3), ("vegan", 2)]
    assert marks_counted(ShelfAsk(marks={"tag": "vegan"}), ["tag"])["tag"] == [("soup", 3), ("vegan", 2)]
    assert marks_counted(ShelfAsk(free_of=("milk",)), ["tag"])["tag"] == [("soup", 1), ("vegan", 1)]
    assert _slugs(marks={"tag": "vegan"}) == ["plain", "unknown"]


def test_a_withdrawn_recipe_is_not_counted(three_pots, noon):
    withdraw_recipe(recipe=Recipe.objects.get(slug="plain"), at=noon)
    assert marks_counted(ShelfAsk(), ["tag"])["tag"] == [("soup", 2), ("vegan", 1)]


@pytest.mark.parametrize("typed", ["lentlis", "lenils", "lentills", "squsah", "Vegetbale"])
def test_a_slip_of_the_finger_is_forgiven_and_said(publish, stranger_client, typed):
    publish("stew", "Red lentil and squash pot")
    page = stranger_client.get(f"/?q={typed}").content.decode()
    assert 'class="tile"' in page
    assert "Nothing has the word" in page


def test_nothing_is_guessed_for_a_word_that_is_far_from_all(publish, stranger_client):
    publish("stew", "Red lentil and squash pot")
    assert "Nothing here fits that" in stranger_client.get("/?q=motorcycle").content.decode()


def test_a_mark_that_nobody_has_stays_chosen_and_finds_nothing(publish, stranger_client):
    publish("stew", "Red lentil and squash pot")
    page = stranger_client.get("/?tag=nosuch").content.decode()
    assert "nosuch (0)" in page
    assert "Nothing here fits that" in page
    assert stranger_client.get("/?free=dust").status_code == 400


def test_new_rules_bring_what_stands_on_the_shelf_along(publish):
    recipe = publish("stew", "Red lentil and squash pot")
    edition = recipe.__class__.objects.get(pk=recipe.pk).current_edition
    plate = {name: value for name, value in edition.plate.items() if name not in ("band", "steams")}
    type(edition).objects.filter(pk=edition.pk).update(plate=plate)
    Recipe.objects.update(shelved_by=0)
    ShelfMark.objects.all().delete()
    assert shelf_plates(list(shelf(ShelfAsk())))[0].band is None
    assert shelve_by_new_rules() == 1
    assert shelve_by_new_rules() == 0
    edition.refresh_from_db()
    assert "band" in edition.plate
    assert ShelfMark.objects.filter(kind="allergen").exists()
