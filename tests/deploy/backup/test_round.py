"""What is backed up comes back: every row and photo, into the same kind of database and into the other."""

import io
import json
import threading
import zipfile
from datetime import timedelta
from pathlib import Path

import pytest
from django.apps import apps
from django.contrib.auth.models import User
from django.contrib.sessions.models import Session
from django.core.management import CommandError, call_command
from django.db import connection, connections

from deploy.backup import proving, writing
from deploy.backup.document import Backup
from deploy.backup.places import last_backup
from deploy.backup.proving import CannotProve
from deploy.backup.writing import make_backup, write_backup
from kitchen.models import Photo, Recipe
from kitchen.operations.photos import remove_photo
from tests.deploy.backup.places import empty_database, fill
from tests.prepared import prepare_copy, run_there

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT, settings.DATA_DIR = tmp_path / "photos", tmp_path
    return fill(owner, other_cook, noon)


def tables(path: Path) -> dict[str, bytes]:
    """Return every table of a backup as it is written, and its photos by name."""
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist() if name.startswith("tables/")}


def test_every_row_and_photo_is_proved_to_come_back(kitchen, tmp_path, noon, owner_client):
    said = io.StringIO()
    call_command("backup", "--to", str(tmp_path), "--prove", stdout=said)
    assert "Proved: it was restored into an empty place and compared." in said.getvalue()
    note = last_backup()
    assert note.proved is not None
    assert note.photos == len(list((tmp_path / "photos").glob("[0-9a-f]*"))) > 10
    with zipfile.ZipFile(note.path) as archive:
        manifest = json.loads(archive.read("manifest.json"))
    counts = {table["model"]: table["rows"] for table in manifest["tables"]}
    assert counts["auth.User"] == 2
    assert counts["energy.SentReading"] == 3
    for model in apps.get_models(include_auto_created=True):
        if model is not Session:
            assert counts.pop(model._meta.label) == model.objects.count(), model
    assert counts == {}
    assert oct(Path(note.path).stat().st_mode)[-3:] == "600"
    assert not list(tmp_path.glob(".proving-*"))


def test_it_goes_into_the_other_database_and_back(kitchen, tmp_path, noon, owner):
    """Through SQLite and, where the tests run on PostgreSQL, from there and back to there: each time the same rows."""
    made = make_backup(folder=tmp_path, at=noon)
    elsewhere = tmp_path / "elsewhere"
    first = run_there(elsewhere, "restore", str(made.path))
    assert first.returncode == 0, first.stderr
    again = run_there(elsewhere, "backup")
    assert again.returncode == 0, again.stderr
    (there,) = (elsewhere / "backups").glob("*.backup")
    assert tables(there) == tables(made.path)
    with empty_database() as address:
        back = run_there(tmp_path / "back", "restore", str(there), DATABASE_URL=address)
        assert back.returncode == 0, back.stderr
        used = run_there(tmp_path / "back", "restore", str(there), DATABASE_URL=address)
        assert "This place is in use: it holds 2 accounts, 2 recipes, 1 run." in used.stderr
        assert run_there(tmp_path / "back", "migrate", "--check", DATABASE_URL=address).returncode == 0
        assert run_there(tmp_path / "back", "first_link", DATABASE_URL=address).returncode == 1  # the owner is there
    photos = {path.name: path.read_bytes() for path in (tmp_path / "photos").glob("[0-9a-f]*")}
    assert {path.name: path.read_bytes() for path in (tmp_path / "back" / "photos").glob("[0-9a-f]*")} == photos


@pytest.mark.any_engine
def test_a_place_in_use_is_replaced_by_the_word_alone_and_kept_first(kitchen, tmp_path, tmp_path_factory, noon):
    made = make_backup(folder=tmp_path, at=noon)
    place = prepare_copy(tmp_path_factory, tmp_path / "place")
    assert run_there(place, "createsuperuser", "--noinput", "--username", "ada", "--email", "a@b.example").returncode == 0
    refused = run_there(place, "restore", str(made.path))
    assert "This place is in use: it holds 1 account. Nothing was changed." in refused.stderr
    done = run_there(place, "restore", "--replace", str(made.path))
    assert done.returncode == 0, done.stderr
    assert "The rows that were here are kept in" in done.stdout
    (kept,) = (place / "backups").glob("*.backup")
    assert b'"ada"' in tables(kept)["tables/auth_user.jsonl"]
    back = run_there(place, "restore", "--replace", "--without-backup", str(kept))
    assert "This backup is of the rows alone; the photo files that are here stay as they are." in back.stdout
    assert list((place / "photos").glob("[0-9a-f]*"))


