"""Who may do what: the owner, cooks, helpers who only record; accounts that are closed, and the owner who is locked out."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from io import StringIO

import pytest
from django.contrib.auth.models import User
from django.contrib.sessions.models import Session
from django.core.management import CommandError, call_command
from django.test import Client
from django.urls import reverse

from energy.meters.operations.devices import admit_device, make_device
from energy.models import Meter, Run
from kitchen.models import Change, Recipe
from kitchen.operations import close_account, cook_link, set_helper
from kitchen.operations.journal import Hand
from tests.house.bench_of_everything import addresses, furnish

pytestmark = pytest.mark.django_db
DOOR = "/bench/sign-in/"


@pytest.fixture
def helper(other_cook, owner, noon):
    set_helper(cook=other_cook, helps=True, by=Hand(owner, noon))
    return other_cook


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    return furnish(owner, other_cook, noon)


OPEN_TO_HELPERS = {
    *(
        "kitchen:bench",
        "kitchen:kitchen",
        "kitchen:password",
        "kitchen:password-changed",
        "kitchen:sign-in",
        "kitchen:sign-out",
        "kitchen:join",
    ),
    *("energy:cook-start", "energy:recipe-along", "energy:desk", "energy:device", "energy:run-new", "energy:log-sheet"),
    *("energy:runs", "energy:run", "energy:run-rows", "energy:run-rows-undo", "energy:run-picture", "energy:run-stages"),
    *("energy:reading-add", "energy:reading-edit", "energy:reading-remove", "energy:reading-put-back", "energy:stage-next"),
    *("energy:run-finish", "energy:api-readings", "energy:api-session", "energy:api-cook", "energy:api-run", "energy:api-live"),
    *("energy:api-photo", "energy:api-event", "energy:api-reading", "kitchen:tables-sign-out"),
}


def test_a_helper_meets_a_closed_door_wherever_no_cook_is_recorded(kitchen, helper, other_client):
    closed = [one for one in addresses(kitchen) if one.path.startswith(("/bench/", "/api/")) and one.name not in OPEN_TO_HELPERS]
    assert len(closed) > 60
    for door in closed:
        for method in ("get", "post", "put", "delete"):
            assert getattr(other_client, method)(door.path).status_code == 403, (door, method)
    assert "This account records cooks" in other_client.get("/bench/prices/").content.decode()


def test_a_helper_starts_and_records_a_cook_of_any_recipe_and_sees_those_runs_alone(kitchen, helper, other_client):
    page = other_client.get("/bench/").content.decode()
    slug = kitchen.recipe.slug
    assert reverse("energy:cook-start", args=[slug]) in page
    links = re.findall(r'href="(/bench/[^"]*)"', page)
    assert {other_client.get(link).status_code for link in set(links)} == {200}
    foreign = Run.objects.get()
    assert other_client.get(reverse("energy:run", args=[foreign.pk])).status_code == 404
    form = other_client.get(reverse("energy:cook-start", args=[slug])).content.decode()
    values = dict(re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)"', form))
    gear = {name: kitchen.values[f"{name}s"] for name in ("appliance", "source", "meter")}
    answer = other_client.post(reverse("energy:cook-start", args=[slug]), values | gear | {"servings": "4", "altitude_m": "0"})
    run = Run.objects.exclude(pk=foreign.pk).get()
    assert (answer.status_code, run.operator) == (302, helper)
    assert other_client.get(reverse("energy:desk", args=[run.pk])).status_code == 200
    assert other_client.get(reverse("energy:run", args=[run.pk])).status_code == 200
    assert other_client.get(f"/api/v1/runs/{run.pk}").status_code == 200
    assert other_client.post(reverse("energy:run-remove", args=[run.pk])).status_code == 403
    assert other_client.post(reverse("energy:run-verdict", args=[run.pk]), {"verdict": "left_out"}).status_code == 403


def test_a_helper_on_the_wire_is_told_in_json(kitchen, helper, other_client):
    key = "6f0b1f5e-7d2b-4a59-8f3d-0b7c2f3f1a11"
    gear = {name: kitchen.values[f"{name}s"] for name in ("appliance", "source", "meter")}
    now = datetime.now(UTC).isoformat()
    said = {"recipe": kitchen.recipe.slug, **gear, "started_at": now, "sent_at": now}
    answer = other_client.put(f"/api/v1/cooks/{key}", said, content_type="application/json")
    assert answer.status_code == 201, answer.json()
    other = Run.objects.exclude(once=key).get()
    assert other_client.get(f"/api/v1/runs/{other.pk}").status_code == 404


def test_the_owner_makes_a_helper_and_a_cook_of_somebody(owner_client, other_cook, other_client):
    address = reverse("kitchen:cook", args=[other_cook.pk])
    assert other_client.get("/bench/foods/").status_code == 200
    owner_client.post(address, {"do": "helper"})
    assert other_client.get("/bench/foods/").status_code == 403
    assert "Let them write" in owner_client.get(address).content.decode()
    owner_client.post(address, {"do": "helper"})
    owner_client.post(address, {"do": "cook"})
    assert other_client.get("/bench/foods/").status_code == 200
    assert [change.done for change in Change.objects.all()] == ["cook", "helper"]
    assert owner_client.post(address, {"do": "own the place"}).status_code == 302
    assert Change.objects.count() == 2


def test_a_closed_account_ends_everywhere_and_what_it_wrote_stays(owner_client, other_cook, other_client, noon):
    Recipe.objects.create(slug="stew", title="Stew", owner=other_cook, created_at=noon, updated_at=noon)
    phone = Client()
    phone.force_login(other_cook)
    link = cook_link(cook=other_cook)
    _, token = make_device(meter=Meter.objects.create(name="Plug"), name="plug", by=other_cook, at=noon)
    held = Session.objects.count()
    owner_client.post(reverse("kitchen:cook", args=[other_cook.pk]), {"do": "close"})
    assert Session.objects.count() == held - 2
    assert {client.get("/bench/").status_code for client in (phone, other_client)} == {302}
    assert admit_device(token=token, at=noon) is None
    assert Client().get(f"/bench/join/{link.uid}/{link.token}/").status_code == 410
    answer = Client().post(DOOR, {"username": "other", "password": "pan-rim-ladle"})
    assert "do not belong together" in answer.content.decode()
    assert Recipe.objects.get().owner == other_cook
    assert "closed" in owner_client.get("/bench/cooks/").content.decode()
    assert owner_client.post(reverse("kitchen:cook-link", args=[other_cook.pk])).status_code == 404


def test_a_closed_account_is_opened_again_with_a_new_link(owner, owner_client, other_cook, noon):
    phone = Client()
    phone.force_login(other_cook)
    close_account(cook=other_cook, by=Hand(owner, noon))
    owner_client.post(reverse("kitchen:cook", args=[other_cook.pk]), {"do": "open"})
    assert phone.get("/bench/").status_code == 302, "an old session stays ended"
    (path,) = re.findall(r"http://testserver(/bench/join/[^\"]+)", owner_client.get("/bench/cooks/").content.decode())
    said = {"password": "frost lantern spoon", "again": "frost lantern spoon"}
    assert Client().post(path, said).status_code == 302
    assert [change.done for change in Change.objects.all()] == ["password", "link", "opened", "closed"]


def test_the_owner_cannot_be_closed_or_made_a_helper(owner, owner_client, other_client):
    for client in (owner_client, other_client):
        assert client.post(reverse("kitchen:cook", args=[owner.pk]), {"do": "close"}).status_code == 404
    assert User.objects.get(pk=owner.pk).is_active


def recovery(*more):
    out = StringIO()
    call_command("first_link", "--recover", *more, stdout=out)
    return out.getvalue().strip().removeprefix("http://127.0.0.1:8000")


def test_the_owner_who_is_locked_out_comes_in_by_a_link_from_the_command_line(owner, owner_client):
    link = recovery()
    said = {"password": "frost lantern spoon", "again": "frost lantern spoon"}
    fresh = Client()
    assert fresh.post(link, said).headers["Location"] == "/bench/"
    assert fresh.get("/bench/cooks/").status_code == 200
    assert owner_client.get("/bench/").status_code == 302, "sessions with the old password end"
    assert Client().post(link, said).status_code == 410
    assert [(change.done, change.by_name) for change in Change.objects.all()] == [("password", "owner"), ("link", "")]


def test_a_recovery_without_or_with_several_owners_says_what_to_do(db):
    with pytest.raises(CommandError, match="Nobody runs this kitchen yet"):
        recovery()
    for name in ("ines", "bo"):
        User.objects.create_superuser(name, password="x")
    with pytest.raises(CommandError, match=r"--recover NAME\. These run the kitchen: ines, bo"):
        recovery()
    assert recovery("bo").startswith("/bench/join/")
