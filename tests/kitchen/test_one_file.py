"""One file for any phone: it asks for nothing, holds every caution and photo, and says what all of it takes."""

import base64
import io
import json
import re

import pytest
from django.test import Client
from PIL import Image

from kitchen.models import Recipe
from kitchen.operations import add_photo, publish_recipe
from kitchen.operations.collections import change_collection, make_collection, publish_collection
from tests.kitchen.stew import next_revision
from tests.published.html_rules import faults_of


@pytest.fixture
def pictured(stew, owner, noon, settings, tmp_path):
    """The stew with a photo, in a collection."""
    settings.MEDIA_ROOT, settings.ANSWERS_DIR = tmp_path / "photos", tmp_path / "answers"
    picture = io.BytesIO()
    Image.new("RGB", (640, 480), "tomato").save(picture, "JPEG")
    add_photo(recipe=stew, picture=io.BytesIO(picture.getvalue()), alt="a red pot", at=noon)
    publish_recipe(recipe=stew, revision=next_revision(stew, noon, text="1 <b>pot</b> & lid"), by=owner, note="", at=noon)
    made = make_collection(owner=owner, title="Two <days>", at=noon)
    change_collection(collection=made, title="Two <days>", summary="", dishes=[(stew.pk, 6), (stew.pk, 9)], at=noon)
    publish_collection(collection=made, at=noon)
    return made


def asks_for(text):
    """Return what a file would fetch by itself."""
    found = re.findall(r'<(?:img|script|link|iframe|source|video)\b[^>]*?\b(?:src|href|srcset)="([^"]+)"', text)
    return [address for address in found if not address.startswith("data:")] + re.findall(r"url\(|@import", text)


@pytest.mark.parametrize("place", ["/r/stew/one-file.html", "/c/two-days/one-file.html"])
def test_a_file_asks_for_nothing_and_holds_its_photo(pictured, place):
    answer = Client().get(place)
    text = answer.content.decode()
    assert answer["Content-Disposition"].startswith("attachment;")
    assert asks_for(text) == []
    assert "default-src 'none'" in text
    assert faults_of(text) == []
    photo, *_ = re.findall(r"data:image/jpeg;base64,([^\"]+)", text)
    assert Image.open(io.BytesIO(base64.b64decode(photo))).width > 100
    assert "<b>pot" not in text


def test_every_caution_of_the_page_is_in_the_file(pictured):
    told = json.loads(Client().get("/r/stew.json").content)["cautions"]
    text = Client().get("/r/stew/one-file.html").content.decode()
    assert told
    assert [words for words in told if words not in text] == []


def test_a_collection_leads_to_each_recipe_at_each_size(pictured):
    text = Client().get("/c/two-days/one-file.html").content.decode()
    assert re.findall(r'<section id="([^"]+)">', text) == ["stew-6", "stew-9"] == re.findall(r'href="#([^"]+)"', text)
    text = Client().get("/c/two-days/one-file.html?for=11").content.decode()
    assert re.findall(r'<section id="([^"]+)">', text) == ["stew-11"]
    assert "<title>Two &lt;days&gt;</title>" in text
    assert Client().get("/c/two-days/one-file.html?for=none").status_code == 404
    assert Client().get("/r/stew/one-file.html?for=none").status_code == 404


def test_the_library_lists_every_recipe_with_its_edition(pictured):
    told = json.loads(Client().get("/library.json").content)
    edition = Recipe.objects.get().current_edition.number
    assert [(one["path"], one["edition"]) for one in told["recipes"]] == [("/r/stew/", edition)]
    assert "Saved on this device" in Client().get("/saved/").content.decode()
