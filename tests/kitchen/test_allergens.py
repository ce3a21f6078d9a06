"""A recipe's allergens and food energy on its pages, on its card, in linked data, and on the bench."""

import io
import json
import re
from fractions import Fraction

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from pypdf import PdfReader

from kitchen.models import Edition, Food, Line, Part
from kitchen.operations import NothingChanged, pair_side, publish_recipe, say_allergens
from kitchen.queries import collect_facts, recipe_facts
from tests.kitchen.stew import write_stew

BENCH = "/bench/recipes/stew/allergens/"
COMPOSITION = {
    "water_g": 9.0,
    "protein_g": 24.0,
    "fat_g": 1.0,
    "carbohydrate_g": 63.0,
    "fibre_g": 11.0,
    "energy_kcal": 358.0,
    "sodium_mg": 6.0,
    "saturated_fat_g": 0.4,
    "sugars_g": 2.0,
}


def food(name, *keys, **more):
    return Food.objects.create(name=name, allergens=list(keys), **{**COMPOSITION, **more})


@pytest.fixture
def pot(no_cards, owner, noon):
    """The stew, with a food for each of its lines: lentils, a stock that may hold celery, a chilli."""
    recipe = write_stew(owner, noon)
    foods = [
        food("red lentils", sr_number=1),
        food("vegetable stock", "celery?", sr_number=2, g_per_ml=1.0),
        food("chilli", sr_number=3),
    ]
    for line, held in zip(Line.objects.order_by("part__position", "position"), foods, strict=True):
        Line.objects.filter(pk=line.pk).update(food=held)
    return recipe


def add_line(recipe, text, held=None, **more):
    part = Part.objects.filter(revision__recipe=recipe).first()
    exact = Fraction(100)
    return Line.objects.create(
        part=part, position=part.lines.count() + 5, text=text, name=text, low=exact, high=exact, unit="g", food=held, **more
    )


def publish(recipe, owner, noon):
    return publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)


def words(html):
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def section(client, place, label):
    page = client.get(place).content.decode()
    return words(re.search(rf'<details[^>]*id="{label}".*?(?=<details class="fold|<p hidden|</main>)', page, re.DOTALL).group())


def test_the_page_tells_what_the_foods_bring(pot, owner, noon, stranger_client):
    add_line(pot, "butter", food("butter", "milk", sr_number=4))
    add_line(pot, "celery", food("celery", "celery", sr_number=5), optional=True)
    add_line(pot, "star dust")
    publish(pot, owner, noon)
    said = section(stranger_client, "/r/stew/", "allergens")
    assert "milk butter celery (optional)" in said
    assert "Not known for: star dust ." in said
    assert "Worked out from the foods named here; the label on the pack decides." in said
    assert "Regulation (EU) No 1169/2011" in said
    assert "the US list does not have: celery." in said


def test_what_labels_tell_stands_apart(pot, owner, noon, stranger_client):
    publish(pot, owner, noon)
    assert "No allergens known from these ingredients. In some brands, so read the label: celery vegetable stock" in section(
        stranger_client, "/r/stew/", "allergens"
    )


def test_none_is_said_only_where_all_is_known(pot, owner, noon, stranger_client):
    Food.objects.update(allergens=[])
    publish(pot, owner, noon)
    assert "None of the foods named here brings any." in section(stranger_client, "/r/stew/", "allergens")


def test_the_frozen_facts_hold_the_list(pot, owner, noon):
    add_line(pot, "butter", food("butter", "milk", sr_number=4))
    say_allergens(recipe=pot, added=["sesame"], removed=["celery"], at=noon)
    frozen = publish(pot, owner, noon).facts["recipe"]
    assert frozen["allergens"] == ["milk", "sesame"]
    assert (frozen["allergens_added"], frozen["allergens_removed"], frozen["allergens_told"]) == (["sesame"], ["celery"], True)


def test_a_published_page_never_changes_silently(pot, owner, noon, stranger_client):
    publish(pot, owner, noon)
    Food.objects.filter(name="chilli").update(allergens=["milk"])
    say_allergens(recipe=pot, added=["lupin"], removed=[], at=noon)
    said = section(stranger_client, "/r/stew/", "allergens")
    assert "milk" not in said
    assert "lupin" not in said


