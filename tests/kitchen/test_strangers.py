"""What strangers may ask of the site: to look, in turns where it is heavy, and nothing that is not published."""

import io
import os
import stat
from importlib import import_module

import pytest
from django.apps import apps
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from kitchen.models import Photo, ShownPicture
from kitchen.operations import add_photo, bring_back_recipe, publish_recipe, remove_photo, set_helper, withdraw_recipe
from kitchen.operations.journal import Hand
from kitchen.operations.turns import Busy, Turns
from kitchen.publish.last_few import LastFew
from kitchen.queries import newest_revision
from tests.house.bench_of_everything import addresses, furnish
from tests.house.test_doors import OPEN_TO_STRANGERS
from tests.kitchen.desk import write_pot
from tests.kitchen.pictures import opened, picture

TAKE_FORMS = {"start", "sign-in", "sign-out", "tables-sign-out", "join", "api-session"}


def sent_photo(recipe, noon, size=(60, 40)):
    return add_photo(recipe=recipe, picture=io.BytesIO(picture(size)), alt="a pot", at=noon)


def test_a_public_page_takes_nothing_in(owner, other_cook, noon, settings, tmp_path):
    """405 with what is allowed, also without the secret of a form."""
    settings.MEDIA_ROOT = tmp_path
    doors = addresses(furnish(owner, other_cook, noon))
    public = [door for door in doors if door.name in OPEN_TO_STRANGERS and door.name.split(":")[1] not in TAKE_FORMS]
    assert len(public) > 12
    client = Client(enforce_csrf_checks=True)
    for door in public:
        for method in ("post", "put", "delete", "patch"):
            answer = getattr(client, method)(door.path)
            assert answer.status_code == 405, (door, method, answer.status_code)
            assert "GET" in answer.headers["Allow"], door


def test_readers_take_turns_at_cards_whoever_they_are(owner_client, stew, monkeypatch):
    full = Turns(at_once=1, waiting=0, longest_s=0.01, again_s=10)
    monkeypatch.setattr("kitchen.views.public.PRINTING_FOR_STRANGERS", full)
    monkeypatch.setattr("kitchen.publish.paper._kept", LastFew(4))
    address = reverse("kitchen:card-pdf", args=[stew.slug])
    with full.turn():
        answer = Client().get(address)
        assert (answer.status_code, answer.headers["Retry-After"]) == (503, "10")
        assert "Wait 10 seconds" in answer.content.decode()
        assert Client().get(reverse("kitchen:recipe", args=[stew.slug])).status_code == 200
        assert owner_client.get(address).status_code == 503
    assert Client().get(address).status_code == 200
    with full.turn():
        assert owner_client.get(address).status_code == 200, "a card that is kept waits for nobody"


def test_a_queue_is_short_and_is_left_again():
    turns = Turns(at_once=1, waiting=1, longest_s=0.01, again_s=3)
    with turns.turn():
        with pytest.raises(Busy) as waited, turns.turn():
            pass
        assert waited.value.wait_s == 3
    for _ in range(5):
        with pytest.raises(KeyError), turns.turn():
            raise KeyError
    with turns.turn():
        pass


def test_the_last_few_are_kept_and_no_more():
    few = LastFew(2)
    for name in "abc":
        few.keep(name, name.encode())
    assert [few.get(name) for name in "abc"] == [None, b"b", b"c"]
    few.get("b")
    few.keep("d", b"d")
    assert [few.get(name) for name in "bcd"] == [b"b", None, b"d"]


def ask(client, photo):
    return client.get(reverse("kitchen:photo-file", args=[photo.wide]))


def test_a_photo_of_an_unpublished_recipe_is_its_cooks_alone(owner, owner_client, other_client, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    recipe = write_pot(owner, noon)
    photo = sent_photo(recipe, noon)
    assert [ask(client, photo).status_code for client in (Client(), other_client, owner_client)] == [404, 404, 200]
    set_helper(cook=User.objects.get(username="other"), helps=True, by=Hand(owner, noon))
    assert ask(other_client, photo).status_code == 200, "whoever records its cooks sees it at the desk"
    assert "private" in ask(owner_client, photo).headers["Cache-Control"]
    publish_recipe(recipe=recipe, revision=newest_revision(recipe), by=owner, at=noon)
    assert ask(Client(), photo).headers["Cache-Control"].startswith("public")
    deep = next(name for name in photo.crops if "-deep" in name)
    assert Client().get(f"/photos/{deep}").status_code == 200
    withdraw_recipe(recipe=recipe, at=noon)
    assert [ask(client, photo).status_code for client in (Client(), owner_client)] == [404, 200]
    bring_back_recipe(recipe=recipe, at=noon)
    assert ask(Client(), photo).status_code == 200


def test_a_photo_that_an_edition_keeps_is_still_public(owner, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    recipe = write_pot(owner, noon)
    photo = sent_photo(recipe, noon)
    publish_recipe(recipe=recipe, revision=newest_revision(recipe), by=owner, at=noon)
    remove_photo(photo=Photo.objects.get(pk=photo.pk))
    assert ask(Client(), photo).status_code == 200


def test_a_second_photo_that_was_never_published_is_private(owner, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    recipe = write_pot(owner, noon)
    publish_recipe(recipe=recipe, revision=newest_revision(recipe), by=owner, at=noon)
    later = sent_photo(recipe, noon)
    assert opened((tmp_path / later.wide).read_bytes()).format == "JPEG"
    assert ask(Client(), later).status_code == 404


def test_what_was_published_before_pictures_were_noted_is_still_seen(owner, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    recipe = write_pot(owner, noon)
    photo = sent_photo(recipe, noon)
    publish_recipe(recipe=recipe, revision=newest_revision(recipe), by=owner, at=noon)
    ShownPicture.objects.all().delete()
    assert ask(Client(), photo).status_code == 404
    import_module("kitchen.migrations.0012_note_pictures_of_editions").note_pictures(apps, None)
    assert ask(Client(), photo).status_code == 200


def test_a_photos_folder_is_on_the_disk_after_its_files(owner, noon, settings, tmp_path, monkeypatch):
    settings.MEDIA_ROOT = tmp_path
    kinds, real = [], os.fsync

    def seen(handle):
        kinds.append((stat.S_ISDIR(os.fstat(handle).st_mode), len([one for one in tmp_path.iterdir() if one.name[0] != "."])))
        real(handle)

    monkeypatch.setattr("kitchen.operations.photos.os.fsync", seen)
    sent_photo(write_pot(owner, noon), noon)
    files = len(list(tmp_path.iterdir()))
    assert kinds[-1] == (True, files)
    assert [is_folder for is_folder, _ in kinds].count(True) == 1


def test_signing_out_clears_what_the_browser_kept_and_never_what_it_stored(owner_client):
    answer = owner_client.post("/bench/sign-out/")
    assert answer.headers["Clear-Site-Data"] == '"cache"'
