"""Choosing measures and rounding: on the page, on paper, and for the site."""

import pytest

from kitchen.domain.draft import DraftContent, DraftPart, DraftStep
from kitchen.models import Line, Site
from kitchen.operations import change_site, create_recipe, load_reference_foods, publish_recipe, save_draft

LINES = ("1 cup plain flour", "450 g onions, sliced", "1 pint whole milk", "2 tbsp soy sauce", "2 tins chopped tomatoes")


@pytest.fixture
def batter(no_cards, owner, noon):
    """A published recipe in cups, spoons and pints."""
    load_reference_foods()
    recipe = create_recipe(owner=owner, title="Batter", servings=6, at=noon)
    draft = DraftContent("Batter", 6, parts=(DraftPart("", LINES),), steps=(DraftStep("Stir."),))
    revision = save_draft(revision=recipe.revisions.get(), draft=draft, expected_version=1, at=noon)
    publish_recipe(recipe=recipe, revision=revision, by=owner, at=noon)
    return recipe


@pytest.fixture(params=["owner_client", "other_client", "stranger_client"])
def anybody(request):
    return request.getfixturevalue(request.param)


def page_of(client, address):
    answer = client.get(address)
    assert answer.status_code == 200
    return answer.content.decode().replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("query", "words"),
    [
        ("", ["1 cup", "450 g", "about 4 medium", "1 pint", "2 tbsp", "2 tins"]),
        ("?measures=metric", ["125 g", "475 mL", "2 tbsp", "tbsp 15 mL"]),
        ("?measures=us", ["1 cup", "1 lb", "cup 237 mL"]),
        ("?measures=uk", ["125 g", "475 mL", "2 tbsp"]),
        ("?measures=au", ["¾ cup 2½ tbsp", "1½ tbsp", "450 g", "cup 250 mL, tbsp 20 mL"]),
    ],
)
def test_everybody_reads_in_the_measures_they_choose(batter, anybody, query, words):
    page = page_of(anybody, f"/r/batter/{query}")
    assert [word for word in words if word not in page] == []


def test_rounding_is_offered_where_it_matters_only(batter, stranger_client):
    assert "Rounded to" not in page_of(stranger_client, "/r/batter/")
    assert "Rounded to" not in page_of(stranger_client, "/r/batter/for-12/?measures=metric")
    assert "Rounded to" in page_of(stranger_client, "/r/batter/for-11/?measures=us")


def test_the_other_rounding_is_a_plain_link_and_every_link_keeps_it(batter, stranger_client):
    page = page_of(stranger_client, "/r/batter/for-11/?measures=us")
    assert 'href="/r/batter/for-11/?measures=us&amp;rounding=forces"' in page
    page = page_of(stranger_client, "/r/batter/for-11/?measures=us&rounding=forces")
    assert "1 cup 13 tbsp 1 tsp" in page
    assert 'href="/r/batter/for-12/?measures=us&amp;rounding=forces"' in page
    assert "card.pdf?size=a6&amp;for=11&amp;measures=us&amp;rounding=forces" in page
    assert 'href="/r/batter/for-11/?measures=us"' in page


@pytest.mark.parametrize("rounding", ["navy", "small", ""])
def test_an_unknown_rounding_is_the_sites(batter, stranger_client, rounding):
    assert "rounding=" not in page_of(stranger_client, f"/r/batter/for-12/?rounding={rounding}").replace("rounding=forces", "")


def test_the_card_is_printed_in_the_same_measures(batter, stranger_client):
    assert stranger_client.get("/r/batter/card.pdf?for=11&measures=au&rounding=forces").status_code == 200


def test_the_sites_own_rounding_is_what_a_reader_finds(batter, owner_client, stranger_client):
    settings = {"name": "Kitchen", "currency": "EUR", "measures": "us", "rounding": "forces", "altitude_m": "0"}
    assert owner_client.post("/bench/settings/", settings).status_code == 302
    assert Site.objects.get().rounding == "forces"
    assert "1 cup 13 tbsp 1 tsp" in page_of(stranger_client, "/r/batter/for-11/")
    assert 'href="/r/batter/for-11/?rounding=school"' in page_of(stranger_client, "/r/batter/for-11/")
    answer = owner_client.post("/bench/settings/", settings | {"rounding": "navy"})
    assert "Select a valid choice" in answer.content.decode()


def test_what_a_line_means_is_fixed_where_it_was_typed(no_cards, owner, noon, stranger_client):
    change_site(values={"measures": "au"})
    recipe = create_recipe(owner=owner, title="Slice", servings=6, at=noon)
    draft = DraftContent("Slice", 6, parts=(DraftPart("", ("2 tbsp golden syrup", "1 cup oats")),), steps=(DraftStep("Bake."),))
    revision = save_draft(revision=recipe.revisions.get(), draft=draft, expected_version=1, at=noon)
    publish_recipe(recipe=recipe, revision=revision, by=owner, at=noon)
    assert set(Line.objects.values_list("unit", flat=True)) == {"tbsp_au", "cup_metric"}
    assert "2 tbsp" in page_of(stranger_client, "/r/slice/")
    change_site(values={"measures": "us"})
    assert "2 tbsp 2 tsp" in page_of(stranger_client, "/r/slice/")
    assert "2 Australian tbsp" in page_of(stranger_client, "/r/slice/?measures=written")
