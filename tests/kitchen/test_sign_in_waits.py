"""Wrong passwords cost time: by account and by address, at both doors, and never the cook on a device of their own."""

import datetime
import json
import logging
import re
import threading
from ipaddress import ip_network
from pathlib import Path

import pytest
from django.contrib.auth.models import User
from django.db import connection
from django.test import Client
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from kitchen.domain.client_address import origin_of
from kitchen.domain.sign_in_waits import FORGOTTEN_AFTER, FREE, LONGEST_WAIT_S, wait_left_s
from kitchen.models import SignInLane
from kitchen.operations import cook_link, sign_ins
from kitchen.operations.sign_ins import Comer, TooSoon, try_password
from kitchen.operations.turns import Busy, Turns

DOOR = "/bench/sign-in/"
RIGHT = {"username": "owner", "password": "pot-lid-spoon"}
WRONG = {"username": "owner", "password": "not-this-one"}
TOP = Path(__file__).resolve().parents[2]


def guess(client, times, **more):
    """Try a wrong password so often and return the last answer."""
    return [client.post(DOOR, WRONG, **more) for _ in range(times)][-1]


def test_the_account_waits_after_a_few_wrong_passwords_and_the_page_says_how_long(owner):
    stranger = Client()
    assert guess(stranger, FREE["account"]).status_code == 200
    answer = stranger.post(DOOR, RIGHT)
    assert answer.status_code == 429
    assert 1 <= int(answer.headers["Retry-After"]) <= 5
    page = answer.content.decode()
    assert re.search(r"Wait \d seconds?, then try once more", page)
    assert 'value="owner"' in page
    assert "_auth_user_id" not in stranger.session


def test_the_wait_ends_and_the_right_password_clears_it(owner, monkeypatch):
    stranger, now = Client(), timezone.now()
    guess(stranger, FREE["account"])
    monkeypatch.setattr("kitchen.forms.accounts.timezone.now", lambda: now + datetime.timedelta(seconds=60))
    assert stranger.post(DOOR, RIGHT).status_code == 302
    assert not SignInLane.objects.filter(kind="account").exists()


def test_an_address_waits_whatever_names_it_tries(owner):
    stranger = Client()
    for number in range(FREE["address"]):
        stranger.post(DOOR, {"username": f"cook{number}", "password": "x"})
    assert stranger.post(DOOR, {"username": "another", "password": "x"}).status_code == 429
    assert Client(REMOTE_ADDR="198.51.100.9").post(DOOR, {"username": "another", "password": "x"}).status_code == 200


def test_a_known_device_keeps_its_own_lane(owner):
    own = Client()
    assert own.post(DOOR, RIGHT).status_code == 302
    own.post("/bench/sign-out/")
    guess(Client(), 30)
    assert Client().post(DOOR, RIGHT).status_code == 429
    assert own.post(DOOR, RIGHT).status_code == 302


def test_a_known_device_is_known_to_its_own_cook_alone_and_waits_for_its_own_mistakes(owner, other_cook):
    own = Client()
    own.post(DOOR, {"username": "other", "password": "pan-rim-ladle"})
    own.post("/bench/sign-out/")
    assert guess(own, FREE["account"] + 1).status_code == 429
    wrong = {"username": "other", "password": "x"}
    assert {own.post(DOOR, wrong).status_code for _ in range(FREE["device"])} == {200}
    assert own.post(DOOR, wrong).status_code == 429


def test_a_made_up_device_is_unknown(owner):
    stranger = Client()
    stranger.cookies["wattfare_device"] = json.dumps({str(owner.pk): "x"})
    assert guess(stranger, FREE["account"] + 1).status_code == 429


def test_the_tables_have_no_door_of_their_own(owner, other_client):
    stranger = Client()
    assert stranger.get("/bench/tables/").status_code == 302
    answer = stranger.post("/bench/tables/login/?next=/bench/tables/", {**RIGHT, "next": "/bench/tables/"})
    assert answer.headers["Location"] == "/bench/sign-in/?next=/bench/tables/"
    assert "_auth_user_id" not in stranger.session
    back = stranger.post(DOOR, RIGHT | {"next": "/bench/tables/"})
    assert back.headers["Location"] == "/bench/tables/"
    assert stranger.get("/bench/tables/").status_code == 200
    assert other_client.get("/bench/tables/login/").status_code == 404


