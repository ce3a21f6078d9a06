"""A full disk is told by name and 507, photos and files first; data that can only be read still serve public pages."""

import errno
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings as project
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import InternalError, OperationalError
from django.test import RequestFactory
from django.urls import reverse

from deploy import full_disk
from deploy.place import find_place
from deploy.read_only import address_for_reading, can_only_be_read
from energy.models import Run, SentReading
from kitchen.models import Photo
from kitchen.operations import packing, room
from tests.house.bench_of_everything import furnish
from tests.kitchen.packed import pack
from tests.kitchen.pictures import halves

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path / "photos"
    return furnish(owner, other_cook, noon)


@pytest.fixture
def nearly_full(kitchen, monkeypatch):
    """A disk on which only the reserve for readings is left."""
    there = shutil.disk_usage("/")
    monkeypatch.setattr(room.shutil, "disk_usage", lambda _: there._replace(free=100 << 20))
    return kitchen


def errors() -> list[Exception]:
    """Return what each database and the system say of a full disk."""

    class DiskFull(Exception):
        sqlstate = "53100"

    told = OperationalError('could not extend file "base/1": No space left on device')
    told.__cause__ = DiskFull()
    of_the_system = [OSError(errno.ENOSPC, "No space left on device"), OSError(errno.EDQUOT, "Disk quota exceeded")]
    return [OperationalError("database or disk is full"), told, *of_the_system]


@pytest.mark.parametrize("error", errors())
def test_a_full_disk_is_507_and_named(error, rf: RequestFactory):
    page = full_disk.told(rf.post("/bench/"), error)
    assert (page.status_code, page.headers["Retry-After"]) == (507, "60")
    assert "The kitchen’s disk is full" in page.content.decode()
    wire = full_disk.told(rf.put("/api/v1/runs/1/events/x"), error)
    assert wire.status_code == 507
    assert b'"error": "The kitchen\\u2019s disk is full."' in wire.content


def test_data_that_can_only_be_read_are_503_and_named(rf):
    class ReadOnly(Exception):
        sqlstate = "25006"

    told = InternalError("cannot execute INSERT in a read-only transaction")
    told.__cause__ = ReadOnly()
    for error in (OperationalError("attempt to write a readonly database"), told, OSError(errno.EROFS, "Read-only file system")):
        page = full_disk.told(rf.post("/bench/"), error)
        assert page.status_code == 503
        assert "can only be read now" in page.content.decode()


def test_other_mistakes_are_left_alone(rf):
    for error in (OperationalError("database is locked"), OSError(errno.EACCES, "no"), ValueError("disk is full")):
        assert full_disk.told(rf.post("/bench/"), error) is None


def test_a_full_disk_outside_a_view_is_told_too(rf):
    try:
        raise OSError(errno.ENOSPC, "No space left on device")
    except OSError:
        assert full_disk.broken(rf.post("/bench/")).status_code == 507


def test_photos_are_refused_by_name_while_readings_are_kept(nearly_full, owner_client, settings):
    address = reverse("kitchen:photos", args=[nearly_full.recipe.slug])
    sent = {"picture": SimpleUploadedFile("a.jpg", halves((64, 48)), "image/jpeg"), "alt": "a pot"}
    answer = owner_client.post(address, sent)
    assert answer.status_code == 507
    assert "The kitchen’s disk is nearly full, and what is left is kept for readings." in answer.content.decode()
    assert "a pot" in answer.content.decode()
    assert Photo.objects.count() == 1
    run = Run.objects.get()
    Run.objects.update(ended_at=None)
    key = "00000000-0000-4000-8000-000000000001"
    photo = owner_client.put(f"/api/v1/runs/{run.pk}/photos/{key}", halves((64, 48)), content_type="image/jpeg")
    assert (photo.status_code, photo.json()["error"]) == (507, "The kitchen’s disk is full.")
    press = {"kind": "reading", "at": run.started_at.isoformat(), "energy_wh": 1}
    kept = owner_client.put(f"/api/v1/runs/{run.pk}/events/{key}", press, content_type="application/json")
    assert kept.status_code == 201
    assert SentReading.objects.count() == 0


def test_packing_and_files_wait_for_room(nearly_full, owner_client, noon):
    owner_client.raise_request_exception = False
    packed = owner_client.post(reverse("kitchen:archive-pack"))
    assert packed.status_code == 507
    assert "The kitchen’s disk is full" in packed.content.decode()
    archive = SimpleUploadedFile("library.zip", pack(noon), "application/zip")
    assert owner_client.post(reverse("kitchen:archive"), {"archive": archive}).status_code == 507


def test_a_disk_that_fills_while_packing_is_told(kitchen, owner_client, monkeypatch):
    def full(*_args, **_kwargs):
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(packing.ArchiveWriter, "add_document", full)
    owner_client.raise_request_exception = False
    assert owner_client.post(reverse("kitchen:archive-pack")).status_code == 507


def test_a_database_without_its_log_is_opened_as_one_that_never_changes(tmp_path):
    path = tmp_path / "odd name?.sqlite3"
    with sqlite3.connect(path) as made:
        made.execute("CREATE TABLE pots (name)")
    assert address_for_reading(path).endswith("?mode=ro&immutable=1")
    with sqlite3.connect(address_for_reading(path), uri=True) as opened:
        assert opened.execute("SELECT COUNT(*) FROM pots").fetchone() == (0,)
    path.with_name(path.name + "-wal").write_bytes(b"frames")
    assert address_for_reading(path).endswith("?mode=ro")
    assert not can_only_be_read(tmp_path)
    assert not can_only_be_read(tmp_path / "none")


ASK = """
import django, sys
django.setup()
from django.test import Client
client = Client(raise_request_exception=False, headers={"host": "localhost"})
slug = "red-lentil-and-squash-pot"
print([client.get(path).status_code for path in ("/", f"/r/{slug}/", f"/r/{slug}/card.pdf", "/method/", "/healthz", "/readyz")])
print(client.post("/bench/sign-in/", {"username": "fernhollow", "password": "x"}).status_code in {200, 503})
from kitchen.models import Site
from deploy.full_disk import is_read_only
try:
    Site.objects.update(name="x")
except Exception as error:
    print(is_read_only(error))
"""


def asked(command, environment):
    """Run a program to its end."""
    return subprocess.run(command, cwd=project.BASE_DIR, env=environment, capture_output=True, text=True, check=False)


@pytest.mark.any_engine
def test_public_pages_are_served_from_a_folder_that_can_only_be_read(tmp_path):
    """In a mount of its own that is read-only, as a card that has failed would be; skipped where no mount can be made."""
    folder = tmp_path / "data"
    place = find_place(
        Path(project.BASE_DIR), WATTFARE_DATA=str(folder), DATABASE_URL="", DJANGO_SETTINGS_MODULE="deploy.settings"
    )
    environment = dict(place.variables)
    made = asked([sys.executable, "manage.py", "prepare"], environment)
    assert made.returncode == 0, made.stderr
    mount = f"mount --bind {folder} {folder} && mount -o remount,bind,ro {folder}"
    if not shutil.which("unshare") or asked(["unshare", "-m", "sh", "-c", mount], environment).returncode:
        pytest.skip("no mount can be made here")
    script = tmp_path / "ask.py"
    script.write_text(ASK)
    environment["PYTHONPATH"] = str(project.BASE_DIR)
    done = asked(["unshare", "-m", "sh", "-c", f"{mount} && exec {sys.executable} {script}"], environment)
    assert done.stdout.splitlines() == ["[200, 200, 200, 200, 200, 200]", "True", "True"], done.stderr
