"""The first start, cooks and their links, signing in and out."""

import datetime
import re
import threading
from io import StringIO

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.db import connection
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from kitchen.models import Recipe, Site
from kitchen.operations import LinkIsDead, first_link_token, make_owner

START = {
    "name": "ines",
    "password": "lid kettle moonrise",
    "again": "lid kettle moonrise",
    "kitchen_name": "Fernhollow dark-site kitchen",
    "currency": "eur",
    "time_zone": "Pacific/Auckland",
}


def printed_link():
    out = StringIO()
    call_command("first_link", address="http://kitchen.example/", stdout=out)
    link = out.getvalue().strip()
    assert link.startswith("http://kitchen.example/start/")
    return link.removeprefix("http://kitchen.example")


@pytest.mark.django_db
def test_the_first_link_makes_the_owner_and_comes_in(client):
    link = printed_link()
    assert client.get(link).status_code == 200
    answer = client.post(link, START)
    assert answer.headers["Location"] == "/bench/gear/"
    owner = User.objects.get()
    assert owner.is_superuser
    assert owner.check_password("lid kettle moonrise")
    site = Site.objects.get()
    assert (site.name, site.currency, site.time_zone) == ("Fernhollow dark-site kitchen", "EUR", "Pacific/Auckland")
    assert "An empty kitchen" in client.get("/bench/").content.decode()


@pytest.mark.django_db
def test_recipes_that_are_here_keep_the_currency_of_their_prices(client, noon):
    """The example's prices add to nothing in the currency that a browser would propose."""
    link = printed_link()
    assert "data-stands" not in client.get(link).content.decode()
    Site.objects.create(pk=1, currency="AUD")
    somebody = User.objects.create_user("example")
    Recipe.objects.create(owner=somebody, title="Pot", slug="pot", created_at=noon, updated_at=noon)
    html = client.get(link).content.decode()
    assert "have their prices in AUD" in html
    assert re.search(r'<input(?=[^>]*name="currency")(?=[^>]*value="AUD")[^>]*data-stands', html)


@pytest.mark.django_db
def test_a_used_link_is_dead_and_says_what_to_do(client):
    link = printed_link()
    client.post(link, START)
    answer = Client().post(link, START | {"name": "second"})
    assert answer.status_code == 410
    assert "This link has done its work" in answer.content.decode()
    assert User.objects.count() == 1
    with pytest.raises(CommandError, match="made already"):
        call_command("first_link")


@pytest.mark.django_db
def test_an_old_or_broken_link_is_dead(client):
    old = first_link_token(at=timezone.now() - datetime.timedelta(days=1, minutes=1))
    answer = client.get(reverse("kitchen:start", args=[old]))
    assert answer.status_code == 410
    assert "more than a day old" in answer.content.decode()
    assert "not whole" in client.get("/start/abc:def:ghi/").content.decode()
    assert client.get("/start/abc/").status_code == 410


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("field", "typed", "sentence"),
    [
        ("name", "two words", "no spaces"),
        ("name", "", "Choose a name"),
        ("password", "short", "too short"),
        ("again", "something else here", "The two passwords differ"),
        ("kitchen_name", "", "Give the kitchen a name"),
        ("currency", "euro", "three letters"),
        ("currency", "€", "three letters"),
        ("currency", "ABC", "“ABC” is no currency that is in use (ISO 4217)"),
        ("time_zone", "Europe/Fernhollow", "Select a valid choice"),
    ],
)
def test_a_bad_first_form_is_said_beside_its_field(client, field, typed, sentence):
    said = START | {field: typed}
    if field == "password":
        said["again"] = typed
    html = client.post(printed_link(), said).content.decode()
    assert sentence in html
    assert not User.objects.exists()
    if field != "kitchen_name":
        assert "Fernhollow dark-site kitchen" in html


@pytest.mark.django_db(transaction=True)
def test_of_two_people_with_the_link_one_becomes_the_owner():
    at = timezone.now()
    token = first_link_token(at=at)
    made, dead = [], []

    def go(name):
        try:
            made.append(make_owner(token=token, username=name, password="x", site={"name": "K"}, at=at))
        except LinkIsDead:
            dead.append(name)
        finally:
            connection.close()

    threads = [threading.Thread(target=go, args=[name]) for name in ("ines", "bo")]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert (len(made), len(dead), User.objects.filter(is_superuser=True).count()) == (1, 1, 1)


