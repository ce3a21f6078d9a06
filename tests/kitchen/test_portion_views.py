"""Ways to scale other than by servings, at their addresses: everybody may, nonsense is said, nothing else is lost."""

import pytest

from kitchen import cards
from kitchen.cards import CardRequest, Vessel
from kitchen.domain.remark import remark
from kitchen.page import present_page, read_facts
from kitchen.queries import the_site
from tests.kitchen.stew import TallyCard

PLACE = "/r/stew/"


@pytest.fixture(params=["owner_client", "other_client", "stranger_client"])
def anybody(request):
    return request.getfixturevalue(request.param)


def words_of(answer) -> str:
    return " ".join(answer.content.decode().replace("\u00a0", " ").split())


def test_a_group_scales_the_page_and_is_told(stew, anybody):
    answer = anybody.get(PLACE, {"adults": "4", "children": "3", "walkers": "2", "walker": "1,4"})
    page = words_of(answer)
    assert answer.status_code == 200
    assert "For 9 people: 4 adults, 3 children at 0.6, 2 hungry walkers at 1.4 = 8.6 portions." in page
    assert "430 g" in page
    assert "serves 9, 4 % smaller, written for 6" in page
    assert '<meta name="robots" content="noindex">' in page
    assert "ld+json" not in page
    assert "2005" in page


def test_plain_pages_keep_their_linked_data_and_place(stew, stranger_client):
    assert "ld+json" in words_of(stranger_client.get(PLACE))
    assert "ld+json" not in words_of(stranger_client.get(f"{PLACE}for-8/"))


@pytest.mark.parametrize(("typed", "amount"), [("3/2", "600 g"), ("1.5", "600 g"), ("1,5", "600 g"), ("43/45", "380 g")])
def test_a_portion_scales_with_the_servings(stew, stranger_client, typed, amount):
    answer = stranger_client.get(f"{PLACE}for-8/", {"portion": typed})
    assert answer.status_code == 200
    assert amount in words_of(answer)


def test_grams_lead_to_the_exact_portion(stew, stranger_client):
    revision_g = {"serving_g": 400.0}
    stew.current_edition.facts["recipe"] |= revision_g
    stew.current_edition.save()
    answer = stranger_client.get(f"{PLACE}for-8/", {"grams": "300", "measures": "metric"})
    assert (answer.status_code, answer["Location"]) == (302, f"{PLACE}for-8/?portion=3%2F4&measures=metric")
    assert "300 g" in words_of(stranger_client.get(answer["Location"]))


def test_what_there_is_scales_everything(stew, anybody):
    page = words_of(anybody.get(PLACE, {"have": "1 kg", "of": "1"}))
    assert "With 1 kg of red lentils: makes 20 servings." in page
    assert "1 kg" in page
    exact = words_of(anybody.get(PLACE, {"have": "320 g", "of": "1"}))
    assert "makes 6 servings, 7 % larger" in exact


def test_ones_own_pot_makes_batches_with_their_amounts(stew, anybody):
    page = words_of(anybody.get(f"{PLACE}for-12/", {"vessel": "3"}))
    assert "In 2 batches of 1.3 L, one after the other." in page
    assert "in 2 batches of 300 g" in page
    assert "more than the 1.5 L that a pot of 3 L may hold of what swells or foams" in page
    assert 'Method <small class="note">for each batch</small>' in page
    roomy = words_of(anybody.get(f"{PLACE}for-12/", {"vessel": "20"}))
    assert "batches of" not in roomy


def test_links_carry_on_what_was_asked(stew, stranger_client):
    page = words_of(stranger_client.get(PLACE, {"adults": "4", "children": "1", "vessel": "3", "measures": "metric"}))
    assert "card.pdf?size=a6&amp;adults=4&amp;children=1&amp;vessel=3&amp;measures=metric" in page
    assert 'href="/r/stew/?adults=4&amp;children=1&amp;vessel=3"' in page, "other measures keep the group"
    assert 'href="/r/stew/for-4/?vessel=3&amp;measures=metric"' in page, "one serving less leaves the group"
    assert 'name="adults" value="4"' in page, "the kit's form carries the group"


def test_a_portion_stays_with_the_stepper(stew, stranger_client):
    page = words_of(stranger_client.get(f"{PLACE}for-8/", {"portion": "3/2"}))
    assert 'href="/r/stew/for-9/?portion=3%2F2"' in page
    assert "card.pdf?size=a6&amp;for=8&amp;portion=3%2F2" in page


