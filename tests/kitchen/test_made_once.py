"""Public pages that are made once: the same as made anew, never somebody's, never from before."""

import gzip
import json
import re
from datetime import timedelta
from pathlib import Path
from unittest import mock

import brotli
import pytest
from django.contrib.messages.storage.base import Message
from django.contrib.messages.storage.cookie import CookieStorage
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from kitchen.models import Recipe, Site
from kitchen.operations import publish_recipe, withdraw_recipe
from kitchen.operations.kept_answers import AnswerStore
from kitchen.views import made_once
from tests.kitchen.stew import next_revision, write_stew

PLACES = ["/", "/r/stew/", "/r/stew/cook/", "/r/stew/for-8/", "/r/stew/editions/", "/r/stew/share/", "/method/"]
OF_STEW = PLACES[1:-1]
SHARED = "public, max-age=0, s-maxage=60, stale-while-revalidate=300"
NUMBER = re.compile(r"X-Request-Number")


@pytest.fixture
def kept_in(settings, tmp_path, db):
    """A store of the test's own, and a site whose settings were saved once."""
    settings.ANSWERS_DIR = tmp_path / "answers"
    Site.objects.get_or_create(pk=1)
    return settings.ANSWERS_DIR


@pytest.fixture
def nothing_is_made(monkeypatch):
    """Fail where a page is drawn."""

    def refuse(*_arguments, **_more):
        raise AssertionError("a page was made")

    monkeypatch.setattr("kitchen.views.showing.render", refuse)


def _files(folder):
    return [file for file in folder.iterdir() if file.is_file()] if folder.exists() else []


def _kept_words(folder):
    kept = (file.read_bytes()[16:].partition(b"\n") for file in _files(folder))
    return "".join(gzip.decompress(content[: json.loads(head)["gzip"]]).decode() for head, _, content in kept)


@pytest.mark.parametrize("place", PLACES)
def test_a_page_is_made_once_and_served_to_everybody(stew, kept_in, place):
    first = Client().get(place)
    assert (first.status_code, first["Cache-Control"], first["Vary"]) == (200, SHARED, "Accept-Encoding")
    with mock.patch.object(made_once, "_is_for_everybody", side_effect=AssertionError("made again")):
        again = Client().get(place)
    assert again.content == first.content
    assert again["ETag"] == first["ETag"]
    assert not again["ETag"].startswith("W/")
    assert again["Content-Security-Policy"] == first["Content-Security-Policy"]


@pytest.mark.parametrize("place", PLACES)
def test_a_kept_page_costs_two_queries(stew, kept_in, place, django_assert_num_queries):
    Client().get(place)
    with django_assert_num_queries(2):
        assert Client().get(place).status_code == 200


def test_it_is_sent_compressed_to_those_who_take_it(stew, kept_in):
    plain = Client().get("/r/stew/")
    assert "Content-Encoding" not in plain
    for accepted, coding, back in (("br, gzip", "br", brotli.decompress), ("deflate, gzip", "gzip", gzip.decompress)):
        for address in ("/r/stew/", "/r/stew/?group=4"):  # kept, and made for this answer alone
            bare, sent = (Client().get(address, headers={"Accept-Encoding": one}) for one in ("", accepted))
            assert (sent["Content-Encoding"], back(sent.content)) == (coding, bare.content)
            assert sent["ETag"] == bare["ETag"].removesuffix('"') + f'-{coding}"'
    refused = Client().get("/r/stew/", headers={"Accept-Encoding": "gzip;q=0, identity"})
    assert refused.content == plain.content


@pytest.mark.parametrize("accepted", ["", "gzip"])
def test_what_the_browser_has_is_not_sent_again(stew, kept_in, nothing_is_made, accepted):
    with mock.patch("kitchen.views.showing.render", wraps=made_once.HttpResponse) as drawn:
        drawn.side_effect = lambda *_a, **_k: made_once.HttpResponse("<!doctype html>")
        first = Client().get("/r/stew/", headers={"Accept-Encoding": accepted})
    for tag in (first["ETag"], f"W/{first['ETag']}", f'"other", {first["ETag"]}'):
        again = Client().get("/r/stew/", headers={"Accept-Encoding": accepted, "If-None-Match": tag})
        assert (again.status_code, again.content) == (304, b"")
        for header in ("ETag", "Cache-Control", "Vary"):
            assert again[header] == first[header]


def test_a_head_is_answered_like_its_page(stew, kept_in):
    page, head = Client().get("/r/stew/"), Client().head("/r/stew/")
    assert (head.status_code, head.content, head["ETag"]) == (200, b"", page["ETag"])
    assert head["Content-Length"] == str(len(page.content))


def test_publishing_is_seen_at_once(stew, kept_in, owner, noon):
    before = {place: Client().get(place) for place in PLACES}
    revision = next_revision(stew, noon, text="350 g black beans")
    publish_recipe(recipe=stew, revision=revision, by=owner, note="With beans.", at=noon + timedelta(days=1))
    assert "edition 2" in Client().get("/r/stew/").content.decode()
    assert "With beans." in Client().get("/r/stew/editions/").content.decode()
    for place in PLACES[:-1]:
        tag = before[place]["ETag"]
        assert Client().get(place, headers={"If-None-Match": tag}).status_code == 200