@pytest.mark.django_db
def test_sign_in_leads_back_and_sign_out_needs_a_post(client, owner):
    asked = client.get("/bench/foods/?q=egg")
    assert asked.headers["Location"] == "/bench/sign-in/?next=/bench/foods/%3Fq%3Degg"
    html = client.post("/bench/sign-in/", {"username": "owner", "password": "wrong"}).content.decode()
    assert "do not belong together" in html
    assert 'value="owner"' in html
    answer = client.post("/bench/sign-in/", {"username": "owner", "password": "pot-lid-spoon", "next": "/bench/foods/?q=egg"})
    assert answer.headers["Location"] == "/bench/foods/?q=egg"
    assert client.get("/bench/sign-out/").status_code == 405
    assert client.post("/bench/sign-out/").headers["Location"] == "/"
    assert client.get("/bench/").status_code == 302


@pytest.mark.django_db
def test_sign_in_leads_to_no_other_site(client, owner):
    said = {"username": "owner", "password": "pot-lid-spoon", "next": "https://elsewhere.example/"}
    assert client.post("/bench/sign-in/", said).headers["Location"] == "/bench/"


def fresh_link(client):
    return re.search(r"http://testserver(/bench/join/[^\"]+)", client.get("/bench/cooks/").content.decode())[1]


@pytest.mark.django_db
def test_another_cook_comes_in_by_a_link_that_works_once(owner_client):
    assert owner_client.post("/bench/cooks/", {"name": "bo"}).status_code == 302
    link = fresh_link(owner_client)
    assert "join" not in owner_client.get("/bench/cooks/").content.decode()
    cook = Client()
    assert "You sign in as" in cook.get(link).content.decode()
    differing = cook.post(link, {"password": "spoon lantern frost", "again": "spoon"})
    assert "The two passwords differ" in differing.content.decode()
    said = {"password": "spoon lantern frost", "again": "spoon lantern frost"}
    assert cook.post(link, said).headers["Location"] == "/bench/"
    assert not User.objects.get(username="bo").is_superuser
    assert Client().post(link, said).status_code == 410
    assert "used already" in Client().get(link).content.decode()


@pytest.mark.django_db
def test_a_new_link_makes_a_lost_password_new_but_never_the_owner_s(owner_client, owner, other_cook):
    assert owner_client.post(reverse("kitchen:cook-link", args=[other_cook.pk])).status_code == 302
    assert Client().get(fresh_link(owner_client)).status_code == 200
    assert owner_client.post(reverse("kitchen:cook-link", args=[owner.pk])).status_code == 404


@pytest.mark.django_db
@pytest.mark.parametrize(("name", "sentence"), [("OTHER", "Somebody else signs in"), ("a b", "no spaces"), ("", "Choose a name")])
def test_a_bad_name_for_a_cook_is_refused(owner_client, other_cook, name, sentence):
    assert sentence in owner_client.post("/bench/cooks/", {"name": name}).content.decode()
    assert User.objects.count() == 2


@pytest.mark.django_db
@pytest.mark.parametrize("link", ["/bench/join/MQ/x/", "/bench/join/%F0%9F%8D%B2/x/", "/bench/join/OTk5/x-y/"])
def test_a_made_up_link_is_dead(client, link):
    assert client.get(link).status_code == 410


@pytest.mark.django_db
def test_a_cook_changes_the_password(other_client, other_cook):
    said = {"old_password": "wrong", "new_password1": "frost spoon lantern", "new_password2": "frost spoon lantern"}
    assert "incorrect" in other_client.post("/bench/password/", said).content.decode()
    other_client.post("/bench/password/", said | {"old_password": "pan-rim-ladle"})
    other_cook.refresh_from_db()
    assert other_cook.check_password("frost spoon lantern")
    assert other_client.get("/bench/").status_code == 200


@pytest.mark.django_db
def test_the_owner_cannot_take_the_name_of_a_cook_who_is_there_already(client):
    User.objects.create_user("fernhollow")
    answer = client.post(printed_link(), START | {"name": "Fernhollow"})
    assert answer.status_code == 200
    page = answer.content.decode()
    assert "Somebody else signs in under this name" in page
    assert 'value="Fernhollow"' in page
    assert not User.objects.filter(is_superuser=True).exists()


@pytest.mark.django_db
def test_a_name_that_grows_in_its_one_spelling_is_refused_beside_its_field(owner_client):
    answer = owner_client.post(reverse("kitchen:cooks"), {"name": "\ufb03" * 60})
    assert answer.status_code == 200
    assert "at most 150 characters" in answer.content.decode()
    assert User.objects.count() == 1
