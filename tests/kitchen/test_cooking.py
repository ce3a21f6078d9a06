"""The cooking view: each step with what it names and how long it takes, for everybody the same, and whole without script."""

import re

import pytest
from django.test import Client

from kitchen.operations import withdraw_recipe


def words(html):
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def test_each_step_has_its_amounts_and_the_list_has_all(stew, stranger_client, owner_client, other_client):
    pages = [client.get("/r/stew/cook/").content.decode() for client in (stranger_client, owner_client, other_client)]
    for page in pages:
        steps = re.findall(r'<section class="cook__step.*?</section>', page, re.DOTALL)
        assert "Have ready" in steps[0]
        assert "red lentils" in words(re.search(r'<ul class="cook__lines".*?</ul>', page, re.DOTALL).group())
        assert len(steps) > 2
        assert 'href="/r/stew/"' in page


def test_amounts_follow_the_servings(stew, stranger_client):
    six, twelve = (stranger_client.get(f"/r/stew/cook/?for={servings}").content.decode() for servings in (6, 12))
    assert "300 g" in six
    assert "600 g" in twelve
    assert "300 g" not in words(twelve)


def test_nonsense_is_said_and_shown_as_written(stew, stranger_client):
    answer = stranger_client.get("/r/stew/cook/?for=many")
    assert answer.status_code == 400
    assert "This is for 6." in answer.content.decode()


def test_it_is_made_once_for_everybody(stew, stranger_client):
    first, again = Client().get("/r/stew/cook/"), Client().get("/r/stew/cook/")
    assert first.content == again.content
    assert not first.cookies


def test_a_withdrawn_recipe_is_gone(stew, stranger_client, noon):
    withdraw_recipe(recipe=stew, at=noon)
    assert stranger_client.get("/r/stew/cook/").status_code == 410
    assert stranger_client.get("/r/nosuch/cook/").status_code == 404


@pytest.mark.parametrize("place", ["/r/stew/cook/", "/r/stew/cook/?for=8"])
def test_it_is_not_indexed(stew, stranger_client, place):
    assert '<meta name="robots" content="noindex">' in stranger_client.get(place).content.decode()
