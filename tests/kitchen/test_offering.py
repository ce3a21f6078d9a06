"""A recipe as other sites and programs get it. Sources: JSON Schema 2020-12; oembed.com 1.0; HTML Standard (sandbox);
CommonMark 0.31; the sanitizer's list is that of the ``ammonia`` library, as nh3 carries it."""

import json
import re
from html.parser import HTMLParser
from urllib.parse import quote

import jsonschema
import mf2py
import nh3
import pytest

from kitchen.models import Site
from kitchen.operations import publish_recipe, withdraw_recipe
from tests.kitchen.stew import next_revision, write_stew

SITE = "https://kitchen.example.org"
PLACES = ("/r/stew.json", "/r/stew/share/", "/embed/stew/")
STRICT = {"p", "ul", "ol", "li", "h2", "h3", "h4", "a", "b", "img"}


@pytest.fixture(autouse=True)
def named(db):
    Site.objects.update_or_create(pk=1, defaults={"name": "Fernhollow kitchen", "base_url": SITE})


@pytest.fixture(params=["owner_client", "other_client", "stranger_client"])
def anybody(request):
    return request.getfixturevalue(request.param)


def field(client, key):
    """What a box of the share page holds, as a browser reads it."""

    class Boxes(HTMLParser):
        held, inside = "", False

        def handle_starttag(self, tag, attrs):
            self.inside = tag == "textarea" and dict(attrs)["id"] == f"copy-{key}"

        def handle_data(self, data):
            self.held += data if self.inside else ""

        def handle_endtag(self, tag):
            self.inside = False

    boxes = Boxes()
    boxes.feed(client.get("/r/stew/share/").content.decode())
    return boxes.held


def test_the_data_follow_their_schema_and_are_what_was_published(stew, noon, anybody):
    next_revision(stew, noon, text="350 g black beans")
    told = json.loads(anybody.get("/r/stew.json").content)
    schema = json.loads(anybody.get(told["$schema"].removeprefix(SITE)).content)
    jsonschema.Draft202012Validator.check_schema(schema)
    jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker()).validate(told)
    assert (told["url"], told["edition"], told["servings"]) == (f"{SITE}/r/stew/", 1, 6)
    lines = [line for part in told["ingredients"] for line in part["lines"]]
    assert [(line["low"], line["unit"], line["name"]) for line in lines][:2] == [
        ("300", "g", "red lentils"),
        ("1", "L", "vegetable stock"),
    ]
    assert told["figures"] == [
        {"name": "energy_per_serving_wh", "value": 40.0, "unit": "Wh"},
        {"name": "total_min", "value": 15.5, "unit": "min"},
    ]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate({**told, "servings": 0}, schema)


def test_nothing_unpublished_or_withdrawn_is_given(no_cards, owner, noon, anybody):
    recipe = write_stew(owner, noon)
    oembed = f"/oembed?url={quote(f'{SITE}/r/stew/', safe='')}"
    for place in (*PLACES, oembed):
        assert anybody.get(place).status_code == 404
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    withdraw_recipe(recipe=recipe, at=noon)
    assert [anybody.get(place).status_code for place in (*PLACES, oembed)] == [410, 410, 410, 404]


def test_who_asks_changes_nothing(stew, owner_client, stranger_client):
    for place in ("/r/stew.json", "/embed/stew/", "/feed.atom", "/sitemap-1.xml"):
        stranger, owner = (
            stranger_client.get(place),
            owner_client.get(f"{place}", HTTP_COOKIE="kit=%7B%22battery_wh%22%3A%22500%22%7D"),
        )
        assert stranger.content == owner.content
        assert (stranger["Access-Control-Allow-Origin"], "Cookie" in stranger.get("Vary", "")) == ("*", False)
        assert "public" in stranger["Cache-Control"]
        assert not stranger.cookies


def test_only_the_frame_may_be_framed(stew, stranger_client):
    frame, page = stranger_client.get("/embed/stew/"), stranger_client.get("/r/stew/")
    assert "X-Frame-Options" not in frame
    assert "frame-ancestors *" in frame["Content-Security-Policy"]
    assert (page["X-Frame-Options"], "frame-ancestors 'none'" in page["Content-Security-Policy"]) == ("DENY", True)
    assert "<form" not in frame.content.decode()
    assert "localStorage" not in frame.content.decode()


def test_a_pasted_address_becomes_a_frame(stew, stranger_client):
    page = stranger_client.get("/r/stew/").content.decode()
    place = re.search(r'type="application/json\+oembed"[^>]*?href="([^"]+)"', page, re.DOTALL)[1]
    told = json.loads(stranger_client.get(place).content)
    assert (told["version"], told["type"], told["title"], told["provider_url"]) == ("1.0", "rich", stew.title, f"{SITE}/")
    assert isinstance(told["width"], int)
    assert f'src="{SITE}/embed/stew/"' in told["html"]
    assert 'sandbox="allow-scripts allow-popups' in told["html"]
    assert "allow-same-origin" not in told["html"]
    small = json.loads(stranger_client.get(f"{place}&maxwidth=300&maxheight=200").content)
    assert (small["width"], small["height"]) == (300, 200)
    assert stranger_client.get(f"{place}&format=xml").status_code == 501
    for other in ("https://elsewhere.example/r/stew/", f"{SITE}/bench/", f"{SITE}/r/none/", "", "http://[", "stew"):
        assert stranger_client.get(f"/oembed?url={quote(other, safe='')}").status_code == 404


def test_the_copy_survives_a_sanitizer(stew, stranger_client):
    html = field(stranger_client, "html")
    loose = nh3.clean(
        html, attributes={"*": {"class"}, "a": {"href"}, "img": {"src", "alt"}, "time": {"datetime"}, "ol": {"start"}}
    )
    held = mf2py.parse(doc=loose)["items"][0]["properties"]
    assert (held["name"], held["url"]) == ([stew.title], [f"{SITE}/r/stew/"])
    assert held["ingredient"] == ["300 g red lentils, rinsed", "1 L vegetable stock", "20 g jalapeño"]
    for allowed in (nh3.ALLOWED_TAGS, STRICT):
        words = re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", nh3.clean(html, tags=allowed)))
        for part in ("300 g red lentils", "Stir in the cumin.", "6 servings", "To finish"):
            assert part in words
    for address in re.findall(r'(?:src|href)="([^"]+)"', html):
        assert address.startswith("https://")


def test_markdown_and_text_hold_the_recipe(stew, stranger_client):
    markdown, text = field(stranger_client, "markdown"), field(stranger_client, "text")
    assert markdown.startswith(f"# {stew.title}\n")
    for copy in (markdown, text):
        for part in ("300 g red lentils, rinsed", "2. Stir in the cumin.", "To finish", f"{SITE}/r/stew/", "makes 6 servings"):
            assert part in copy


def test_words_stay_words_in_every_copy(tally, owner, noon, stranger_client):
    title = "<b>*A*</b> [stew](x) </textarea><script>"
    recipe = write_stew(owner, noon, title=title)
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    assert field(stranger_client, "text").startswith(title)
    assert field(stranger_client, "markdown").startswith(r"# \<b\>\*A\*\</b\> \[stew\](x)")
    assert mf2py.parse(doc=field(stranger_client, "html"))["items"][0]["properties"]["name"] == [title]
    for place in ("/r/stew/share/", "/embed/stew/"):
        assert "<b>*A*" not in stranger_client.get(place).content.decode()
