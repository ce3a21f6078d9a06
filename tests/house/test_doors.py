"""Every named address has a door: what the owner, another cook and a stranger meet there, with each method."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test import Client

from tests.house.bench_of_everything import Address, addresses, furnish

METHODS = ("get", "post", "put", "delete")
OPEN_TO_STRANGERS = {
    "kitchen:library",
    "kitchen:recipe",
    "kitchen:recipe-for",
    "kitchen:card-pdf",
    "kitchen:print",
    "kitchen:cook-by",
    "kitchen:kit",
    "kitchen:kit-pass-on",
    "kitchen:robots",
    "kitchen:sitemap",
    "kitchen:sitemap-part",
    "kitchen:manifest",
    "kitchen:favicon",
    "kitchen:recipe-json",
    "kitchen:share",
    "kitchen:recipe-schema",
    "kitchen:collections",
    "kitchen:collection",
    "kitchen:collection-feed",
    "kitchen:collection-json",
    "kitchen:collection-file",
    "kitchen:recipe-file",
    "kitchen:library-json",
    "kitchen:saved",
    "kitchen:collection-deck",
    "kitchen:collection-deck-made",
    "kitchen:collection-deck-pdf",
    "kitchen:decks",
    "kitchen:deck-choose",
    "kitchen:deck-progress",
    "kitchen:deck",
    "kitchen:deck-made",
    "kitchen:deck-pdf",
    "kitchen:embed",
    "kitchen:oembed",
    "kitchen:feed",
    "kitchen:tag-feed",
    "kitchen:cook-feed",
    "kitchen:editions",
    "kitchen:edition",
    "kitchen:healthz",
    "kitchen:readyz",
    "kitchen:start",
    "kitchen:sign-in",
    "kitchen:sign-out",
    "kitchen:tables-sign-out",
    "kitchen:join",
    "kitchen:photo-file",
    "energy:how-measured",
    "energy:method",
    "energy:runs-csv",
    "energy:recipe-picture",
    "energy:recipe-strip-svg",
    "energy:recipe-strip-png",
    "energy:recipe-ladder-svg",
    "energy:recipe-ladder-png",
    "energy:api-session",
    "energy:desk-shell",
    "energy:offline",
    "energy:worker",
}
WIRE = "/api/"
OWNERS_ALONE = {
    "kitchen:cooks",
    "kitchen:cook",
    "kitchen:cook-link",
    "kitchen:site-settings",
    "kitchen:archive",
    "kitchen:archive-pack",
    "kitchen:archive-unpack",
    "deploy:keeping",
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
    """Whether an address shows something that belongs to one cook's recipe or collection."""
    inside = address.path.startswith(("/bench/recipes/", "/bench/collections/", "/bench/runs/", "/api/v1/runs/"))
    return inside and address.name not in {
        "kitchen:recipe-new",
        "kitchen:recipe-import",
        "kitchen:collections-bench",
        "energy:runs",
    }


def test_a_stranger_is_sent_to_sign_in_from_every_page_of_the_bench(doors, stranger_client):
    inside = [door for door in doors if door.name not in OPEN_TO_STRANGERS and not door.path.startswith(WIRE)]
    assert len(inside) > 50
    for door in inside:
        assert door.path.startswith("/bench/"), door
        for method in ("get", "post"):
            answer = getattr(stranger_client, method)(door.path)
            assert (answer.status_code, answer.headers["Location"].startswith("/bench/sign-in/?next=")) == (302, True), door


def test_a_stranger_on_the_wire_is_told_so_in_json(doors, stranger_client):
    wire = [door for door in doors if door.path.startswith(WIRE) and door.name not in OPEN_TO_STRANGERS]
    assert len(wire) > 5
    for door in wire:
        for method in METHODS:
            answer = getattr(stranger_client, method)(door.path)
            assert answer.status_code in {401, 405}, (method, door)
            assert answer.json()["error"].endswith(".")