def test_an_address_behind_a_trusted_proxy_is_believed_and_no_other(owner, settings):
    settings.TRUSTED_PROXIES = [ip_network("10.0.0.0/8")]
    proxied = {"REMOTE_ADDR": "10.0.0.1"}
    for number in range(FREE["address"]):
        Client().post(DOOR, {"username": f"c{number}", "password": "x"}, headers={"x-forwarded-for": "203.0.113.1"}, **proxied)
    said = {"username": "new", "password": "x"}
    same = Client().post(DOOR, said, headers={"x-forwarded-for": "198.51.100.7, 203.0.113.1"}, **proxied)
    other = Client().post(DOOR, said, headers={"x-forwarded-for": "203.0.113.2"}, **proxied)
    assert (same.status_code, other.status_code) == (429, 200)
    for number in range(FREE["address"]):
        forged = {"x-forwarded-for": f"192.0.2.{number}"}
        Client().post(DOOR, {"username": f"d{number}", "password": "x"}, headers=forged, REMOTE_ADDR="203.0.113.50")
    forged = Client().post(DOOR, said, headers={"x-forwarded-for": "192.0.2.200"}, REMOTE_ADDR="203.0.113.50")
    assert forged.status_code == 429


def test_one_ipv6_network_is_one_address(owner):
    for number in range(FREE["address"]):
        Client(REMOTE_ADDR=f"2001:db8:1:2::{number + 1:x}").post(DOOR, {"username": f"c{number}", "password": "x"})
    said = {"username": "new", "password": "x"}
    assert Client(REMOTE_ADDR="2001:db8:1:2:ffff::1").post(DOOR, said).status_code == 429
    assert Client(REMOTE_ADDR="2001:db8:1:3::1").post(DOOR, said).status_code == 200


@given(st.lists(st.text(max_size=40), max_size=6), st.text(max_size=60))
def test_no_header_breaks_the_address(hops, remote):
    found = origin_of(remote, ",".join(hops), [ip_network("0.0.0.0/0"), ip_network("::/0")])
    assert found.address


@given(st.integers(0, 10**6), st.integers(-(10**6), 10**6))
def test_nobody_waits_longer_than_the_longest_wait_whatever_the_clock_does(failures, since_s):
    at = datetime.datetime(2026, 10, 14, tzinfo=datetime.UTC)
    for kind in FREE:
        assert 0 <= wait_left_s(kind, failures, at - datetime.timedelta(seconds=since_s), at) <= LONGEST_WAIT_S


def test_mistakes_are_forgotten_after_a_day_and_their_rows_go(owner, noon):
    comer = Comer(origin_of("203.0.113.9", "", ()))
    for _ in range(FREE["account"]):
        assert try_password(name="owner", password="x", comer=comer, at=noon) is None
    with pytest.raises(TooSoon):
        try_password(name="owner", password="pot-lid-spoon", comer=comer, at=noon)
    later = noon + FORGOTTEN_AFTER + datetime.timedelta(seconds=1)
    assert try_password(name="bo", password="x", comer=Comer(origin_of("203.0.113.10", "", ())), at=later) is None
    assert SignInLane.objects.count() == 2


@pytest.mark.django_db(transaction=True)
def test_tries_at_once_are_counted_one_by_one():
    User.objects.create_user("bo", password="spoon-lantern")
    comer, at, ends = Comer(origin_of("203.0.113.9", "", ())), timezone.now(), []

    def go():
        try:
            ends.append(try_password(name="bo", password="x", comer=comer, at=at))
        except (TooSoon, Busy) as refused:
            ends.append(type(refused))
        finally:
            connection.close()

    threads = [threading.Thread(target=go) for _ in range(20)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert ends.count(None) <= FREE["account"]
    assert len(ends) == 20


def test_a_full_queue_is_told_and_counts_nothing(owner, monkeypatch):
    full = Turns(at_once=1, waiting=0, longest_s=0.01, again_s=5)
    monkeypatch.setattr(sign_ins, "PASSWORDS_OF_STRANGERS", full)
    own = Client()
    with full.turn():
        answer = Client().post(DOOR, RIGHT)
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "5")
    assert "nothing was wrong with what you typed" in answer.content.decode()
    assert not SignInLane.objects.filter(failures__gt=0).exists()
    own.post(DOOR, RIGHT)
    own.post("/bench/sign-out/")
    with full.turn():
        assert own.post(DOOR, RIGHT).status_code == 302


