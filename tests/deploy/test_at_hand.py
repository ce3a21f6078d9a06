"""Pages held in memory: the same answers as the site's own, asked again after any write."""

import sqlite3
from itertools import pairwise
from wsgiref.util import setup_testing_defaults

import pytest
from django.core.handlers.wsgi import WSGIHandler
from django.core.signals import request_finished, request_started
from django.db import close_old_connections, connection, connections
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from deploy.at_hand import MOST_PAGES, AtHand
from deploy.freshness import Freshness
from kitchen.models import Site
from kitchen.operations import publish_recipe
from tests.kitchen.stew import TallyCard, write_stew


class Marks:
    """Says what the test lets it say."""

    def __init__(self):
        self.now = (1,)

    def mark(self):
        return self.now


class Asked:
    """The site, and how often it was asked."""

    def __init__(self):
        self.site, self.times = WSGIHandler(), 0

    def __call__(self, environ, start_response):
        self.times += 1
        return self.site(environ, start_response)


@pytest.fixture
def kitchen(owner, noon, settings, tmp_path, monkeypatch):
    """A published stew, and a connection that whole requests leave open."""
    monkeypatch.setattr("kitchen.cards._registered", {})
    from kitchen import cards

    cards.register(TallyCard())
    settings.ANSWERS_DIR, settings.ALLOWED_HOSTS = tmp_path / "answers", ["127.0.0.1", "two.example"]
    Site.objects.get_or_create(pk=1)
    recipe = write_stew(owner, noon)
    publish_recipe(recipe=recipe, revision=recipe.revisions.get(), by=owner, at=noon)
    signals = (request_started, request_finished)
    for signal in signals:
        signal.disconnect(close_old_connections)
    yield recipe
    for signal in signals:
        signal.connect(close_old_connections)


def ask(application, path, query="", **more):
    """Return status, headers but for the request's number, and body."""
    environ = {"PATH_INFO": path, "QUERY_STRING": query, "HTTP_HOST": "127.0.0.1", **more}
    setup_testing_defaults(environ)
    said = []
    answer = application(environ, lambda status, headers, *_: said.append((status, dict(headers))))
    body = b"".join(answer)
    if close := getattr(answer, "close", None):
        close()
    status, headers = said[0]
    assert headers.pop("X-Request-Number")
    return status, {name.lower(): told for name, told in headers.items()}, body


def test_a_kept_page_is_held_until_anything_is_written(kitchen):
    site, marks = Asked(), Marks()
    held = AtHand(site, marks)
    first = ask(held, "/r/stew/")
    assert [ask(held, "/r/stew/") for _ in range(3)] == [first] * 3
    assert site.times == 1
    Site.objects.update(name="Another kitchen")
    marks.now = (2,)
    assert "Another kitchen" in ask(held, "/r/stew/")[2].decode()
    assert site.times == 2


def test_where_the_database_says_nothing_the_site_is_asked(kitchen):
    site, marks = Asked(), Marks()
    held = AtHand(site, marks)
    marks.now = None
    for _ in range(2):
        assert ask(held, "/r/stew/")[0] == "200 OK"
    assert site.times == 2


def test_another_quarter_of_an_hour_asks_the_site(kitchen, monkeypatch):
    site = Asked()
    held = AtHand(site, Marks())
    ask(held, "/r/stew/")
    monkeypatch.setattr("deploy.at_hand._quarter_hour", lambda: 1)
    ask(held, "/r/stew/")
    assert site.times == 2


def test_what_the_browser_has_is_not_sent_again(kitchen):
    site = Asked()
    held = AtHand(site, Marks())
    _, headers, body = ask(held, "/r/stew/")
    tag = headers["etag"]
    for told in (tag, f"W/{tag}", f'"other", {tag}', "*"):
        status, same, nothing = ask(held, "/r/stew/", HTTP_IF_NONE_MATCH=told)
        assert (status, nothing) == ("304 Not Modified", b"")
        assert same == {name: told for name, told in headers.items() if name != "content-length"}
    assert ask(held, "/r/stew/", HTTP_IF_NONE_MATCH='"other"')[2] == body
    assert ask(held, "/r/stew/", REQUEST_METHOD="HEAD") == ("200 OK", headers, b"")
    assert site.times == 1


def test_it_holds_so_many_pages_at_most(kitchen):
    held = AtHand(Asked(), Marks())
    for number in range(MOST_PAGES + 5):
        ask(held, "/r/stew/", f"x={number}")
    assert 0 < len(held._held) <= MOST_PAGES


PLACES = ["/", "/r/stew/", "/r/stew/for-8/", "/r/stew/editions/", "/method/", "/kit/", "/r/stew.json", "/nowhere/", "/bench/"]
QUERIES = ["", "measures=metric", "measures=us&x=1", "battery_wh=512", "battery_wh=lots", "q=stew", "for=8", "kit=use"]
SAID = [
    {},
    {"HTTP_ACCEPT_ENCODING": "gzip"},
    {"HTTP_COOKIE": "kit={}; wattfare_session=0123456789"},
    {"HTTP_HOST": "two.example"},
    {"HTTP_HOST": "evil.example"},
    {"REQUEST_METHOD": "HEAD"},
    {"REQUEST_METHOD": "POST"},
    {"HTTP_X_FORWARDED_PROTO": "https"},
]
ASKED = st.tuples(st.sampled_from(PLACES), st.sampled_from(QUERIES), st.sampled_from(SAID))


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], max_examples=30)
@given(requests=st.lists(ASKED, min_size=1, max_size=8))
def test_it_answers_as_the_site_does(kitchen, requests):
    def plain(answer):
        status, headers, body = answer
        return status, headers, body if status[:3] in {"200", "304"} else len(body) // 100

    site, held = WSGIHandler(), AtHand(WSGIHandler(), Marks())
    for place, query, said in [*requests, *requests]:
        assert plain(ask(held, place, query, **said)) == plain(ask(site, place, query, **said))


def test_sqlite_s_mark_changes_with_every_write_of_others(tmp_path, monkeypatch):
    file = tmp_path / "a.sqlite3"

    def writes(*orders):
        other = sqlite3.connect(file)
        for order in orders:
            other.execute(order)
        other.commit()
        other.close()

    writes("PRAGMA journal_mode=WAL", "CREATE TABLE t (x)")

    class Named:
        vendor, settings_dict = "sqlite", {"NAME": file}

    monkeypatch.setattr("deploy.freshness.connections", {"default": Named})
    freshness = Freshness()
    marks = [freshness.mark(), freshness.mark()]
    writes("INSERT INTO t VALUES (1)")
    marks += [freshness.mark(), freshness.mark()]
    file.rename(tmp_path / "b.sqlite3")
    assert freshness.mark() is None
    writes("CREATE TABLE t (x)")
    marks += [freshness.mark(), freshness.mark()]
    assert None not in marks
    assert [before == after for before, after in pairwise(marks)] == [True, False, True, False, True]


@pytest.mark.any_engine
@pytest.mark.skipif(connection.vendor != "postgresql", reason="asks PostgreSQL itself")
@pytest.mark.django_db(transaction=True)
def test_postgresql_s_mark_changes_when_what_can_be_seen_does():
    freshness = Freshness()
    before = freshness.mark()
    assert freshness.mark() == before is not None
    Site.objects.update_or_create(pk=1, defaults={"name": "Written"})
    after = freshness.mark()
    assert after != before
    assert freshness.mark() == after
    freshness._asks._connection.close()
    assert freshness.mark() is None
    assert freshness.mark() not in (None, after)
    freshness._asks._connection.close()
    connections.close_all()