def test_nothing_outside_the_bench_changes_for_a_stranger(doors, stranger_client):
    for door in doors:
        if door.name in OPEN_TO_STRANGERS:
            answers = asked(stranger_client, door)
            assert max(answers.values()) < 500, (door, answers)
            assert {answers["put"], answers["delete"]} <= {302, 404, 405, 410}, (door, answers)


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


ODD_METHODS = ("head", "options", "put", "patch", "delete", "trace")
NONSENSE = (
    "\0",
    "a\0b",
    "😀" * 200,
    "\u202etxet",
    "מרק",
    "x" * 5000,
    "1e999",
    "-1",
    "nan",
    "1" + "0" * 30,
    "9" * 400,
    "٣",
    "[]",
    "",
)
ASKED = (
    *("q", "whose", "page", "sort", "tag", "only", "row", "aside", "name", "do", "next", "before", "after", "food", "recipe"),
    *("servings", "portion", "adults", "batches", "have", "measures", "rounding", "number", "version", "once", "kept", "text"),
)
TWICE_IS_FINE = {"kitchen:aside-forget", "kitchen:revision-undo"}  # what is gone already is gone: no more is said
WRONG_NUMBERS = ("0", "999999", "9" * 18, "9" * 25, "9" * 400)


def test_odd_methods_break_no_door(doors, owner_client):
    owner_client.raise_request_exception = False
    for door in doors:
        for method in ODD_METHODS:
            assert getattr(owner_client, method)(door.path).status_code < 500, (method, door)


def test_wrong_numbers_in_addresses_are_not_found(doors, owner_client):
    """A number that no row has is answered like any address that leads nowhere, however long it is."""
    owner_client.raise_request_exception = False
    numbered = [door for door in doors if re.search(r"/\d+/", door.path) and door.name not in TWICE_IS_FINE]
    assert len(numbered) > 20
    for door in numbered:
        for number in WRONG_NUMBERS:
            path = re.sub(r"/\d+/", f"/{number}/", door.path)
            answers = {owner_client.get(path).status_code, owner_client.post(path).status_code}
            assert answers <= {404, 405}, (path[:90], answers)


def test_what_is_gone_already_is_no_fault(doors, owner_client):
    gone = [door for door in doors if door.name in TWICE_IS_FINE]
    assert len(gone) == len(TWICE_IS_FINE)
    for door in gone:
        for number in WRONG_NUMBERS[:2]:
            answer = owner_client.post(re.sub(r"/\d+/", f"/{number}/", door.path))
            assert (answer.status_code, answer.headers["Location"].startswith("/bench/recipes/")) == (302, True), door


def test_nonsense_asked_for_twice_breaks_no_door(doors, owner_client, stranger_client):
    """Every word that an address may be asked with, sent twice and as nonsense, with and without script.

    A stranger asks where there is more than the way to the sign-in. Which word comes with script is the other way round on
    the other database.
    """
    kinds = [{}, {"HX-Request": "true"}]
    if connection.vendor != "sqlite":
        kinds.reverse()
    for client in (owner_client, stranger_client):
        client.raise_request_exception = False
        for place, door in enumerate(doors):
            if client is stranger_client and door.name not in OPEN_TO_STRANGERS:
                continue
            words = (NONSENSE[place % len(NONSENSE)], NONSENSE[(place * 5 + 3) % len(NONSENSE)])
            for word, headers in zip(words, kinds, strict=True):
                asked = {name: [word, word] for name in ASKED}
                assert client.get(door.path, asked, headers=headers).status_code < 500, (door, word[:20])


def test_a_stranger_with_an_endless_address_is_sent_to_sign_in(stranger_client):
    answer = stranger_client.get("/bench/foods/", {"q": "😀" * 5000})
    assert (answer.status_code, answer.headers["Location"]) == (302, "/bench/sign-in/?next=/bench/")
