"""The archive on the bench: packed by a button, looked at before it is unpacked, for the owner alone."""

import io
import os
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from django.utils import timezone

from kitchen.importers.archive import Archive
from kitchen.models import Recipe, Site
from kitchen.operations.waiting import keep_waiting, waiting_archive
from tests.house.bench_of_everything import furnish
from tests.kitchen.packed import members, pack, zipped
from tests.kitchen.test_archive import sweep

pytestmark = pytest.mark.django_db
ADDRESSES = ("kitchen:archive", "kitchen:archive-pack", "kitchen:archive-unpack")


@pytest.fixture
def folder(settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    return settings.MEDIA_ROOT


@pytest.fixture
def packed(owner, other_cook, noon, folder):
    furnish(owner, other_cook, noon)
    archive = pack(noon)
    sweep(folder)
    return archive


def send(client, data):
    return client.post(reverse("kitchen:archive"), {"archive": SimpleUploadedFile("library.zip", data)})


def token_in(answer):
    return answer.content.decode().split('name="token" value="')[1][:32]


def test_the_owner_packs_with_a_button(owner_client, owner, other_cook, noon, folder):
    furnish(owner, other_cook, noon)
    assert "Pack the whole library" in owner_client.get(reverse("kitchen:archive")).content.decode()
    answer = owner_client.post(reverse("kitchen:archive-pack"))
    assert answer.headers["Content-Type"] == "application/zip"
    assert 'filename="fernhollow-dark-site-kitchen-' in answer.headers["Content-Disposition"]
    assert Archive(io.BytesIO(answer.getvalue())).manifest.counts["recipes"] == 2
    assert [path.name for path in folder.iterdir() if path.name.startswith(".")] == []


def test_looking_comes_first_and_unpacking_needs_a_yes(owner_client, owner, packed, folder):
    look = send(owner_client, packed)
    html = look.content.decode()
    assert "Unpack this archive?" in html
    assert "<li>2 recipes</li>" in html
    assert "<li>1 run</li>" in html
    assert not Recipe.objects.exists()
    done = owner_client.post(reverse("kitchen:archive-unpack"), {"token": token_in(look)}).content.decode()
    assert "This was added" in done
    assert set(Recipe.objects.values_list("owner", flat=True)) == {owner.pk}
    assert Site.objects.get().name == "Fernhollow dark-site kitchen"
    assert list((folder / ".waiting").iterdir()) == []
    again = owner_client.post(reverse("kitchen:archive-unpack"), {"token": token_in(look)}).content.decode()
    assert "not waiting any more" in again
    assert "Nothing new: everything in it is here already." in send(owner_client, packed).content.decode()


def test_it_can_be_left(owner_client, packed, folder):
    look = send(owner_client, packed)
    html = owner_client.post(reverse("kitchen:archive-unpack"), {"token": token_in(look), "do": "leave"}).content.decode()
    assert "The whole library in one file" in html
    assert "not waiting" not in html
    assert (Recipe.objects.exists(), list((folder / ".waiting").iterdir())) == (False, [])


def test_the_kitchen_s_words_are_taken_over_on_wish(owner_client, packed):
    Site.objects.create(pk=1, name="Heronsgate")
    look = send(owner_client, packed)
    assert "This kitchen keeps its own name" in look.content.decode()
    owner_client.post(reverse("kitchen:archive-unpack"), {"token": token_in(look), "words": "on"})
    assert Site.objects.get().name == "Fernhollow dark-site kitchen"


def test_refusals_stand_beside_the_field(owner_client, packed, folder):
    for sent, sentence in (
        (b"no zip", "not an archive of a packed library"),
        (zipped(members(packed), schema=5), "Update the program, then unpack it."),
        (b"", "This file is empty."),
    ):
        answer = send(owner_client, sent)
        assert answer.status_code == 200
        assert sentence in answer.content.decode()
    assert "Choose an archive." in owner_client.post(reverse("kitchen:archive")).content.decode()
    assert not list((folder / ".waiting").glob("*")) if (folder / ".waiting").exists() else True


@pytest.mark.parametrize("token", ["", "../../settings", "g" * 32, "0" * 32, "0" * 31 + "\n"])
def test_a_token_is_no_path(owner_client, folder, token):
    answer = owner_client.post(reverse("kitchen:archive-unpack"), {"token": token})
    assert "not waiting any more" in answer.content.decode()


def test_nobody_waits_longer_than_a_day(folder):
    now = timezone.now()
    old = keep_waiting(pieces=[b"x"], at=now)
    os.utime(waiting_archive(old), times=((now - timedelta(days=2)).timestamp(),) * 2)
    keep_waiting(pieces=[b"y"], at=now)
    assert waiting_archive(old) is None


@pytest.mark.parametrize("name", ADDRESSES)
def test_other_cooks_and_strangers_do_not_come_in(other_client, stranger_client, folder, name):
    for method in ("get", "post"):
        assert getattr(other_client, method)(reverse(name)).status_code == 404
        assert getattr(stranger_client, method)(reverse(name)).status_code == 302