def test_a_number_beside_a_group_gives_way(stew, stranger_client):
    answer = stranger_client.get(f"{PLACE}for-8/", {"adults": "3"})
    assert (answer.status_code, answer["Location"]) == (302, f"{PLACE}?adults=3")


@pytest.mark.parametrize(
    ("query", "typed", "said"),
    [
        ({"adults": "some"}, "some", "is not a number"),
        ({"adults": "-1"}, "-1", "A number from 0 to 500"),
        ({"adults": "2.5"}, "2.5", "a whole number"),
        ({"adults": "0"}, "0", "A group has 1 to 500 people; these are 0."),
        ({"adults": "400", "children": "400"}, "400", "these are 800"),
        ({"adults": "2", "children": "2", "child": "99"}, "99", "1 is what an adult eats"),
        ({"portion": "99"}, "99", "from a tenth of the written size"),
        ({"portion": "0"}, "0", "above zero"),
        ({"portion": "big"}, "big", ""),
        ({"have": "700 g", "of": "99"}, "700 g", "Choose one of the lines"),
        ({"have": "lots", "of": "1"}, "lots", "holds no amount"),
        ({"have": "2 cups", "of": "1"}, "2 cups", "cannot be weighed"),
        ({"have": "1 t", "of": "1"}, "1 t", ""),
        ({"have": "900 kg", "of": "1"}, "900 kg", "500 are the most"),
        ({"have": "<b>", "of": "1"}, "&lt;b&gt;", "holds no amount"),
        ({"vessel": "huge"}, "huge", "is not a number"),
        ({"vessel": "0"}, "0", "A number above 0 up to 200"),
        ({"vessel": "1e9"}, "1e9", "A number above 0"),
        ({"vessel": "3", "lid": "ajar"}, "3", "ajar"),
        ({"grams": "nothing"}, "nothing", "is not a number"),
    ],
)
def test_what_makes_no_sense_is_said_beside_its_field_and_nothing_is_lost(stew, anybody, query, typed, said):
    answer = anybody.get(PLACE, {**query, "measures": "metric"})
    page = words_of(answer)
    assert answer.status_code == 400
    assert f'value="{typed}"' in page or typed == "big"
    assert said in page
    assert 'class="error' in page
    assert "300 g" in page, "the page as written stands below"
    assert '<details class="ways screen-only" open>' in page
    assert 'name="measures" value="metric"' in page


@pytest.mark.parametrize("query", [{"adults": ""}, {"portion": " "}, {"have": "", "of": "1"}, {"vessel": "", "lid": "off"}])
def test_empty_fields_ask_for_nothing(stew, stranger_client, query):
    answer = stranger_client.get(PLACE, query)
    assert answer.status_code == 200
    assert 'class="error' not in words_of(answer)
    assert "serves 6, by" in words_of(answer)


@pytest.mark.parametrize("query", [{"adults": "x"}, {"vessel": "x"}, {"have": "x", "of": "1"}])
def test_a_card_of_nonsense_is_not_found(stew, stranger_client, query):
    assert stranger_client.get(f"{PLACE}card.pdf", {"size": "a6", **query}).status_code == 404


def test_a_draft_scales_in_every_way_too(stew, owner_client):
    place = "/bench/recipes/stew/draft/"
    assert "430 g" in words_of(owner_client.get(place, {"adults": "8", "children": "1"}))
    page = words_of(owner_client.get(place, {"for": "12", "vessel": "3"}))
    assert "In 2 batches" in page
    assert '<input type="hidden" name="for" value="12">' in page


def test_the_ways_cost_no_more_queries(stew, stranger_client, django_assert_max_num_queries):
    with django_assert_max_num_queries(3):
        stranger_client.get(PLACE, {"have": "700 g", "of": "1", "vessel": "3"})


class _Potted(TallyCard):
    def vessel(self, held):
        return Vessel("3 L pressure cooker", 3000, least_liquid_ml=250)


def test_the_cards_vessel_makes_the_batches_and_the_readers_goes_before_it(stew, no_cards):
    cards.unregister("tally")
    cards.register(_Potted())
    facts = stew.current_edition.facts
    assert present_page(read_facts(facts), CardRequest(12, 6)).request.batches == 2
    assert "3 L pressure cooker" in present_page(read_facts(facts), CardRequest(12, 6)).cautions[0].words
    own = CardRequest(12, 6, own_vessel=Vessel("pot of 9 L", 9000, own=True))
    assert present_page(read_facts(facts), own).request.batches == 1
    least = present_page(read_facts(facts), CardRequest(1, 6)).parts[0].lines[1]
    assert (least.amount, least.said) == ("250 mL", (remark("least_liquid"),))
    assert the_site().name
