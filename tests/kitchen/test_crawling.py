"""What search engines and browsers ask for by itself: robots.txt, sitemap, manifest, icons.

Sources: RFC 9309 (robots.txt); sitemaps.org protocol 0.9, and the image extension as Google Search Central documents it (from
memory: only ``image:loc`` is read, at most 1,000 a page); W3C Web Application Manifest; W3C XML Schema dateTime.
"""

import io
import json
from datetime import datetime, timedelta
from pathlib import Path
from urllib.robotparser import RobotFileParser
from xml.etree import ElementTree

import pytest
from django.contrib.staticfiles import finders
from PIL import Image

from kitchen.models import Site
from kitchen.operations import add_photo, publish_recipe, withdraw_recipe
from kitchen.views import crawling
from tests.kitchen.stew import write_stew

SITE = "https://kitchen.example.org"
NAMES = {"s": "http://www.sitemaps.org/schemas/sitemap/0.9", "i": "http://www.google.com/schemas/sitemap-image/1.1"}


@pytest.fixture
def named(db):
    """The site's own address, whatever name it was asked by."""
    Site.objects.update_or_create(pk=1, defaults={"name": "Fernhollow kitchen", "tagline": "Pots & pans", "base_url": SITE})


def tree(answer):
    assert answer["Content-Type"] == "application/xml"
    return ElementTree.fromstring(answer.content)


def addresses(answer):
    return [node.text for node in tree(answer).iterfind(".//s:loc", NAMES)]


def test_robots_read_what_is_public_and_not_the_bench(stew, named, stranger_client):
    answer = stranger_client.get("/robots.txt")
    read = RobotFileParser()
    read.parse(answer.content.decode().splitlines())
    assert read.can_fetch("any", f"{SITE}/r/stew/")
    assert not read.can_fetch("any", f"{SITE}/bench/recipes/stew/")
    assert read.site_maps() == [f"{SITE}/sitemap.xml"]
    assert answer["Content-Type"].startswith("text/plain")


def test_the_sitemap_leads_to_every_published_recipe(stew, named, owner, noon, stranger_client):
    write_stew(owner, noon, title="A secret draft", slug="secret")
    parts = addresses(stranger_client.get("/sitemap.xml"))
    assert parts == [f"{SITE}/sitemap-1.xml"]
    part = stranger_client.get("/sitemap-1.xml")
    assert addresses(part) == [f"{SITE}/", f"{SITE}/r/stew/"]
    days = [datetime.fromisoformat(node.text) for node in tree(part).iterfind(".//s:lastmod", NAMES)]
    assert days == [noon, noon]
    assert stranger_client.get("/sitemap-2.xml").status_code == 404
    assert stranger_client.get("/sitemap-0.xml").status_code == 404


def test_a_long_library_is_listed_in_parts(stew, named, owner, noon, monkeypatch, stranger_client):
    other = write_stew(owner, noon, title="Other pot", slug="other")
    publish_recipe(recipe=other, revision=other.revisions.get(), by=owner, at=noon + timedelta(days=1))
    monkeypatch.setattr(crawling, "MOST_ADDRESSES", 1)
    parts = addresses(stranger_client.get("/sitemap.xml"))
    found = [place for part in parts for place in addresses(stranger_client.get(part.removeprefix(SITE)))]
    assert sorted(found) == sorted([f"{SITE}/", f"{SITE}/r/stew/", f"{SITE}/r/other/"])


def test_the_sitemap_names_the_published_picture(tally, named, owner, noon, settings, tmp_path, stranger_client):
    settings.MEDIA_ROOT = tmp_path
    recipe, held = write_stew(owner, noon), io.BytesIO()
    Image.new("RGB", (1600, 1200), "tomato").save(held, "JPEG")
    add_photo(recipe=recipe, picture=io.BytesIO(held.getvalue()), alt="a pot", at=noon)
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    found = [node.text for node in tree(stranger_client.get("/sitemap-1.xml")).iterfind(".//i:loc", NAMES)]
    assert len(found) == 3
    for place in found:
        assert stranger_client.get(place.removeprefix(SITE)).status_code == 200


def test_what_was_withdrawn_is_in_no_list(stew, named, noon, stranger_client):
    withdraw_recipe(recipe=stew, at=noon)
    assert addresses(stranger_client.get("/sitemap-1.xml")) == [f"{SITE}/"]


def test_lists_answer_that_nothing_changed(stew, named, stranger_client):
    for place in ("/robots.txt", "/sitemap.xml", "/sitemap-1.xml", "/site.webmanifest"):
        answer = stranger_client.get(place)
        assert "Cookie" not in answer.get("Vary", "")
        assert stranger_client.get(place, HTTP_IF_NONE_MATCH=answer["ETag"]).status_code == 304


def test_the_manifest_names_icons_that_are_there(named, stranger_client):
    answer = stranger_client.get("/site.webmanifest")
    told = json.loads(answer.content)
    assert answer["Content-Type"] == "application/manifest+json"
    assert (told["name"], told["start_url"], told["scope"]) == ("Fernhollow kitchen", "/", "/")
    assert {"any", "maskable"} == {icon["purpose"] for icon in told["icons"]}
    for icon in told["icons"]:
        path = finders.find(icon["src"].removeprefix("/static/"))
        if icon["type"] == "image/png":
            with Image.open(path) as image:
                assert f"{image.width}x{image.height}" == icon["sizes"]


def test_the_old_icon_holds_three_sizes(db, stranger_client):
    answer = stranger_client.get("/favicon.ico")
    assert answer.status_code == 302
    with Image.open(Path(finders.find(answer["Location"].removeprefix("/static/")))) as icon:
        assert icon.info["sizes"] == {(16, 16), (32, 32), (48, 48)}