def test_what_is_written_meanwhile_is_not_seen(kitchen, noon, owner, monkeypatch):
    """One moment for all tables: a recipe and a photo that come after the first table are in none of them."""
    spelled, wrote = writing.spelled_rows, []

    def write_between(model):
        yield from spelled(model)
        if not wrote:
            wrote.append(True)
            thread = threading.Thread(target=_write_a_recipe, args=(owner.pk, noon))
            thread.start()
            thread.join()

    monkeypatch.setattr(writing, "spelled_rows", write_between)
    out = io.BytesIO()
    manifest = write_backup(out, at=noon)
    assert Recipe.objects.filter(title="Meanwhile").count() == 1
    assert {note.model: note.rows for note in manifest.tables}["kitchen.Recipe"] == 2
    assert not connection.in_atomic_block
    User.objects.create_user("after", password="pan-rim-ladle")  # writing goes on as usual


def _write_a_recipe(owner, noon):
    try:
        Recipe.objects.create(owner_id=owner, title="Meanwhile", slug="meanwhile", created_at=noon, updated_at=noon)
    finally:
        connections.close_all()


def test_a_photo_that_is_taken_away_meanwhile_is_in_and_then_goes(kitchen, noon, tmp_path, monkeypatch):
    photo = Photo.objects.get(alt__startswith="Halves")
    name, write_photos = photo.wide, writing._write_photos

    def remove_first(archive):
        remove_photo(photo=photo)
        assert (tmp_path / "photos" / name).exists()
        return write_photos(archive)

    monkeypatch.setattr(writing, "_write_photos", remove_first)
    made = make_backup(folder=tmp_path, at=noon)
    assert made.manifest.missing == ()
    with Path(made.path).open("rb") as file:
        assert name.encode() in Backup(file).stream("photos.tar").read()
    assert not (tmp_path / "photos" / name).exists()
    assert not (tmp_path / "photos" / ".to-remove").exists()


def test_a_photo_that_is_mentioned_and_gone_is_named(kitchen, noon, tmp_path):
    photo = Photo.objects.get(alt__startswith="Halves")
    (tmp_path / "photos" / photo.wide).unlink()
    assert photo.wide in make_backup(folder=tmp_path, at=noon).manifest.missing


def test_a_proof_that_differs_is_told(kitchen, tmp_path, noon, monkeypatch):
    made = make_backup(folder=tmp_path, at=noon)
    path = tmp_path / "spoilt.backup"
    path.write_bytes(made.path.read_bytes()[:-3000])
    with pytest.raises(CannotProve, match="is not an archive of a backup, or it broke off on the way"):
        proving.prove(path)


def test_no_room_to_prove_is_told(kitchen, tmp_path, noon):
    with pytest.raises(CannotProve, match="There is no room to prove it"):
        proving.prove(tmp_path / "any", unpacked_bytes=1 << 60)


def test_the_missing_right_is_named(kitchen, tmp_path, monkeypatch):
    if connection.vendor != "postgresql":
        pytest.skip("SQLite asks for no right")
    with connection.cursor() as cursor:
        cursor.execute("DROP ROLE IF EXISTS wattfare_plain")
        cursor.execute("CREATE ROLE wattfare_plain LOGIN")
        try:
            cursor.execute("SET ROLE wattfare_plain")
            monkeypatch.setitem(connection.settings_dict, "USER", "wattfare_plain")
            with pytest.raises(
                CannotProve, match=r'permission denied.*sudo -u postgres psql -c "ALTER ROLE wattfare_plain CREATEDB"'
            ):
                proving.prove(tmp_path / "any")
        finally:
            cursor.execute("RESET ROLE")
            cursor.execute("DROP ROLE wattfare_plain")


def test_older_ones_go_when_the_new_one_is_there(kitchen, tmp_path, noon):
    for days in (1, 2, 400):
        make_backup(folder=tmp_path, at=noon - timedelta(days=days))
    other = tmp_path / "notes.backup"
    other.write_text("mine")
    call_command("backup", "--to", str(tmp_path), "--keep", "2", "0", "1", stdout=io.StringIO())
    assert len(list(tmp_path.glob("wattfare-*.backup"))) == 2
    assert other.exists()


def test_a_folder_that_is_not_there_is_not_made(kitchen, tmp_path):
    with pytest.raises(CommandError, match="Make it, or mount its disk, and try again"):
        call_command("backup", "--to", str(tmp_path / "usb"))
    with pytest.raises(CommandError, match="is on the same disk as the data"):
        call_command("backup", "--mounted", "--to", str(tmp_path))
    assert not list(tmp_path.glob("*.backup"))
