"""The recipe as linked data, read back from the page as another program would."""

import json
import re
from decimal import Decimal

import pytest

from kitchen.operations import publish_recipe
from kitchen.publish.jsonld import iso_minutes
from tests.kitchen.stew import write_stew


def _read_back(client, place="/r/stew/"):
    scripts = re.findall(r'<script type="application/ld\+json">(.*?)</script>', client.get(place).content.decode(), re.DOTALL)
    assert len(scripts) == 1
    return json.loads(scripts[0])


def test_the_page_carries_the_whole_recipe(stew, stranger_client):
    told = _read_back(stranger_client)
    assert (told["@context"], told["@type"]) == ("https://schema.org", "Recipe")
    assert told["name"] == "Red lentil and squash pot"
    assert told["url"] == "http://testserver/r/stew/"
    assert told["recipeYield"] == ["6", "6 servings"]
    assert told["keywords"] == "stew, one pot"
    assert told["author"] == {"@type": "Person", "name": "owner"}
    assert told["datePublished"] == "2026-10-14"
    assert told["dateModified"].startswith("2026-10-14T12:00:00")
    assert len(told["recipeIngredient"]) == 3
    assert told["recipeIngredient"][0].startswith("300 g")
    assert "red lentils" in told["recipeIngredient"][0]


def test_stages_are_sections_and_steps_keep_their_numbers(stew, stranger_client):
    told = _read_back(stranger_client)["recipeInstructions"]
    assert [(part["@type"], part.get("name")) for part in told] == [
        ("HowToSection", "Brown"),
        ("HowToSection", "Hold"),
        ("HowToStep", None),
    ]
    assert told[0]["itemListElement"][1] == {
        "@type": "HowToStep",
        "position": 2,
        "text": "Stir in the cumin.",
        "url": "http://testserver/r/stew/#step-2",
    }
    assert told[2]["position"] == 4


def test_times_are_iso_durations(stew, stranger_client):
    assert _read_back(stranger_client)["totalTime"] == "PT16M"


def test_a_scaled_page_holds_no_linked_data_of_its_own(stew, stranger_client):
    """Search engines get the recipe at the size it was written for, from its one address."""
    for place in ("/r/stew/for-12/", "/r/stew/?portion=3/2", "/r/stew/?adults=4&children=1"):
        assert "ld+json" not in stranger_client.get(place).content.decode()


@pytest.mark.parametrize("words", ["</script><script>alert(1)</script>", "<!-- &amp; <script", "a b c", '"\\'])
def test_words_cannot_break_out_of_the_script(no_cards, owner, noon, stranger_client, words):
    recipe = write_stew(owner, noon, title=words)
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    assert _read_back(stranger_client)["name"] == words


@pytest.mark.parametrize(
    ("minutes", "spelled"),
    [(None, None), (Decimal("0.4"), None), (Decimal(38), "PT38M"), (Decimal(60), "PT1H"), (Decimal("75.2"), "PT1H15M")],
)
def test_minutes_in_iso_spelling(minutes, spelled):
    assert iso_minutes(minutes) == spelled
