"""The page as mf2py and another reader of HTML read it. Sources: microformats.org/wiki/h-recipe; schema.org Recipe; ogp.me."""

import json

import mf2py
from bs4 import BeautifulSoup

from tests.kitchen.stew import write_stew


def test_the_page_is_an_h_recipe_and_linked_data_of_the_same_recipe(stew, stranger_client):
    page = stranger_client.get("/r/stew/").content.decode()
    (item,) = [one for one in mf2py.parse(doc=page, url="http://testserver/r/stew/")["items"] if one["type"] == ["h-recipe"]]
    held = item["properties"]
    assert (held["name"], held["yield"], held["url"]) == ([stew.title], ["6 servings"], ["http://testserver/r/stew/"])
    assert held["published"][0].startswith("2026-10-14T12:00:00")
    assert held["author"][0]["properties"]["name"] == ["owner"]
    assert held["category"] == ["stew", "one pot"]
    assert " ".join(held["ingredient"][0].split()) == "300 g red lentils rinsed"
    assert "Stir in the cumin." in held["instructions"][0]["value"]
    read = BeautifulSoup(page, "html.parser")
    linked = json.loads(read.find("script", type="application/ld+json").string)
    assert (linked["name"], linked["recipeCategory"], linked["totalTime"]) == (held["name"][0], "stew", held["duration"][0])
    assert len(linked["recipeIngredient"]) == len(held["ingredient"])
    assert read.find("meta", property="og:url")["content"] == held["url"][0]


def test_a_draft_gives_no_address_away(no_cards, owner, noon, owner_client):
    write_stew(owner, noon)
    page = owner_client.get("/bench/recipes/stew/draft/").content.decode()
    assert mf2py.parse(doc=page)["items"][0]["properties"].get("url") is None