def test_withdrawing_and_bringing_back_is_seen_at_once(stew, kept_in, owner, noon):
    first = {place: Client().get(place).content for place in PLACES}
    withdraw_recipe(recipe=stew, at=noon)
    for place in OF_STEW:
        assert Client().get(place).status_code == 410
    assert "Red lentil" not in Client().get("/").content.decode()
    publish_recipe(recipe=stew, revision=stew.revisions.get(), by=owner, at=noon)
    assert {place: Client().get(place).content for place in PLACES} == first


@pytest.mark.parametrize(
    "said", [{"name": "Other kitchen"}, {"tagline": "We cook"}, {"measures": "metric"}, {"base_url": "https://x.example"}]
)
def test_settings_are_seen_at_once(stew, kept_in, said):
    before = {place: Client().get(place)["ETag"] for place in PLACES}
    Site.objects.update(**said)
    for place in PLACES:
        assert Client().get(place)["ETag"] != before[place]
    assert str(next(iter(said.values()))) in Client().get("/r/stew/").content.decode()


def test_a_new_address_and_a_recipe_that_is_gone_are_seen_at_once(stew, kept_in, tally, owner, noon):
    Client().get("/")
    Recipe.objects.filter(pk=stew.pk).update(slug="pot")
    assert 'href="/r/pot/"' in Client().get("/").content.decode()
    other = write_stew(owner, noon, slug="other", title="Another pot")
    publish_recipe(recipe=other, revision=other.revisions.get(), by=owner, at=noon)
    assert "Another pot" in Client().get("/").content.decode()


def test_another_program_and_another_day_make_pages_anew(stew, kept_in):
    first = Client().get("/r/stew/")["ETag"]
    with mock.patch.object(made_once, "program_digest", return_value="another"):
        assert Client().get("/r/stew/")["ETag"] != first
    with mock.patch.object(made_once, "day_by", return_value="tomorrow"):
        assert Client().get("/r/stew/")["ETag"] != first
    assert Client().get("/r/stew/")["ETag"] == first


def test_what_changed_while_a_page_was_made_is_not_kept_under_the_old_name(stew, kept_in):
    draw = made_once._is_for_everybody

    def meanwhile(request, made):
        Site.objects.update(name="Set meanwhile")
        return draw(request, made)

    with mock.patch.object(made_once, "_is_for_everybody", meanwhile):
        answer = Client().get("/r/stew/")
    assert answer["Cache-Control"] == SHARED
    assert "Set meanwhile" not in answer.content.decode()
    assert _files(kept_in) == []


def test_each_name_of_the_site_has_its_own_page(stew, kept_in, settings):
    settings.ALLOWED_HOSTS = ["one.example", "two.example"]
    for host in settings.ALLOWED_HOSTS:
        page = Client().get("/r/stew/", headers={"host": host}).content.decode()
        assert f"http://{host}/r/stew/" in page
    assert Client().get("/r/stew/", headers={"host": "evil.example"}).status_code == 400


def test_unknown_names_show_nowhere_and_make_no_other_page(stew, kept_in):
    plain = Client().get("/")
    asked = Client().get("/?utm_source=%3Cb%3E&fbclid=secret&page=1")
    assert Client().get("/?fbclid=secret").content == plain.content
    assert "secret" not in asked.content.decode()
    assert Client().get("/r/stew/?measures=metric&x=1")["ETag"] == Client().get("/r/stew/?x=2&measures=metric")["ETag"]
    assert "secret" not in _kept_words(kept_in)


PERSONAL = {
    "a remembered kit": {made_once.settings.KIT_COOKIE_NAME: json.dumps({"battery_wh": "777"})},
    "a session": {made_once.settings.SESSION_COOKIE_NAME: "0123456789"},
    "a message": {made_once.settings.MESSAGE_COOKIE_NAME: CookieStorage(None)._encode([Message(20, "private words")])},
}


@pytest.mark.parametrize("cookies", PERSONAL.values(), ids=PERSONAL)
@pytest.mark.parametrize("place", [*PLACES, "/?q=stew", "/r/stew/?adults=2&children=3"])
def test_somebody_is_answered_like_everybody(stew, kept_in, place, cookies):
    client = Client()
    client.cookies.load(cookies)
    answer, shared = client.get(place), Client().get(place)
    assert (answer.status_code, answer["Cache-Control"], answer["Vary"]) == (200, SHARED, "Accept-Encoding")
    assert (answer.content, answer["ETag"], answer.cookies) == (shared.content, shared["ETag"], shared.cookies)
    assert client.get(place, headers={"If-None-Match": shared["ETag"]}).status_code == 304


@pytest.mark.parametrize("person", ["owner_client", "other_client"])
def test_who_is_signed_in_is_answered_like_everybody(stew, kept_in, person, request):
    client = request.getfixturevalue(person)
    client.get("/bench/recipes/new/")
    for place in PLACES:
        answer = client.get(place)
        assert (answer.content, answer["Vary"]) == (Client().get(place).content, "Accept-Encoding")
        assert "csrf" not in answer.content.decode()


