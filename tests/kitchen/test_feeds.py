"""The feeds, read back as a reader of feeds would. Source: RFC 4287 (Atom), RFC 4122 (names from names), RFC 3339 (days)."""

import re
from datetime import datetime, timedelta
from xml.etree import ElementTree

import mf2py
import pytest

from kitchen.models import Site
from kitchen.operations import publish_recipe, withdraw_recipe
from tests.kitchen.stew import next_revision, write_stew

SITE = "https://kitchen.example.org"
ATOM = "{http://www.w3.org/2005/Atom}"
RFC_3339 = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?(Z|[+-]\d\d:\d\d)")


@pytest.fixture
def named(db):
    Site.objects.update_or_create(pk=1, defaults={"name": "Fernhollow kitchen", "tagline": "Pots & pans", "base_url": SITE})


def read(client, place="/feed.atom"):
    answer = client.get(place)
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/atom+xml; charset=utf-8")
    root = ElementTree.fromstring(answer.content)
    for node in (root, *root.iterfind(f"{ATOM}entry")):  # RFC 4287, 4.1.1 and 4.1.2: exactly one of each
        assert [len(node.findall(ATOM + name)) for name in ("id", "title", "updated")] == [1, 1, 1]
        assert RFC_3339.fullmatch(node.findtext(f"{ATOM}updated"))
    return root


def test_an_entry_holds_the_whole_edition(stew, named, stranger_client):
    root = read(stranger_client)
    links = {link.get("rel"): link.get("href") for link in root.findall(f"{ATOM}link")}
    assert links == {"self": f"{SITE}/feed.atom", "alternate": f"{SITE}/"}
    (entry,) = root.findall(f"{ATOM}entry")
    assert entry.find(f"{ATOM}link").get("href") == f"{SITE}/r/stew/"
    assert entry.findtext(f"{ATOM}author/{ATOM}name") == "owner"
    assert [node.get("term") for node in entry.findall(f"{ATOM}category")] == ["stew", "one pot"]
    content = entry.find(f"{ATOM}content")
    assert content.get("type") == "html"
    told = mf2py.parse(doc=content.text)["items"][0]["properties"]
    assert told["ingredient"][0] == "300 g red lentils, rinsed"
    assert "First cooked in October." in content.text


def test_each_edition_is_an_entry_with_what_it_corrects(stew, named, owner, noon, stranger_client):
    later = next_revision(stew, noon, text="350 g black beans")
    publish_recipe(recipe=stew, revision=later, by=owner, note="Beans instead.", at=noon + timedelta(days=2))
    newer, older = read(stranger_client).findall(f"{ATOM}entry")
    assert newer.findtext(f"{ATOM}id") != older.findtext(f"{ATOM}id")
    assert datetime.fromisoformat(newer.findtext(f"{ATOM}updated")) == noon + timedelta(days=2)
    assert "Beans instead." in newer.findtext(f"{ATOM}content")
    assert older.find(f"{ATOM}link").get("href") == f"{SITE}/r/stew/editions/1/"
    assert "black beans" not in older.findtext(f"{ATOM}content")


def test_the_name_of_an_entry_outlives_its_address(stew, named, stranger_client):
    before = read(stranger_client).findtext(f"{ATOM}entry/{ATOM}id")
    stew.slug = "another"
    stew.save()
    assert read(stranger_client).findtext(f"{ATOM}entry/{ATOM}id") == before


def test_feeds_by_tag_and_cook(stew, named, owner, other_cook, noon, stranger_client):
    other = write_stew(other_cook, noon, title="Stew of roots", slug="roots")
    other.tags = ["roots"]
    other.save()
    publish_recipe(recipe=other, revision=other.revisions.get(), by=other_cook, at=noon)
    titles = [node.findtext(f"{ATOM}title") for node in read(stranger_client, "/feeds/tag/Stew.atom").iterfind(f"{ATOM}entry")]
    assert titles == ["Red lentil and squash pot"]  # the other has the word in its title alone
    assert len(read(stranger_client, f"/feeds/cook/{other_cook.pk}.atom").findall(f"{ATOM}entry")) == 1
    assert stranger_client.get("/feeds/tag/pie.atom").status_code == 404
    assert stranger_client.get("/feeds/cook/99999.atom").status_code == 404


def test_words_of_any_kind_keep_the_feed_whole(tally, named, owner, noon, stranger_client):
    title = "A < B & ]]> \x0b <script>"
    recipe = write_stew(owner, noon, title=title)
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    assert read(stranger_client).findtext(f"{ATOM}entry/{ATOM}title") == title.replace("\x0b", "")
    assert "<script" not in read(stranger_client).findtext(f"{ATOM}entry/{ATOM}content")


def test_what_was_withdrawn_leaves_the_feed(stew, named, noon, stranger_client):
    withdraw_recipe(recipe=stew, at=noon)
    assert read(stranger_client).findall(f"{ATOM}entry") == []
    again = stranger_client.get("/feed.atom")
    assert stranger_client.get("/feed.atom", HTTP_IF_NONE_MATCH=again["ETag"]).status_code == 304


def test_ten_more_editions_cost_no_more_queries(stew, named, owner, noon, stranger_client, django_assert_max_num_queries):
    revision = next_revision(stew, noon, text="4 g salt")
    for day in range(1, 11):
        stew.summary = f"As of day {day}."
        stew.save()
        publish_recipe(recipe=stew, revision=revision, by=owner, at=noon + timedelta(days=day))
    with django_assert_max_num_queries(4):
        assert len(read(stranger_client).findall(f"{ATOM}entry")) == 11
