"""Whose the recipes of an archive are: asked, or said; never changed in silence."""

import io

import pytest
from django.contrib.auth.models import User
from django.core.management import CommandError, call_command
from django.urls import reverse

from kitchen.models import Recipe
from tests.house.bench_of_everything import furnish
from tests.kitchen.packed import pack
from tests.kitchen.test_archive import sweep
from tests.kitchen.test_archive_views import send, token_in

pytestmark = pytest.mark.django_db


@pytest.fixture
def packed(owner, other_cook, noon, settings, tmp_path):
    """An archive with a recipe of the owner's, one of Ada's, one of Bo's; Bo is no cook here any more."""
    settings.MEDIA_ROOT = tmp_path / "photos"
    furnish(owner, other_cook, noon)
    people = {"ada": User.objects.create_user("ada", first_name="Ada", last_name="Field"), "bo": User.objects.create_user("bo")}
    for name, cook in people.items():
        Recipe.objects.create(owner=cook, title=f"Pot of {name}", slug=f"pot-of-{name}", created_at=noon, updated_at=noon)
    archive = pack(noon)
    sweep(settings.MEDIA_ROOT)
    people["bo"].delete()
    path = tmp_path / "library.zip"
    path.write_bytes(archive)
    return path


def owners():
    return dict(Recipe.objects.values_list("title", "owner__username"))


def unpacked(path, *arguments):
    said = io.StringIO()
    call_command("unpack", str(path), *arguments, stdout=said)
    return said.getvalue()


def test_a_cook_of_the_same_name_gets_what_was_theirs(packed):
    said = unpacked(packed)
    assert "1 recipe of “Ada Field”: of ada here." in said
    assert "1 recipe of “bo”: of owner here." in said
    assert "No cook here is called “bo”; to give them to another, add --as “bo=COOK”." in said
    assert (owners()["Pot of ada"], owners()["Pot of bo"]) == ("ada", "owner")


def test_another_cook_is_said(packed):
    unpacked(packed, "--as", "bo=other", "--as", "Ada Field=owner")
    assert (owners()["Pot of ada"], owners()["Pot of bo"]) == ("owner", "other")
    with pytest.raises(CommandError, match="is not NAME=COOK"):
        unpacked(packed, "--as", "bo")
    with pytest.raises(CommandError, match="no cook called"):
        unpacked(packed, "--as", "bo=nobody")


def test_the_bench_asks(packed, owner_client):
    look = send(owner_client, packed.read_bytes())
    html = look.content.decode()
    assert "1 recipe of “Ada Field”: whose here?" in html
    assert "1 recipe of “bo”: whose here?" in html
    sent = {name: User.objects.get(username=cook).pk for name, cook in (("cook_0", "ada"), ("cook_1", "other"))}
    owner_client.post(reverse("kitchen:archive-unpack"), {"token": token_in(look), **sent})
    assert (owners()["Pot of ada"], owners()["Pot of bo"]) == ("ada", "other")


def test_a_cook_who_is_none_is_refused(packed, owner_client):
    look = send(owner_client, packed.read_bytes())
    answer = owner_client.post(reverse("kitchen:archive-unpack"), {"token": token_in(look), "cook_0": "99999"})
    assert "Say whose the recipes will be." in answer.content.decode()
    assert not Recipe.objects.exists()
