"""Collections: made, put in order, undone, shown and taken back; whose they are; what readers and programs get."""

import json
from datetime import timedelta

import pytest
from django.test import Client

from kitchen.collected import Collection
from kitchen.models import Recipe
from kitchen.operations import publish_recipe
from kitchen.operations.collections import change_collection, make_collection, publish_collection
from tests.kitchen.packed import pack, unpack
from tests.kitchen.stew import next_revision

BENCH, PAGE = "/bench/collections/two-days/", "/c/two-days/"


@pytest.fixture
def two_days(stew, owner, noon):
    """A collection with a published stew and a soup that nobody sees yet."""
    soup = Recipe.objects.create(slug="soup", title="Soup", owner=owner, created_at=noon, updated_at=noon)
    soup.revisions.create(number=1, servings=2, created_at=noon)
    made = make_collection(owner=owner, title="Two days", at=noon)
    change_collection(collection=made, title="Two days", summary="", dishes=[(stew.pk, None), (soup.pk, 3)], at=noon)
    made.refresh_from_db()
    return made


def titles(collection):
    return [(dish.recipe.slug, dish.servings) for dish in collection.dishes.select_related("recipe")]


def sent(collection, do="save", **more):
    rows = list(collection.dishes.values_list("recipe", "servings"))
    fields = {f"dish{place}": number for place, (number, _) in enumerate(rows)}
    fields |= {f"for{place}": servings or "" for place, (_, servings) in enumerate(rows)}
    return {"title": collection.title, "summary": collection.summary, **fields, "do": do, **more}


def test_a_cook_fills_it_moves_it_and_undoes_it(two_days, stew, owner_client):
    owner_client.post(BENCH, sent(two_days, "down:0"))
    assert titles(two_days) == [("soup", 3), ("stew", None)]
    owner_client.post(BENCH, sent(two_days, "drop:0", add=stew.pk, for1="8"))
    assert titles(two_days) == [("stew", 8), ("stew", None)]
    owner_client.post(f"{BENCH}undo/")
    assert titles(two_days) == [("soup", 3), ("stew", None)]
    owner_client.post(f"{BENCH}undo/")
    assert titles(two_days) == [("stew", 8), ("stew", None)], "undoing is undone by doing it again"
    owner_client.post(BENCH, sent(two_days, "up:0"))
    assert titles(two_days) == [("stew", 8), ("stew", None)], "the first has nowhere to go"


def test_what_makes_no_sense_is_said_by_its_field_and_kept_as_typed(two_days, owner_client):
    answer = owner_client.post(BENCH, sent(two_days, "down:0", for1="a few", title=""))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert 'value="a few"' in page
    assert "Give it a name" in page
    assert titles(two_days) == [("stew", None), ("soup", 3)]


def test_nobody_slips_in_a_recipe_that_they_may_not_see(two_days, stew, other_client, other_cook, noon):
    own = make_collection(owner=other_cook, title="Mine", at=noon)
    soup = Recipe.objects.get(slug="soup")
    other_client.post("/bench/collections/mine/", {"title": "Mine", "dish0": soup.pk, "dish1": stew.pk, "for1": "2"})
    assert titles(own) == [("stew", 2)]


def test_readers_see_it_once_it_is_published_and_never_what_is_not(two_days, owner_client, stranger_client):
    assert stranger_client.get(PAGE).status_code == 404
    assert stranger_client.get("/c/two-days.json").status_code == 404
    owner_client.post(f"{BENCH}publish/")
    page = stranger_client.get(PAGE).content.decode()
    assert "Red lentil and squash pot" in page
    assert "Soup" not in page
    assert PAGE in stranger_client.get("/").content.decode()
    assert PAGE in stranger_client.get("/sitemap-1.xml").content.decode()
    assert "urn:uuid:" in stranger_client.get(f"{PAGE}feed.atom").content.decode()
    told = json.loads(stranger_client.get("/c/two-days.json").content)
    assert [(one["path"], one["servings"]) for one in told["recipes"]] == [("/r/stew/", 6)]
    owner_client.post(f"{BENCH}withdraw/")
    assert [stranger_client.get(place).status_code for place in (PAGE, "/c/two-days.json", f"{PAGE}feed.atom")] == [410] * 3
    assert PAGE not in stranger_client.get("/").content.decode()


def test_without_a_published_recipe_it_is_not_published(owner, owner_client, noon):
    make_collection(owner=owner, title="Empty", at=noon)
    answer = owner_client.post("/bench/collections/empty/publish/", follow=True)
    assert "None of its recipes is published yet" in answer.content.decode()
    assert Collection.objects.get().published_at is None


def test_another_cook_and_a_stranger_find_nothing(two_days, other_client, stranger_client):
    for place in (BENCH, f"{BENCH}delete/"):
        assert other_client.get(place).status_code == 404
        assert stranger_client.get(place).status_code == 302
    for do in ("undo", "publish", "withdraw", "delete"):
        assert other_client.post(f"{BENCH}{do}/").status_code == 404
    assert other_client.get("/bench/collections/").content.decode().count("Two days") == 0


def test_a_kept_page_follows_every_change(two_days, stew, owner, noon, settings, tmp_path):
    settings.ANSWERS_DIR = tmp_path
    publish_collection(collection=two_days, at=noon)
    before = Client().get(PAGE)
    assert Client().get(PAGE)["ETag"] == before["ETag"]
    later = noon + timedelta(hours=1)
    change_collection(collection=two_days, title="Three days", summary="", dishes=[(stew.pk, 9)], at=later)
    page = Client().get(PAGE).content.decode()
    assert "Three days" in page
    assert "For 9" in page
    publish_recipe(recipe=stew, revision=next_revision(stew, later, text="350 g black beans"), by=owner, note="", at=later)
    assert Client().get(PAGE)["ETag"] != before["ETag"]


def test_a_number_that_makes_no_sense_is_said_and_a_group_replaces_the_servings(two_days, noon):
    publish_collection(collection=two_days, at=noon)
    wrong = Client().get(f"{PAGE}?for=many")
    assert wrong.status_code == 400
    assert 'value="many"' in wrong.content.decode()
    assert "For 11" in Client().get(f"{PAGE}?for=11").content.decode()


def test_it_goes_round_in_an_archive(two_days, owner, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    publish_collection(collection=two_days, at=noon)
    packed, held = pack(noon), titles(two_days)
    Collection.objects.all().delete()
    assert unpack(packed, owner, noon).added["collections"] == 1
    again = Collection.objects.get()
    assert (again.uid, again.published_at) == (two_days.uid, noon)
    assert titles(again) == held
    assert unpack(packed, owner, noon).nothing_new