def test_words_after_a_save_wait_for_the_bench(stew, kept_in, owner_client):
    owner_client.cookies.load(PERSONAL["a message"])
    assert "private words" not in owner_client.get("/r/stew/").content.decode()
    assert "private words" in owner_client.get("/bench/").content.decode()


def test_a_kit_in_the_address_is_kept_and_answered_privately(stew, kept_in):
    first = Client().get("/r/stew/for-8/?battery_wh=512&measures=metric")
    assert (first["Cache-Control"], first["Vary"]) == ("private, no-cache", "Accept-Encoding")
    assert "of your 512 Wh" in first.content.decode()
    assert '<meta name="robots" content="noindex">' in first.content.decode()
    with mock.patch.object(made_once, "_is_for_everybody", side_effect=AssertionError("made again")):
        again = Client().get("/r/stew/for-8/?measures=metric&battery_wh=512")
    assert (again.content, again["ETag"], again["Cache-Control"]) == (first.content, first["ETag"], "private, no-cache")
    Client().get("/r/stew/for-8/")
    of_kits, of_all = sorted(file.name[:8] for file in _files(kept_in))
    assert of_kits != of_all


@pytest.mark.parametrize("query", ["q=lentil", "for=8", "adults=2", "grams=200", "battery_wh=lots"])
@pytest.mark.parametrize("place", ["/", "/r/stew/"])
def test_words_groups_redirects_and_mistakes_are_not_kept(stew, kept_in, place, query):
    Client().get(f"{place}?{query}")
    assert _files(kept_in) == []


def test_a_page_with_a_token_or_a_session_is_not_kept():
    made = made_once.HttpResponse("page")
    request = mock.Mock(META={}, session=mock.Mock(accessed=False))
    assert made_once._is_for_everybody(request, made)
    assert not made_once._is_for_everybody(mock.Mock(META={"CSRF_COOKIE": "x"}, session=request.session), made)
    assert not made_once._is_for_everybody(mock.Mock(META={}, session=mock.Mock(accessed=True)), made)
    made.set_cookie("a", "b")
    assert not made_once._is_for_everybody(request, made)


def test_pages_are_made_of_what_their_name_holds(stew, kept_in):
    """What a page reads from tables is what its name is made of: editions, recipes and the site; marks follow from these."""
    for place in PLACES:
        with CaptureQueriesContext(connection) as seen:
            assert Client().get(place).status_code == 200
        tables = set(re.findall(r'(?:FROM|JOIN) "(\w+)"', " ".join(query["sql"] for query in seen.captured_queries)))
        assert tables <= {"kitchen_collection", "kitchen_edition", "kitchen_recipe", "kitchen_shelfmark", "kitchen_site"}


def test_a_store_that_fails_is_only_slower(stew, kept_in):
    first = Client().get("/r/stew/").content
    for file in _files(kept_in):
        file.write_bytes(b"broken")
    assert Client().get("/r/stew/").content == first
    for file in _files(kept_in):
        file.unlink()
        file.mkdir()
    assert Client().get("/r/stew/").content == first


WORDS = st.sampled_from(["", "metric", "1/2", "3", "512", "on", "off", "forces", "school", "title", "newest", "1", "junk", "<b>"])
NAMES = st.sampled_from(
    ["measures", "rounding", "portion", "vessel", "lid", "sort", "page", "utm_source", "q", "battery_wh", "for"]
)
ASKED = st.tuples(
    st.sampled_from([*PLACES, "/r/stew/for-6/", "/r/stew/for-x/", "/r/stew/editions/1/", "/r/none/"]),
    st.lists(st.tuples(NAMES, WORDS), max_size=4),
    st.sampled_from([{}, {"HX-Request": "true"}, {"Accept-Encoding": "gzip"}, {"Accept-Encoding": "br"}]),
    st.sampled_from([{}, {}, *PERSONAL.values()]),
)


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
@given(requests=st.lists(ASKED, min_size=1, max_size=6))
def test_a_kept_answer_equals_a_fresh_one(stew, kept_in, requests):
    def ask(place, query, headers, cookies):
        client = Client()
        client.cookies.load(cookies)
        answer = client.get(place, query_params=query and dict(query), headers=headers)
        own = any(name == "battery_wh" for name, _ in query)
        assert not (own and "public" in answer.get("Cache-Control", "")), "one reader's kit"
        back = {"gzip": gzip.decompress, "br": brotli.decompress}.get(answer.get("Content-Encoding"), bytes)
        body = back(answer.content)
        return answer.status_code, body, {name: told for name, told in answer.items() if not NUMBER.match(name)}

    kept = [ask(*one) for one in [*requests, *requests]]
    with mock.patch.object(made_once, "_store", return_value=AnswerStore(Path("/dev/null/answers"))):
        fresh = [ask(*one[:3], {}) for one in requests]
    assert kept == [*fresh, *fresh]
    words = _kept_words(kept_in)
    for private in ("private words", "777", "0123456789", "csrfmiddlewaretoken", "utm_source"):
        assert private not in words
