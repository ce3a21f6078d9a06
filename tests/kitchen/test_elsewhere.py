"""A recipe's home in a blog, its film with chapters, and the licence of the data: wherever other programs look for them.

Sources: RFC 6596 (canonical); sitemaps.org 0.9; oembed.com 1.0; schema.org VideoObject and Clip; W3C Media Fragments URI 1.0;
SPDX licence list; RFC 4287 and 4946 (rights and licence of a feed); RFC 8288 (links in headers).
"""

import json
import re
from urllib.parse import quote
from xml.etree import ElementTree

import jsonschema
import pytest

from kitchen.models import Recipe, Site
from kitchen.operations import change_site, publish_recipe
from tests.kitchen.stew import next_revision
from tests.kitchen.test_jsonld import _read_back
from tests.kitchen.test_offering import field

PLACE = "/bench/recipes/stew/machines/"
BLOG, FILM = "https://cook.example/stew", "https://films.example/stew.webm"
CHAPTERS = "0:00 Hello\n0:40 Brown\n2:05 Hold\n3:10 end"
TOLD = {"blog_url": BLOG, "film_url": FILM, "film_on": "2026-10-20", "film_chapters": CHAPTERS}
ATOM = "{http://www.w3.org/2005/Atom}"


@pytest.fixture
def elsewhere(stew, owner_client):
    """The stew, whose home is a blog and of which there is a film."""
    assert owner_client.post(PLACE, TOLD).status_code == 302
    return stew


def test_its_home_is_said_wherever_a_search_engine_looks(elsewhere, stranger_client):
    page = stranger_client.get("/r/stew/").content.decode()
    assert f'<link rel="canonical" href="{BLOG}">' in page
    assert f'<meta property="og:url" content="{BLOG}">' in page
    assert _read_back(stranger_client)["mainEntityOfPage"] == BLOG
    assert f'<{BLOG}>; rel="canonical"' in stranger_client.get("/embed/stew/")["Link"]
    assert f'<{BLOG}>; rel="canonical"' in stranger_client.get("/r/stew.json")["Link"]
    assert "/r/stew/" not in stranger_client.get("/sitemap-1.xml").content.decode()
    assert f'<link rel="canonical" href="{BLOG}">' not in stranger_client.get("/").content.decode()


def test_a_home_is_left_again(elsewhere, owner_client, stranger_client):
    owner_client.post(PLACE, TOLD | {"blog_url": ""})
    assert '<link rel="canonical" href="http://testserver/r/stew/">' in stranger_client.get("/r/stew/").content.decode()
    assert "/r/stew/" in stranger_client.get("/sitemap-1.xml").content.decode()


def test_an_older_edition_keeps_to_itself(elsewhere, owner, noon, stranger_client):
    later = next_revision(elsewhere, noon, text="350 g black beans")
    publish_recipe(recipe=elsewhere, revision=later, by=owner, at=noon)
    page = stranger_client.get("/r/stew/editions/1/").content.decode()
    assert f'<link rel="canonical" href="{BLOG}">' not in page


def test_the_address_of_its_home_stands_for_its_frame(elsewhere, stranger_client):
    told = json.loads(stranger_client.get(f"/oembed?url={quote(BLOG, safe='')}").content)
    assert 'src="http://testserver/embed/stew/"' in told["html"]
    Recipe.objects.update(withdrawn_at=elsewhere.created_at)
    assert stranger_client.get(f"/oembed?url={quote(BLOG, safe='')}").status_code == 404


def test_the_film_and_its_chapters_are_linked_data(elsewhere, stranger_client):
    film = _read_back(stranger_client)["video"]
    assert (film["@type"], film["contentUrl"], film["uploadDate"], film["duration"]) == (
        *("VideoObject", FILM, "2026-10-20"),
        "PT190S",
    )
    assert [(one["name"], one["startOffset"], one["endOffset"], one["url"]) for one in film["hasPart"]] == [
        ("Hello", 0, 40, f"{FILM}#t=0"),
        ("Brown", 40, 125, f"{FILM}#t=40"),
        ("Hold", 125, 190, f"{FILM}#t=125"),
    ]
    assert f'href="{FILM}"' in stranger_client.get("/r/stew/").content.decode()


def test_the_text_below_the_film_has_a_chapter_a_line(elsewhere, stranger_client):
    text = field(stranger_client, "film")
    assert "\n0:00 Hello\n0:40 Brown\n2:05 Hold\n" in text
    assert text.startswith(elsewhere.title)
    assert BLOG in text


