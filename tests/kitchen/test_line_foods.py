"""The food of a line: how sure the link is, one tap to correct it, a search, and what is remembered for the next time."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from kitchen.domain.draft import DraftPart
from kitchen.models import Food, Line, Recipe
from kitchen.operations import forget_name, link_line, load_reference_foods, lock_revision, remember_name, save_draft
from kitchen.queries import draft_of, foods_to_choose, known_foods, newest_revision, rows_of
from tests.kitchen.desk import POT, form_fields, write_pot

pytestmark = pytest.mark.django_db

LINES = ("250 g red lentils", "2 tsp garam masala", "1 tsp ground tumeric", "2 tbsp palm sugar", "1 handful stardust", "salt")


@pytest.fixture
def pot(owner, noon):
    load_reference_foods()
    recipe = write_pot(owner, noon)
    revision = newest_revision(recipe)
    draft = draft_of(revision)
    changed = type(draft)(**{**draft.__dict__, "parts": (DraftPart("", LINES),)})
    save_draft(revision=revision, draft=changed, expected_version=revision.draft_version, at=noon)
    return recipe


@pytest.fixture
def edit(pot):
    return reverse("kitchen:recipe-edit", args=[pot.slug])


def line_of(pot, words):
    return Line.objects.get(part__revision=newest_revision(pot), text__contains=words)


def row_of(pot, words):
    return next(row for part in rows_of(newest_revision(pot)) for row in part.rows if words in row.text)


def correction(pot, line):
    return reverse("kitchen:line-correct", args=[pot.slug, line.pk])


def test_a_link_carries_how_sure_it_is(pot):
    kept = {line.text: (line.food and line.food.name, line.sure) for line in Line.objects.all()}
    assert kept["250 g red lentils"] == ("red lentils", 1.0)
    assert kept["2 tsp garam masala"] == ("curry powder", 0.8)
    assert kept["1 tsp ground tumeric"] == ("turmeric", 0.7)
    assert kept["2 tbsp palm sugar"] == (None, None)


def test_the_rows_say_so_and_offer_others_only_where_in_doubt(pot):
    assert (row_of(pot, "lentils").sure, row_of(pot, "lentils").offers) == ("sure", ())
    assert row_of(pot, "masala").sure == "likely"
    assert row_of(pot, "tumeric").sure == "guess"
    assert "white sugar" in [offer.name for offer in row_of(pot, "palm").offers]
    assert len(row_of(pot, "palm").offers) <= 3
    assert row_of(pot, "stardust").offers == ()


def test_the_page_says_it_in_words(owner_client, edit):
    html = owner_client.get(edit).content.decode()
    assert "a guess: is it turmeric?" in html
    assert "curry powder, likely" in html
    assert "no food found. Is it one of these?" in html
    assert "None of these" in html


def test_one_tap_without_script_saves_the_page_and_links_the_food(owner_client, pot, edit):
    line, sugar = line_of(pot, "palm"), Food.objects.get(name="white sugar")
    fields = form_fields(owner_client.get(edit).content.decode())
    fields |= {"title": "Sweet pot", "do": f"food-{line.pk}-{sugar.pk}"}
    answer = owner_client.post(edit, fields)
    assert answer.headers["Location"] == f"{edit}#line-{line.pk}"
    line.refresh_from_db()
    assert (line.food, line.sure, line.corrected) == (sugar, None, True)
    assert Recipe.objects.get().title == "Sweet pot"


def test_one_tap_with_script_draws_the_row_again(owner_client, pot):
    line, turmeric = line_of(pot, "tumeric"), Food.objects.get(name="turmeric")
    html = owner_client.post(
        correction(pot, line), {"do": f"food-{line.pk}-{turmeric.pk}"}, headers={"HX-Request": "true"}
    ).content.decode()
    assert html.startswith(f'<tr id="line-{line.pk}"')
    assert "a guess" not in html
    assert "Remember: “ground tumeric” is turmeric" in html
    assert 'name="version"' in html


def test_none_of_these_is_the_cooks_own_word(owner_client, pot):
    line = line_of(pot, "masala")
    owner_client.post(correction(pot, line), {"do": f"food-{line.pk}-none"})
    line.refresh_from_db()
    row = row_of(pot, "masala")
    assert (line.food, line.corrected, row.offers, row.remember) == (None, True, (), "")


def test_a_seasoning_chosen_by_tap_scales_like_one(owner, pot, noon):
    line = line_of(pot, "stardust")
    assert line.rule == "proportional"
    link_line(line=line, food=Food.objects.get(name="salt"), by=owner, at=noon)
    assert line_of(pot, "stardust").rule == "seasoning"


def test_a_remembered_name_links_at_once_next_time(owner_client, pot):
    line, sugar = line_of(pot, "palm"), Food.objects.get(name="brown sugar")
    owner_client.post(correction(pot, line), {"do": f"food-{line.pk}-{sugar.pk}"})
    owner_client.post(correction(pot, line), {"do": f"remember-{line.pk}"})
    sugar.refresh_from_db()
    assert "palm sugar" in sugar.aliases
    assert sugar.kept_by_cook
    assert known_foods().find("Palm sugar") == (sugar, 1.0)
    assert row_of(pot, "palm").remember == "kept"
    load_reference_foods()
    assert known_foods().find("palm sugar") == (sugar, 1.0)


def test_forgetting_it_again_gives_the_row_back_to_the_table(owner_client, pot):
    line, sugar = line_of(pot, "palm"), Food.objects.get(name="brown sugar")
    before = list(sugar.aliases)
    for wish in (f"food-{line.pk}-{sugar.pk}", f"remember-{line.pk}", f"forget-{line.pk}"):
        owner_client.post(correction(pot, line), {"do": wish})
    sugar.refresh_from_db()
    assert (sugar.aliases, sugar.kept_by_cook) == (before, False)
    assert row_of(pot, "palm").remember == "offer"


def test_the_cooks_word_comes_before_the_tables(pot):
    salted = Food.objects.get(name="salted butter")
    assert known_foods().find("butter")[0].name == "unsalted butter"
    remember_name(food=salted, name="butter")
    assert known_foods().find("butter")[0] == salted
    remember_name(food=Food.objects.get(name="ghee"), name="Butter")
    salted.refresh_from_db()
    assert "butter" not in salted.aliases
    assert known_foods().find("butter")[0].name == "ghee"


def test_the_own_name_of_a_food_is_never_offered_to_another(owner, pot, noon):
    line = line_of(pot, "lentils")
    link_line(line=line, food=Food.objects.get(name="green lentils"), by=owner, at=noon)
    assert row_of(pot, "lentils").remember == ""


def test_forgetting_keeps_a_food_that_was_changed_otherwise(pot):
    sugar = Food.objects.get(name="brown sugar")
    sugar.g_per_ml = 0.5
    sugar.save()
    remember_name(food=sugar, name="night sugar")
    assert forget_name(food=sugar, name="Night  sugar").kept_by_cook


def test_typing_some_letters_finds_foods(owner_client, pot):
    assert foods_to_choose("red len")[0].name == "red lentils"
    line = line_of(pot, "stardust")
    html = owner_client.get(
        correction(pot, line),
        {f"line-{line.pk}-food": "soy s"},
        headers={"HX-Request": "true", "HX-Target": f"line-foods-{line.pk}"},
    ).content.decode()
    assert html.strip().startswith(f'<fieldset id="line-foods-{line.pk}"')
    assert "soy sauce" in html
    assert "sauces and condiments" in html


def test_looking_without_script_keeps_what_was_typed(owner_client, pot):
    line = line_of(pot, "stardust")
    data = {f"line-{line.pk}-food": "tofu", f"line-{line.pk}-low": "7", f"line-{line.pk}-rule": "proportional", "do": "look"}
    html = owner_client.post(correction(pot, line), data).content.decode()
    assert "firm tofu" in html
    assert 'value="7"' in html


def test_the_food_chosen_below_counts(owner_client, pot):
    line, tofu = line_of(pot, "stardust"), Food.objects.get(name="firm tofu")
    data = {
        f"line-{line.pk}-food": "to",
        f"line-{line.pk}-chosen": str(tofu.pk),
        f"line-{line.pk}-rule": "proportional",
        f"line-{line.pk}-name": "stardust",
    }
    assert owner_client.post(correction(pot, line), data).status_code == 302
    assert line_of(pot, "stardust").food == tofu


@pytest.mark.parametrize("chosen", ["999999999", "x", "²"])
def test_a_food_that_is_not_there_any_more_is_said(owner_client, pot, chosen):
    line = line_of(pot, "stardust")
    data = {f"line-{line.pk}-chosen": chosen, f"line-{line.pk}-rule": "proportional"}
    assert "This food is not in the table any more." in owner_client.post(correction(pot, line), data).content.decode()


def test_a_food_of_ones_own_is_made_from_the_line_in_one_step(owner_client, pot):
    line = line_of(pot, "stardust")
    data = {f"line-{line.pk}-name": "stardust", f"line-{line.pk}-rule": "proportional", "do": "own"}
    owner_client.post(correction(pot, line), data)
    line.refresh_from_db()
    assert (line.food.name, line.food.kept_by_cook, line.food.sr_number) == ("stardust", True, None)
    assert known_foods().find("stardust") == (line.food, 1.0)


def test_a_tap_on_a_line_that_was_rewritten_changes_nothing(owner_client, pot, edit):
    line, sugar = line_of(pot, "palm"), Food.objects.get(name="white sugar")
    fields = form_fields(owner_client.get(edit).content.decode())
    fields |= {"part-0-lines": "1 onion", "do": f"food-{line.pk}-{sugar.pk}"}
    page = owner_client.post(edit, fields, follow=True).content.decode()
    assert "Nothing was changed: this line was rewritten meanwhile" in page
    assert [kept.text for kept in Line.objects.all()] == ["1 onion"]


def test_a_tap_over_a_locked_revision_opens_the_next(owner_client, pot, noon):
    line, sugar = line_of(pot, "palm"), Food.objects.get(name="white sugar")
    lock_revision(revision=newest_revision(pot), at=noon)
    answer = owner_client.post(correction(pot, line), {"do": f"food-{line.pk}-{sugar.pk}"}, headers={"HX-Request": "true"})
    assert "HX-Redirect" in answer.headers
    assert newest_revision(pot).number == 2
    assert line_of(pot, "palm").food == sugar


@pytest.mark.parametrize("wish", ["food-1-99999999999", "food-99999999999-1", "remember-99999", "food-x", "forget-1-2-3"])
def test_nonsense_taps_make_no_trouble(owner_client, pot, wish):
    line = line_of(pot, "palm")
    assert owner_client.post(correction(pot, line), {"do": wish}).status_code in (200, 302, 404)


def test_another_cook_taps_nothing(other_client, pot):
    line = line_of(pot, "palm")
    assert other_client.post(correction(pot, line), {"do": f"food-{line.pk}-none"}).status_code == 404


def test_the_rows_cost_one_query_however_many_are_in_doubt(pot, owner, noon):
    revision = newest_revision(pot)
    with CaptureQueriesContext(connection) as few:
        rows_of(revision)
    draft = draft_of(revision)
    more = type(draft)(**{**draft.__dict__, "parts": (DraftPart("", LINES * 5),)})
    save_draft(revision=revision, draft=more, expected_version=revision.draft_version, at=noon)
    revision = newest_revision(pot)
    with CaptureQueriesContext(connection) as many:
        rows_of(revision)
    assert len(few) == len(many) == 1


def test_a_pot_in_no_doubt_asks_nothing(owner, noon):
    for name in ("red lentils", "onion", "lemon"):
        Food.objects.create(name=name)
    recipe = write_pot(owner, noon, draft=POT)
    revision = newest_revision(recipe)
    with CaptureQueriesContext(connection) as asked:
        rows_of(revision)
    assert len(asked) == 0


def test_a_line_that_was_opened_is_left_as_it_is(pot, owner_client):
    """Its row comes back closed, and nothing is written."""
    line = line_of(pot, "palm")
    row = owner_client.get(correction(pot, line), {"row": "1"}, headers={"HX-Request": "true"}).content.decode()
    assert f'id="line-{line.pk}"' in row
    assert 'colspan="7"' not in row
    assert "autofocus" in row
    opened = owner_client.get(correction(pot, line), headers={"HX-Request": "true"}).content.decode()
    assert "?row=1" in opened
    assert "Leave it" in opened
    assert not Line.objects.get(pk=line.pk).corrected


def test_a_food_of_ones_own_with_a_name_only_says_where_to_fill_it_in(pot, owner_client):
    line = line_of(pot, "stardust")
    data = {f"line-{line.pk}-name": "stardust", f"line-{line.pk}-rule": "proportional", "do": "own"}
    row = owner_client.post(correction(pot, line), data, headers={"HX-Request": "true"}).content.decode()
    food = Food.objects.get(name="stardust")
    assert reverse("kitchen:food-edit", args=[food.pk]) in row
    assert "a name only" in row
    Food.objects.filter(pk=food.pk).update(g_per_ml=0.4)
    assert not row_of(pot, "stardust").bare


def test_looking_for_a_food_is_no_mistake(pot, owner_client):
    """Letters that are no food's whole name are what one looks with: they bring choices, and no complaint."""
    line = line_of(pot, "palm")
    asked = {f"line-{line.pk}-food": "lentil", f"line-{line.pk}-rule": "proportional"}
    page = owner_client.post(correction(pot, line), asked | {"do": "look"}).content.decode()
    assert "red lentils" in page
    assert "There is no food called" not in page
    assert "There is no food called “lentil”" in owner_client.post(correction(pot, line), asked).content.decode()


