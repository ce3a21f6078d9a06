"""Every kind of page says the same strict policy, keeps to it, and a request that is too large gets a plain page."""

import re
import resource
from wsgiref.util import is_hop_by_hop

import pytest
from django.db import IntegrityError, OperationalError
from django.http import HttpResponse
from django.test import Client, RequestFactory
from django.views.defaults import server_error

from deploy.errors import database_busy
from deploy.middleware import CONTENT_SECURITY_POLICY, EmptyHead, Keeping, PolicyHeaders, RoomyStack

INLINE = re.compile(r"<style\b|<[^>]*\sstyle=|<script(?![^>]*\bsrc=)(?![^>]*application/ld\+json)[^>]*>|<[^>]*\son[a-z]+=[\"']")
PUBLIC = ["/", "/bench/sign-in/", "/method/", "/healthz", "/r/nothing-of-that-name/", "/nowhere/"]
BENCH = [
    "/bench/",
    "/bench/tables/",
    "/bench/tables/kitchen/recipe/",
    "/bench/tables/kitchen/recipe/add/",
    "/bench/tables/auth/user/add/",
]

pytestmark = pytest.mark.django_db


def assert_policies(response) -> None:
    assert response.headers["Content-Security-Policy"] == f"{CONTENT_SECURITY_POLICY}; frame-ancestors 'none'"
    assert "geolocation=()" in response.headers["Permissions-Policy"]
    assert response.headers["Referrer-Policy"] == "strict-origin-when-cross-origin"
    assert response.headers["X-Content-Type-Options"] == "nosniff"
    assert response.headers["Cross-Origin-Opener-Policy"] == "same-origin"


def assert_nothing_inline(response) -> None:
    found = INLINE.findall(response.content.decode())
    assert found == []


@pytest.mark.parametrize("address", PUBLIC)
def test_public_pages_say_and_keep_the_policy(address, stranger_client):
    response = stranger_client.get(address)
    assert response.status_code in {200, 404}
    assert_policies(response)
    assert_nothing_inline(response)


@pytest.mark.parametrize("address", BENCH)
def test_the_bench_and_the_tables_say_and_keep_the_policy(address, owner_client):
    response = owner_client.get(address)
    assert response.status_code == 200
    assert_policies(response)
    assert_nothing_inline(response)


def test_the_policy_allows_nothing_inline_and_nobody_else():
    assert "unsafe" not in CONTENT_SECURITY_POLICY
    assert "http" not in CONTENT_SECURITY_POLICY
    assert "*" not in CONTENT_SECURITY_POLICY
    assert CONTENT_SECURITY_POLICY.startswith("default-src 'none'")


def test_a_view_may_say_a_policy_of_its_own():
    def embedded(_request):
        return HttpResponse("", headers={"Content-Security-Policy": "frame-ancestors *"})

    response = PolicyHeaders(embedded)(RequestFactory().get("/"))
    assert response.headers["Content-Security-Policy"] == "frame-ancestors *"


def test_a_head_request_is_told_the_length_alone():
    response = EmptyHead(lambda _request: HttpResponse("twelve chars"))(RequestFactory().head("/"))
    assert response.content == b""
    assert response.headers["Content-Length"] == "12"


def test_an_unknown_host_gets_a_plain_page(stranger_client):
    response = stranger_client.get("/", headers={"host": "elsewhere.example"})
    assert response.status_code == 400
    assert "could not be understood" in response.content.decode()
    assert_policies(response)
    assert_nothing_inline(response)


def test_a_form_that_is_too_large_gets_a_plain_page_with_the_way_back(owner_client, settings):
    settings.DATA_UPLOAD_MAX_MEMORY_SIZE = 1 << 20
    response = owner_client.post("/bench/sign-in/", {"username": "x" * (2 << 20)})
    assert response.status_code == 413
    assert "what you typed is still in the form" in response.content.decode()
    assert not any(is_hop_by_hop(name) for name in response.headers), "a server may refuse such a header (PEP 3333)"
    assert_policies(response)


def test_too_many_fields_get_the_same_page(stranger_client, settings):
    settings.DATA_UPLOAD_MAX_NUMBER_FIELDS = 10
    response = stranger_client.post("/bench/sign-in/", {f"field{number}": "1" for number in range(20)})
    assert response.status_code == 413


