"""A kit as an address to pass on: with the recipe or alone, named, answered privately, without a cookie."""

import html
import re

import pytest

from tests.kitchen.test_offering import field

PASS = "/kit/pass-on/"


@pytest.fixture
def addresses(stranger_client):
    def read(**asked):
        page = stranger_client.get(PASS, {"battery_wh": "500", **asked}).content.decode()
        return [html.unescape(held).strip() for held in re.findall(r"<textarea[^>]*>([^<]*)</textarea>", page)]

    return read


def test_a_recipe_is_passed_on_with_the_kit_and_its_name(stew, addresses, stranger_client):
    with_page, alone = addresses(to="/r/stew/for-8/?measures=metric&battery_wh=20", called=" Ada's  battery ")
    assert with_page == "http://testserver/r/stew/for-8/?measures=metric&battery_wh=500&called=Ada%27s+battery"
    assert alone == "http://testserver/kit/?battery_wh=500&called=Ada%27s+battery"
    for place in (with_page, alone):
        answer = stranger_client.get(place.removeprefix("http://testserver"))
        page = answer.content.decode()
        assert "“Ada&#x27;s battery”" in page
        assert 'value="500"' in page
        assert "private" in answer["Cache-Control"]
        assert not answer.cookies
    assert not stranger_client.cookies


def test_its_links_keep_the_name(stew, stranger_client):
    page = stranger_client.get("/r/stew/?battery_wh=500&called=Hut").content.decode()
    assert "/r/stew/for-7/?battery_wh=500&amp;called=Hut" in page


def test_without_a_name_or_page_it_is_the_library_and_the_kit(stew, addresses):
    assert addresses() == ["http://testserver/?battery_wh=500", "http://testserver/kit/?battery_wh=500"]
    assert addresses(to="https://evil.example/")[0].startswith("http://testserver/?")
    assert addresses(to="//evil.example/")[0].startswith("http://testserver/?")


def test_another_kit_loses_the_name(stew, stranger_client):
    answer = stranger_client.get("/kit/", {"battery_wh": "300", "kit": "keep", "to": "/r/stew/?battery_wh=500&called=Hut"})
    assert answer["Location"] == "/r/stew/?battery_wh=300"


def test_a_name_is_words_and_short(stew, stranger_client):
    page = stranger_client.get("/r/stew/", {"battery_wh": "500", "called": "<b>" + "x" * 60}).content.decode()
    assert "&lt;b&gt;" + "x" * 37 + "”" in page
    assert "x" * 38 not in re.sub(r'(?:href|value|hx-get)="[^"]*"', "", page)


def test_a_name_without_a_kit_shows_nowhere_and_is_in_no_page_for_everybody(stew, stranger_client):
    page = stranger_client.get("/r/stew/?called=Hut")
    assert "Hut" not in page.content.decode()
    assert stranger_client.get("/r/stew/").content == page.content


def test_the_remembered_kit_is_passed_on_too(stew, stranger_client):
    stranger_client.get("/kit/", {"battery_wh": "500", "kit": "keep"})
    assert "battery_wh=500" in html.unescape(stranger_client.get(PASS).content.decode())


@pytest.mark.parametrize("asked", [{}, {"battery_wh": "huge"}])
def test_what_is_no_kit_leads_to_where_one_is_typed(stew, stranger_client, asked):
    answer = stranger_client.get(PASS, asked)
    assert (answer.status_code, answer["Location"]) == (302, "/kit/")


def test_nobody_s_kit_is_in_what_is_shared(stew, stranger_client):
    stranger_client.get("/kit/", {"battery_wh": "500", "kit": "keep"})
    assert "500" not in field(stranger_client, "link")