def test_the_one_weight_that_a_food_lacks_is_typed_beside_its_line(owner_client, pot, other_client):
    """A tofu of ours, by the cup: its density stands nowhere."""
    Food.objects.create(name="smoked tofu", kept_by_cook=True)
    revision = newest_revision(pot)
    draft = draft_of(revision)
    changed = type(draft)(**{**draft.__dict__, "parts": (DraftPart("", ("2 cups smoked tofu", "3 smoked tofu", "salt")),)})
    save_draft(revision=revision, draft=changed, expected_version=revision.draft_version, at=revision.created_at)
    assert [row.lacks for part in rows_of(newest_revision(pot)) for row in part.rows] == ["cup", "each", ""]
    line = line_of(pot, "cups")
    weigh = {"do": f"weigh-{line.pk}", f"weighs-{line.pk}": "heavy"}
    row = owner_client.post(correction(pot, line), weigh, headers={"HX-Request": "true"}).content.decode()
    assert "“heavy” is not a" in row
    assert 'value="heavy"' in row
    assert other_client.post(correction(pot, line), weigh | {f"weighs-{line.pk}": "8 oz"}).status_code == 404
    owner_client.post(correction(pot, line), weigh | {f"weighs-{line.pk}": "8 oz"}, headers={"HX-Request": "true"})
    assert Food.objects.get(name="smoked tofu").weights == [{"unit": "cup", "words": "", "g": pytest.approx(226.8, abs=0.05)}]
    assert [row.lacks for part in rows_of(newest_revision(pot)) for row in part.rows] == ["", "each", ""]
    whole = line_of(pot, "3 smoked")
    answer = owner_client.post(correction(pot, whole), {"do": f"weigh-{whole.pk}", f"weighs-{whole.pk}": "180"})
    assert answer["Location"].endswith(f"#line-{whole.pk}"), "without script, too"
    assert [row.lacks for part in rows_of(newest_revision(pot)) for row in part.rows] == ["", "", ""]