def test_an_enormous_request_is_answered_before_it_is_parsed(stranger_client, settings):
    settings.MAX_STRANGER_BYTES = 1000
    response = stranger_client.post("/nowhere/", {"text": "x" * 2000})
    assert response.status_code == 413


def test_a_form_without_its_token_gets_a_plain_page():
    client = Client(enforce_csrf_checks=True)
    without_cookies = client.post("/bench/sign-in/", {"username": "owner"})
    client.cookies["wattfare_csrf"] = "a" * 32
    with_an_old_one = client.post("/bench/sign-in/", {"username": "owner"})
    assert (without_cookies.status_code, with_an_old_one.status_code) == (403, 403)
    assert "needs its cookie" in without_cookies.content.decode()
    assert "The form had expired" in with_an_old_one.content.decode()
    assert_policies(with_an_old_one)
    assert_nothing_inline(with_an_old_one)


@pytest.mark.parametrize("address", ["/bench/", "/bench/runs/", "/bench/prices/", "/bench/gear/", "/bench/recipes/new/"])
def test_a_signed_in_page_is_kept_by_no_shared_cache_and_no_search_engine(address, owner_client):
    response = owner_client.get(address)
    assert response.status_code == 200
    assert "private" in response.headers["Cache-Control"]
    assert "Cookie" in response.headers["Vary"]
    assert response.headers["X-Robots-Tag"] == "noindex"


@pytest.mark.parametrize("address", ["/kit/", "/nowhere/", "/r/nothing-of-that-name/", "/bench/sign-in/", "/bench/runs/"])
def test_what_a_stranger_gets_is_kept_by_no_shared_cache_either(address, stranger_client):
    response = stranger_client.get(address)
    assert "private" in response.headers["Cache-Control"]
    assert "no-store" in response.headers["Cache-Control"] or "Cookie" in response.headers["Vary"]
    assert ("X-Robots-Tag" in response.headers) == address.startswith("/bench/")


def test_what_a_view_says_about_keeping_stands():
    def kept(_request):
        return HttpResponse("", headers={"Cache-Control": "public, max-age=60"})

    assert Keeping(kept)(RequestFactory().get("/photos/x.jpg")).headers["Cache-Control"] == "public, max-age=60"


@pytest.mark.parametrize("value", ['"abcdefghijklmnop\\000"', "abcdefghijklmnop\0"])
def test_a_cookie_with_a_null_character_is_nobodys(value, stranger_client):
    response = stranger_client.get("/bench/", headers={"cookie": f"wattfare_session={value}"})
    assert (response.status_code, response.headers["Location"]) == (302, "/bench/sign-in/?next=/bench/")


@pytest.mark.parametrize(
    ("error", "status", "words"),
    [
        (IntegrityError("UNIQUE"), 409, "saved twice at once"),
        (OperationalError("database is locked"), 503, "cannot be reached now"),
    ],
)
def test_a_save_that_crossed_another_gets_a_page_with_the_way_back(error, status, words, owner_client, monkeypatch):
    def fail(**_given):
        raise error

    monkeypatch.setattr("kitchen.views.foods.add_food", fail)
    response = owner_client.post("/bench/foods/new/", {"name": "moon beans", "refuse_pct": "0"})
    assert response.status_code == status
    page = response.content.decode()
    assert words in page
    assert "what you typed is still" in page
    assert_policies(response)
    assert_nothing_inline(response)


def test_the_page_for_a_database_that_is_away_asks_it_nothing(django_assert_num_queries):
    with django_assert_num_queries(0):
        assert database_busy(RequestFactory().get("/")).status_code == 503
        assert server_error(RequestFactory().get("/")).status_code == 500


def faults_below(middleware, depth):
    """Count the pages of memory that a thousand small calls ask for, so many calls below a middleware."""

    def small():
        return None

    def loop(_request):
        before = resource.getrusage(resource.RUSAGE_THREAD).ru_minflt
        for _ in range(1000):
            small()
        return resource.getrusage(resource.RUSAGE_THREAD).ru_minflt - before

    def deep(left):
        return deep(left - 1) if left else middleware(loop)(None)

    return deep(depth)


def test_no_depth_of_calls_makes_each_further_call_ask_for_memory():
    depths = range(0, 400)
    assert max(faults_below(lambda view: view, depth) for depth in depths) > 900, "this Python has no such edge any more"
    assert max(faults_below(RoomyStack, depth) for depth in depths) < 100