def test_an_edition_from_before_says_so(stew, stranger_client):
    edition = Edition.objects.get()
    edition.facts["recipe"] = {
        name: value for name, value in edition.facts["recipe"].items() if not name.startswith(("allergens", "nutrition"))
    }
    edition.save()
    assert "Read the labels." in section(stranger_client, "/r/stew/", "allergens")
    assert "food-energy" not in stranger_client.get("/r/stew/").content.decode()


def test_sides_are_not_counted_and_the_page_says_so(pot, owner, noon, stranger_client):
    side = write_stew(owner, noon, slug="bread", title="Bread")
    publish(side, owner, noon)
    pair_side(main=pot, side=side, portions=1, at=noon)
    publish(pot, owner, noon)
    assert "What is served with it is not counted." in section(stranger_client, "/r/stew/", "allergens")
    assert "What is served with it is not counted." in section(stranger_client, "/r/stew/", "food-energy")


@pytest.mark.parametrize("size", ["a6", "4x6"])
def test_the_card_tells_them_with_the_caution(pot, owner, noon, stranger_client, size):
    add_line(pot, "butter", food("butter", "milk", sr_number=4))
    add_line(pot, "star dust")
    say_allergens(recipe=pot, added=[], removed=["celery"], at=noon)
    publish(pot, owner, noon)
    card = PdfReader(io.BytesIO(stranger_client.get(f"/r/stew/card.pdf?size={size}").content))
    front = " ".join(card.pages[0].extract_text().split())
    assert "Allergens: milk. Not known for: star dust. The cook says: without celery." in front
    assert "Worked out from the foods named here; the label on the pack decides." in front
    assert len(card.pages) == 2


def test_a_card_with_room_tells_the_food_energy(pot, owner, noon, stranger_client):
    def told(place):
        card = PdfReader(io.BytesIO(stranger_client.get(place).content))
        return " ".join(" ".join(sheet.extract_text() for sheet in card.pages).split())

    publish(pot, owner, noon)
    assert "A serving holds, estimated: 788 kcal, protein 53 g" in told("/r/stew/card.pdf")


def test_many_unknown_lines_are_counted_on_the_card(pot, owner, noon, stranger_client):
    for number in range(5):
        add_line(pot, f"star dust {number}")
    publish(pot, owner, noon)
    card = PdfReader(io.BytesIO(stranger_client.get("/r/stew/card.pdf").content))
    assert "Not known for 5 of the lines." in " ".join(card.pages[0].extract_text().split())


def test_the_estimate_of_a_serving(pot, owner, noon, stranger_client):
    """300 g lentils, 1 kg stock and 20 g chilli, all at 358 kcal for 100 g, for six."""
    publish(pot, owner, noon)
    said = section(stranger_client, "/r/stew/", "food-energy")
    assert "estimated from reference foods" in said
    assert f"Energy {1320 * 3.58 / 6:.0f} kcal" in said
    assert "Carbohydrate, without fibre 114 g" in said
    assert "at least" not in said


def test_the_estimate_does_not_change_with_the_servings(pot, owner, noon, stranger_client):
    publish(pot, owner, noon)
    six, twelve = (section(stranger_client, place, "food-energy") for place in ("/r/stew/", "/r/stew/for-12/"))
    assert six == twelve


def test_100_g_where_a_serving_s_weight_was_typed(pot, owner, noon, stranger_client):
    pot.revisions.update(serving_g=200)
    publish(pot, owner, noon)
    said = section(stranger_client, "/r/stew/", "food-energy")
    assert "A serving 200 g 100 g" in said
    assert "Energy 788 kcal (3295 kJ) 394 kcal (1648 kJ)" in said


def test_what_is_not_in_it_is_listed(pot, owner, noon, stranger_client):
    add_line(pot, "star dust")
    publish(pot, owner, noon)
    said = section(stranger_client, "/r/stew/", "food-energy")
    assert "Energy at least 788 kcal" in said
    assert "star dust: not linked to a food" in said


def test_no_estimate_is_said_in_words(stew, stranger_client):
    said = section(stranger_client, "/r/stew/", "food-energy")
    assert "No estimate yet" in said
    assert "kcal" not in said


def linked_data(client):
    page = client.get("/r/stew/").content.decode()
    return json.loads(re.search(r'<script type="application/ld\+json">(.*?)</script>', page, re.DOTALL).group(1))


def test_a_whole_estimate_goes_into_the_linked_data(pot, owner, noon, stranger_client):
    publish(pot, owner, noon)
    told = linked_data(stranger_client)["nutrition"]
    assert (told["@type"], told["calories"], told["servingSize"]) == ("NutritionInformation", "788 kcal", "1 serving")
    assert (told["proteinContent"], told["sodiumContent"]) == ("52.8 g", "13 mg")


