"""Every named address has a door: what the owner, another cook and a stranger meet there, with each method."""

from __future__ import annotations

import pytest
from django.test import Client

from tests.house.bench_of_everything import Address, addresses, furnish

METHODS = ("get", "post", "put", "delete")
OPEN_TO_STRANGERS = {
    "kitchen:library",
    "kitchen:recipe",
    "kitchen:recipe-for",
    "kitchen:card-pdf",
    "kitchen:editions",
    "kitchen:edition",
    "kitchen:healthz",
    "kitchen:readyz",
    "kitchen:start",
    "kitchen:sign-in",
    "kitchen:sign-out",
    "kitchen:join",
    "kitchen:photo-file",
    "energy:how-measured",
    "energy:method",
}
OWNERS_ALONE = {
    "kitchen:cooks",
    "kitchen:cook-link",
    "kitchen:site-settings",
    "kitchen:archive",
    "kitchen:archive-pack",
    "kitchen:archive-unpack",
}


@pytest.fixture
def doors(owner, other_cook, noon, settings, tmp_path) -> list[Address]:
    settings.MEDIA_ROOT = tmp_path
    return addresses(furnish(owner, other_cook, noon))


def asked(client: Client, address: Address) -> dict[str, int]:
    """Ask an address with every method, sending nothing, and return what it answered."""
    client.raise_request_exception = False
    return {method: getattr(client, method)(address.path).status_code for method in METHODS}


def is_of_a_recipe(address: Address) -> bool:
    """Whether an address shows something that belongs to one cook's recipe."""
    inside = address.path.startswith(("/bench/recipes/", "/bench/runs/"))
    return inside and address.name not in {"kitchen:recipe-new", "kitchen:recipe-import", "energy:runs"}


def test_a_stranger_is_sent_to_sign_in_from_every_page_of_the_bench(doors, stranger_client):
    inside = [door for door in doors if door.name not in OPEN_TO_STRANGERS]
    assert len(inside) > 50
    for door in inside:
        assert door.path.startswith("/bench/"), door
        for method in ("get", "post"):
            answer = getattr(stranger_client, method)(door.path)
            assert (answer.status_code, answer.headers["Location"].startswith("/bench/sign-in/?next=")) == (302, True), door


def test_nothing_outside_the_bench_changes_for_a_stranger(doors, stranger_client):
    for door in doors:
        if door.name in OPEN_TO_STRANGERS:
            answers = asked(stranger_client, door)
            assert max(answers.values()) < 500, (door, answers)
            changing = {answers["delete"]} if door.name == "kitchen:sign-in" else {answers["put"], answers["delete"]}
            assert changing <= {302, 404, 405, 410}, (door, answers)  # signing in takes a PUT as a POST: it is the framework's


def test_another_cook_finds_no_recipe_or_run_of_the_owner(doors, other_client):
    foreign = [door for door in doors if is_of_a_recipe(door)]
    assert len(foreign) > 25
    for door in foreign:
        answers = asked(other_client, door)
        assert set(answers.values()) <= {404, 405}, (door, answers)
        assert 404 in answers.values(), (door, answers)


def test_the_house_itself_is_the_owners_alone(doors, other_client):
    for door in doors:
        if door.name in OWNERS_ALONE:
            assert set(asked(other_client, door).values()) <= {403, 404, 405}, door


def test_no_door_breaks_for_the_owner(doors, owner_client):
    owner_client.raise_request_exception = False
    for door in doors:
        assert owner_client.get(door.path).status_code < 500, door
