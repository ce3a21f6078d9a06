"""The kitchen's own forms take any unit of their kind; the site says what a comma before three digits means."""

from __future__ import annotations

import pytest
from django.contrib.messages import get_messages
from django.urls import reverse

from kitchen.forms.numbers import UNDERSTOOD, NumberField, tell_understood
from kitchen.models import Food, Site
from kitchen.queries import draft_of, newest_revision
from tests.kitchen.desk import form_fields, write_pot
from tests.kitchen.test_bench_views import SETTINGS
from tests.kitchen.test_foods import NEW, OAT

SETTING = "/bench/settings/"


def told(answer) -> str:
    return " ".join(str(message) for message in get_messages(answer.wsgi_request))


def test_settings_take_feet_and_say_what_a_comma_means(no_cards, owner_client):
    answer = owner_client.post(SETTING, SETTINGS | {"altitude_m": "6,500 ft"}, follow=True)
    assert Site.objects.get().altitude_m == 1981
    assert "“6,500 ft” understood as 1,981 m." in answer.content.decode()
    assert "A comma before three digits" in answer.content.decode()
    owner_client.post(SETTING, SETTINGS | {"comma": "decimal", "altitude_m": "420"})
    assert Site.objects.get().comma == "decimal"
    owner_client.post(SETTING, SETTINGS | {"comma": "decimal", "altitude_m": "6,500 ft"})
    assert Site.objects.get().altitude_m == 2, "six and a half feet"


def test_an_unknown_meaning_of_a_comma_is_refused(no_cards, owner_client):
    assert "Select a valid choice" in owner_client.post(SETTING, SETTINGS | {"comma": "perhaps"}).content.decode()


def test_a_food_and_its_household_weights(other_client):
    typed = {
        "g_per_ml": "520 g/L",
        "g_per_each": "4 oz",
        "energy_kcal": "418.4 kJ",
        "protein_g": "3500 mg",
        "sodium_mg": "0.4 g",
        "weights": "shown",
        "weight-0-unit": "cup",
        "weight-0-words": "chopped",
        "weight-0-g": "5 oz",
    }
    other_client.post(NEW, OAT | typed)
    food = Food.objects.get()
    assert (food.g_per_ml, food.g_per_each, food.energy_kcal, food.protein_g, food.sodium_mg) == (0.52, 113.4, 100, 3.5, 400)
    assert food.weights == [{"unit": "cup", "words": "chopped", "g": 141.748}]


def test_a_step_and_a_serving(owner_client, owner, noon):
    pot = write_pot(owner, noon)
    edit = reverse("kitchen:recipe-edit", args=[pot.slug])
    typed = {"step-0-temp_c": "350 °F", "step-0-minutes": "1 h 20", "serving_g": "1 lb", "do": "save"}
    answer = owner_client.post(edit, form_fields(owner_client.get(edit).content.decode()) | typed)
    pot.refresh_from_db()
    draft = draft_of(newest_revision(pot))
    assert (float(draft.steps[0].temp_c), float(draft.steps[0].minutes), float(draft.serving_g)) == (176.7, 80, 453.6)
    said = told(answer)
    for words in ("“350 °F” understood as 176.7 °C", "“1 h 20” understood as 80 min", "“1 lb” understood as 453.6 g"):
        assert words in said


@pytest.mark.parametrize(("measures", "litres"), [("us", "9.84"), ("uk", "11.82")])
def test_the_readers_pot_in_the_sites_gallons(stew, stranger_client, measures, litres):
    Site.objects.update_or_create(pk=1, defaults={"measures": measures})
    page = stranger_client.get("/r/stew/", {"vessel": "2.6 gal"}).content.decode()
    assert f"understood as {litres} L" in page
    assert 'value="2.6 gal"' in page


def test_a_serving_in_ounces_comes_back_as_typed(stew, stranger_client):
    page = stranger_client.get("/r/stew/", {"grams": "3 h"}).content.decode()
    assert "“3 h” is a length of time, and a weight is needed here: 1.2 kg and 1200 mean the same." in page


def test_letters_can_be_typed_where_a_unit_can():
    assert NumberField(low=0, high=9, unit="g").widget.attrs["inputmode"] == "text"
    assert NumberField(low=0, high=9).widget.attrs["inputmode"] == "decimal"


def test_between_requests_nothing_is_noted():
    assert UNDERSTOOD.get() is None
    assert tell_understood("1 kg", "1,000 g") == "1,000 g"
    assert UNDERSTOOD.get() is None


def test_a_field_forgets_what_it_understood_before():
    field = NumberField(low=0, high=9000, unit="g")
    assert (field.clean("1 kg"), field.understood) == (1000, "1,000 g")
    assert (field.clean("12"), field.understood) == (12, "")