def test_an_estimate_with_a_gap_stays_out_of_it(pot, owner, noon, stranger_client):
    add_line(pot, "star dust")
    publish(pot, owner, noon)
    assert "nutrition" not in linked_data(stranger_client)


def test_a_figure_that_is_at_least_stays_out_of_it(pot, owner, noon, stranger_client):
    Food.objects.filter(name="chilli").update(sugars_g=None)
    publish(pot, owner, noon)
    assert "sugarContent" not in linked_data(stranger_client)["nutrition"]


def test_collecting_asks_no_more_with_more_lines_and_foods(pot, noon):
    def asked():
        with CaptureQueriesContext(
            connection,
        ) as queries:
            collect_facts(pot.revisions.get(), at=noon)
        return len(queries)

    few = asked()
    for number in range(8):
        add_line(pot, f"food {number}", food(f"food {number}", "milk"))
    assert asked() == few


def test_the_cook_adds_and_takes_off(pot, owner, noon, owner_client, stranger_client):
    publish(pot, owner, noon)
    page = owner_client.get(BENCH)
    assert page.status_code == 200
    assert "In some brands, so read the label of yours:" in page.content.decode()
    answer = owner_client.post(BENCH, {"added": ["milk", "lupin"], "removed": ["celery"]}, follow=True)
    assert "Readers see it with the next edition." in answer.content.decode()
    pot.refresh_from_db()
    assert pot.allergens == {"added": ["milk", "lupin"], "removed": ["celery"]}
    publish(pot, owner, noon)
    said = section(stranger_client, "/r/stew/", "allergens")
    assert "milk the cook says so lupin the cook says so" in said
    assert "The cook says: without celery." in said


def test_what_was_ticked_is_ticked_again_and_can_be_taken_back(pot, owner_client, noon):
    say_allergens(recipe=pot, added=["milk"], removed=["celery"], at=noon)
    page = owner_client.get(BENCH).content.decode()
    ticked = re.findall(r'<input[^>]*value="(\w+)"[^>]*checked', page)
    assert ticked == ["milk", "celery"]
    assert owner_client.post(BENCH, {}).status_code == 302
    pot.refresh_from_db()
    assert pot.allergens == {"added": [], "removed": []}


def test_a_tick_in_both_lists_is_refused_beside_the_field(pot, owner_client):
    answer = owner_client.post(BENCH, {"added": ["celery"], "removed": ["celery"]})
    assert "In both lists: celery. Untick one of the two." in answer.content.decode()
    pot.refresh_from_db()
    assert pot.allergens == {}


@pytest.mark.parametrize("field", ["added", "removed"])
def test_what_is_not_on_the_list_is_named(pot, owner_client, field):
    answer = owner_client.post(BENCH, {field: ["dust"]})
    assert "“dust” is not on the list." in answer.content.decode()


def test_saying_it_twice_is_nothing_new_to_publish(pot, owner, noon):
    say_allergens(recipe=pot, added=["milk"], removed=[], at=noon)
    publish(pot, owner, noon)
    say_allergens(recipe=pot, added=["milk"], removed=[], at=noon)
    with pytest.raises(NothingChanged):
        publish(pot, owner, noon)


def test_before_publishing_the_cook_reads_what_is_on_the_list_and_what_is_off_it(pot, owner, noon, owner_client):
    say_allergens(recipe=pot, added=["milk"], removed=[], at=noon)
    publish(pot, owner, noon)
    say_allergens(recipe=pot, added=["sesame", "lupin"], removed=[], at=noon)
    page = owner_client.get("/bench/recipes/stew/publish/").content.decode()
    assert "Allergens: sesame, lupin are on the list now." in page
    assert "Allergens: milk is off the list now." in page


def test_only_who_may_edit_comes_in(pot, other_client, stranger_client):
    for method in ("get", "post"):
        assert getattr(other_client, method)(BENCH).status_code == 404
        assert getattr(stranger_client, method)(BENCH).status_code == 302
    pot.refresh_from_db()
    assert pot.allergens == {}


def test_a_recipe_that_says_nothing_yet_has_an_empty_word(pot):
    facts = recipe_facts(pot.revisions.get())
    assert (facts.allergens_added, facts.allergens_removed) == ((), ())