def fail2ban_patterns():
    """Return the patterns of the filter, with what stands for an address put in (fail2ban's own <HOST>, from memory)."""
    text = (TOP / "deploy" / "fail2ban" / "filter.conf").read_text("utf-8")
    host = r"(?:(?:::f{4,6}:)?(?P<ip4>(?:\d{1,3}\.){3}\d{1,3})|(?P<ip6>[0-9a-fA-F:]+))"
    return [re.compile(line.replace("<HOST>", host)) for line in re.findall(r"failregex = (.+)", text)]


@pytest.mark.parametrize(
    "name",
    [
        "owner",
        'x" address=192.0.2.1 account="y',
        'a\nsign-in refused: address=192.0.2.1 account="b"',
        "\u202e\x1b[31m",
        "x" * 5000,
    ],
)
def test_a_failed_try_is_one_line_that_the_filter_reads(name, caplog, db):
    log = logging.getLogger("wattfare.sign_in")
    log.addHandler(caplog.handler)
    try:
        try_password(name=name, password="secret-word", comer=Comer(origin_of("203.0.113.9", "", ())), at=timezone.now())
    finally:
        log.removeHandler(caplog.handler)
    (said,) = [record.getMessage() for record in caplog.records if record.name == "wattfare.sign_in"]
    assert "\n" not in said
    assert said.isascii()
    assert said.isprintable()
    assert "secret-word" not in said
    assert len(said) < 700
    found = [match for pattern in fail2ban_patterns() if (match := pattern.search(f"2026-12-01 06:00:00,000 WARNING x: {said}"))]
    assert [match["ip4"] for match in found] == ["203.0.113.9"]


@pytest.mark.parametrize("password", ["password123", "1234567890", "short"])
def test_a_password_that_everybody_tries_is_refused(password, db):
    cook = User.objects.create_user("bo")
    link = cook_link(cook=cook)
    page = Client().post(f"/bench/join/{link.uid}/{link.token}/", {"password": password, "again": password}).content.decode()
    assert re.search("too common|too short", page)


@pytest.mark.parametrize("password", ["my-ines-is-here", "INES owns kettles", "ｉｎｅｓ lantern frost"])
def test_a_password_that_holds_the_name_is_refused(password, db):
    cook = User.objects.create_user("ines")
    link = cook_link(cook=cook)
    page = Client().post(f"/bench/join/{link.uid}/{link.token}/", {"password": password, "again": password})
    assert "Your name stands in this password" in page.content.decode()
    cook.refresh_from_db()
    assert not cook.has_usable_password()


def test_a_new_password_by_link_waits_for_nobodys_mistakes(owner, other_cook):
    for _ in range(FREE["account"] + 3):
        Client(REMOTE_ADDR="198.51.100.1").post(DOOR, {"username": "other", "password": "x"})
    link = cook_link(cook=other_cook)
    said = {"password": "frost lantern spoon", "again": "frost lantern spoon"}
    assert Client().post(f"/bench/join/{link.uid}/{link.token}/", said).status_code == 302
    assert Client().post(DOOR, {"username": "other", "password": "frost lantern spoon"}).status_code == 302


def test_whoever_sits_at_an_open_page_does_not_guess_the_old_password_for_long(owner):
    phone = Client()
    phone.post(DOOR, RIGHT)
    new = {"new_password1": "frost lantern spoon", "new_password2": "frost lantern spoon"}
    for _ in range(FREE["device"]):
        assert "incorrect" in phone.post("/bench/password/", {"old_password": "x", **new}).content.decode()
    assert "Too many wrong passwords" in phone.post("/bench/password/", {"old_password": "pot-lid-spoon", **new}).content.decode()
    owner.refresh_from_db()
    assert owner.check_password("pot-lid-spoon")