def test_without_a_film_there_is_no_text_for_one(stew, stranger_client):
    assert field(stranger_client, "film") == ""
    assert "video" not in _read_back(stranger_client)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"film_chapters": "0:00 Hello\nBrown"}, "“Brown” is no chapter"),
        ({"film_chapters": "0:40 Brown\n0:40 Hold"}, "is not after 0:40"),
        ({"film_chapters": "2:00 Brown\n1:00 Hold"}, "“1:00 Hold” is not after 2:00"),
        ({"film_chapters": "0:40"}, "“0:40” is no chapter"),
        ({"film_chapters": f"0:40 {'x' * 101}"}, "longer than 100 letters"),
        ({"film_url": ""}, "Type the address of the film"),
        ({"film_url": "javascript:alert(1)"}, "Type a whole address"),
        ({"blog_url": "ftp://cook.example/"}, "Type a whole address"),
        ({"film_on": "soon"}, "Type a day, like 2026-10-14."),
    ],
)
def test_what_cannot_be_read_is_said_and_stays_as_typed(stew, owner_client, typed, said):
    answer = owner_client.post(PLACE, TOLD | typed)
    assert answer.status_code == 400
    page = answer.content.decode()
    assert said in page
    assert "Brown" in page
    assert Recipe.objects.get(slug="stew").film_url == ""


def test_stages_wait_for_their_moments(stew, owner_client):
    page = owner_client.get(PLACE).content.decode()
    assert re.search(r"<textarea[^>]*name=\"film_chapters\"[^>]*>\s*Brown\s+Hold</textarea>", page)
    owner_client.post(PLACE, TOLD | {"film_chapters": "Brown\nHold"})
    assert Recipe.objects.get(slug="stew").film_chapters == ""


def test_only_its_cook_says_where_it_is_at_home(stew, other_client, stranger_client):
    assert [client.post(PLACE, TOLD).status_code for client in (other_client, stranger_client)] == [404, 302]
    assert Recipe.objects.get(slug="stew").blog_url == ""


def test_the_data_tell_home_film_licence_and_how_to_cite(elsewhere, stranger_client):
    change_site(values={"licence": "CC-BY-4.0", "name": "Fernhollow kitchen"})
    answer = stranger_client.get("/r/stew.json")
    told = json.loads(answer.content)
    schema = json.loads(stranger_client.get("/schema/recipe-1.json").content)
    jsonschema.Draft202012Validator(schema, format_checker=jsonschema.FormatChecker()).validate(told)
    assert (told["home"], told["licence"]) == (BLOG, "CC-BY-4.0")
    assert told["film"]["chapters"][1] == {"from_s": 40, "to_s": 125, "words": "Brown"}
    assert (
        told["cite_as"] == "owner (2026): “Red lentil and squash pot”, edition 1, Fernhollow kitchen, http://testserver/r/stew/"
    )
    assert '<https://creativecommons.org/licenses/by/4.0/>; rel="license"' in answer["Link"]
    assert _read_back(stranger_client)["license"] == "https://creativecommons.org/licenses/by/4.0/"
    assert field(stranger_client, "cite") == told["cite_as"]
    assert "CC-BY-4.0" in stranger_client.get("/r/stew/share/").content.decode()


def test_a_feed_tells_its_rights(stew, stranger_client):
    def rights():
        root = ElementTree.fromstring(stranger_client.get("/feed.atom").content)
        links = [one.get("href") for one in root.findall(f"{ATOM}link") if one.get("rel") == "license"]
        return root.findtext(f"{ATOM}rights"), links

    assert rights() == ("No licence is given: ask Our kitchen before more than quoting.", [])
    change_site(values={"licence": "CC0-1.0"})
    words, links = rights()
    assert links == ["https://creativecommons.org/publicdomain/zero/1.0/"]
    assert "CC0-1.0" in words


def test_whom_to_name_is_the_site_s_word(stew, stranger_client):
    change_site(values={"cite_as": "Fernhollow sky-watching club"})
    assert json.loads(stranger_client.get("/r/stew.json").content)["cite_as"].startswith("Fernhollow sky-watching club (2026)")


def test_the_licence_is_chosen_among_the_known(owner_client):
    form = {"name": "x", "currency": "EUR", "measures": "written", "altitude_m": "0", "licence": "MINE"}
    assert "MINE" in owner_client.post("/bench/settings/", form).content.decode()
    assert not Site.objects.exists()
    owner_client.post("/bench/settings/", form | {"licence": "CC-BY-SA-4.0"})
    assert Site.objects.get().licence == "CC-BY-SA-4.0"


def test_feeds_of_tags_are_found_from_the_page(stew, stranger_client):
    page = stranger_client.get("/r/stew/").content.decode()
    for place in re.findall(r'<link rel="alternate" type="application/atom\+xml"[^>]*href="([^"]+)"', page, re.DOTALL):
        assert stranger_client.get(place).status_code == 200
    assert "/feeds/tag/one%20pot.atom" in page
    share = stranger_client.get("/r/stew/share/").content.decode()
    for place in re.findall(r'href="(/feeds/[^"]+)"', share):
        assert stranger_client.get(place).status_code == 200
