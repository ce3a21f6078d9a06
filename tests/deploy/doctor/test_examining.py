"""The doctor finds what was broken on purpose, names the command that mends it, and mends what it may."""

import http.server
import io
import os
import ssl
import threading
from contextlib import nullcontext
from datetime import timedelta
from unittest import mock

import pytest
from django.core.management import call_command
from django.db import connection
from django.utils import timezone

from deploy.backup import writing
from deploy.backup.places import keep_note, last_backup
from deploy.backup.writing import make_backup
from deploy.doctor import figures, machine, photo_files, reached, tables
from deploy.doctor import last_backup as backup_check
from deploy.doctor.examining import QUICK, THOROUGH, examine
from deploy.doctor.findings import ILL, MIND, WELL
from energy.models import DeskEvent, Run
from kitchen.models import Edition, Photo, Recipe, Site
from tests.deploy.backup.places import fill

pytestmark = pytest.mark.django_db


@pytest.fixture
def kitchen(owner, other_cook, noon, settings, tmp_path):
    settings.MEDIA_ROOT, settings.DATA_DIR, settings.STATIC_ROOT = tmp_path / "photos", tmp_path, tmp_path / "static"
    return fill(owner, other_cook, noon)


def only(check):
    """Return the one thing that a check finds."""
    (found,) = check()
    return found


def test_a_sound_house_is_well(kitchen):
    found = [
        *tables.database(),
        *tables.migrations(),
        *photo_files.photos(),
        *figures.editions(),
        *figures.unsent(),
        *machine.libraries(),
        *machine.fonts(),
        *machine.disk(),
    ]
    assert [finding for finding in found if finding.state != WELL] == []
    assert {finding.words[-1] for finding in found} == {"."}


def test_a_summary_that_no_longer_follows_is_found_and_mended(kitchen, capsys):
    figures.mend_summaries()
    assert only(figures.summaries).state == WELL
    run = Run.objects.get()
    Run.objects.update(summary={**run.summary, "energy_wh": 1.0})
    found = only(figures.summaries)
    assert (found.state, found.mend) == (ILL, "manage.py doctor --mend summaries")
    assert f"Red lentil pot of 14 October 2026, 12:00 (number {run.pk})" in found.words
    with pytest.raises(SystemExit):
        call_command("doctor", "--quick", "--mend", "summaries")
    assert "The figures of 1 run were worked out again." in capsys.readouterr().out
    assert Run.objects.get().summary == run.summary


def test_an_edition_that_was_changed_is_found(kitchen):
    edition = Edition.objects.get()
    edition.facts["recipe"]["title"] = "Another pot"
    edition.save()
    assert only(figures.editions).words == "1 edition no longer say what was published: /r/red-lentil-pot/ edition 1."


def test_photos_and_rows_that_lack_each_other_are_found(kitchen, tmp_path):
    folder, old = tmp_path / "photos", timezone.now().timestamp() - 7200
    photo = Photo.objects.get(alt__startswith="Halves")
    stray = folder / f"{'0' * 24}-wide.jpg"
    stray.write_bytes(b"\xff\xd8\xff\xd9")
    half = folder / ".coming-abc"
    half.write_bytes(b"x")
    os.utime(stray, (old, old))
    os.utime(half, (old - 90_000, old - 90_000))
    (folder / f"{'1' * 24}-wide.jpg").write_bytes(b"just being written")
    make_backup_of(tmp_path)
    (folder / photo.wide).unlink()
    found = {finding.words: finding for finding in photo_files.photos()}
    assert list(found) == [
        f"1 photo files are named and not there, {photo.wide} among them.",
        f"1 photo files are named by nothing, {stray.name} among them.",
        "1 unfinished files were left by a crash.",
    ]
    photo_files.put_aside()
    assert (tmp_path / "photos-without-rows" / stray.name).exists()
    assert not half.exists()
    said = io.StringIO()
    call_command("restore", "--photos", last_backup().path, stdout=said)
    assert "1 photo files that were missing are back; nothing else was changed." in said.getvalue()
    assert only(photo_files.photos).state == WELL


def make_backup_of(folder):
    """Make a backup inside a test's own transaction, where PostgreSQL fixes no moment."""
    with mock.patch.object(writing, "snapshot", nullcontext):
        return make_backup(folder=folder, at=timezone.now()).path


def test_presses_and_photos_that_have_not_come_are_named(kitchen, noon):
    run = Run.objects.get()
    Run.objects.update(ended_at=None)
    DeskEvent.objects.create(
        id="00000000-0000-0000-0000-000000000001",
        run=run,
        kind="moment",
        at=noon,
        received_at=noon,
        said={"photo": "00000000-0000-0000-0000-000000000002"},
    )
    words = [finding.words for finding in figures.unsent()]
    assert "goes on since more than two days. Its last presses may lie unsent on a phone." in words[0]
    assert "names a photo that has not come." in words[1]


def test_a_clock_that_went_back_is_found(kitchen):
    Edition.objects.update(published_at=timezone.now() + timedelta(days=2))
    found = only(machine.clock)
    assert (found.state, "it went back" in found.words) == (ILL, True)


def test_a_disk_with_little_room_is_told(kitchen, monkeypatch):
    class Usage:
        free = 50 << 20

    monkeypatch.setattr(machine.shutil, "disk_usage", lambda _: Usage)
    assert "New photos are refused, so that readings still have room." in only(machine.disk).words
    Usage.free = 500 << 20
    assert only(machine.disk).state == MIND


def test_packages_otherwise_than_locked_are_named(kitchen, monkeypatch):
    monkeypatch.setattr(machine, "version", lambda name: "0.0")
    assert "asgiref 0.0 for " in only(machine.libraries).words


def test_styles_that_are_not_collected_are_told(kitchen):
    assert only(machine.collected).mend.startswith("manage.py prepare")


def test_the_last_backup_is_looked_at(kitchen, tmp_path):
    assert only(backup_check.backup).words == "No backup was made yet."
    path = make_backup_of(tmp_path)
    assert "was not proved" in only(backup_check.backup).words
    note = last_backup()
    now = timezone.now().isoformat()
    keep_note(type(note)(**{**vars(note), "proved_at": now}))
    assert "lies on the same disk as the data" in only(backup_check.backup).words
    keep_note(type(note)(**{**vars(note), "made_at": "2026-01-01T00:00:00+00:00"}))
    assert "older than a week" in only(backup_check.backup).words
    path.write_bytes(b"short")
    assert "another size" in only(backup_check.backup).words
    path.unlink()
    assert "is not there now" in only(backup_check.backup).words


class Answers(http.server.BaseHTTPRequestHandler):
    body = b"ok"

    def do_GET(self):
        self.send_response(200)
        self.end_headers()
        self.wfile.write(self.body)

    def log_message(self, *_):
        pass


@pytest.fixture
def outside(kitchen):
    """A server at a public address."""
    server = http.server.HTTPServer(("127.0.0.1", 0), Answers)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    Site.objects.update(base_url=f"http://127.0.0.1:{server.server_port}")
    yield server
    server.shutdown()
    server.server_close()


def test_the_address_is_asked_as_the_world_would(outside, monkeypatch):
    assert only(reached.settings_of_address).state == WELL
    assert only(reached.as_the_world_sees_it).words.endswith("answers as this program.")
    monkeypatch.setattr(Answers, "body", b"another program")
    assert "answers, and not as this program" in only(reached.as_the_world_sees_it).words
    Site.objects.update(base_url="http://127.0.0.1:9")
    assert "does not answer from here" in only(reached.as_the_world_sees_it).words


def test_a_certificate_that_is_not_trusted_is_told(kitchen, monkeypatch):
    Site.objects.update(base_url="https://127.0.0.1:9")

    def asked(_):
        error = ssl.SSLCertVerificationError("certificate verify failed")
        error.verify_message = "self-signed certificate"
        raise error

    monkeypatch.setattr(reached, "_asked", asked)
    assert "certificate that is not trusted" in only(reached.as_the_world_sees_it).words


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("", "No public address is entered"),
        ("https://recipes.example.org", "and the site refuses that host."),
        ("https://localhost", "and WATTFARE_HTTPS is off."),
    ],
)
def test_settings_that_do_not_fit_the_address_are_told(kitchen, address, words):
    Site.objects.update(base_url=address)
    assert words in only(reached.settings_of_address).words


def test_what_cannot_be_looked_at_is_told_too(kitchen, monkeypatch):
    def broken():
        raise OSError("Input/output error")

    (found,) = examine([("Disk", broken)])
    assert found.words == "This could not be looked at (Input/output error)."


@pytest.mark.django_db(transaction=True)
def test_a_damaged_database_is_found(kitchen):
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA foreign_keys = OFF")
            cursor.execute("UPDATE energy_run SET meter_id = 99999")
        try:
            assert "names a row of energy_meter that is not there" in next(tables.database()).words
        finally:
            Run.objects.update(meter=kitchen.values["meters"])
            connection.enable_constraint_checking()
    else:
        with connection.cursor() as cursor:
            cursor.execute("UPDATE pg_index SET indisvalid = false WHERE indexrelid = 'reading_run_at'::regclass")
            try:
                assert "The index reading_run_at is not valid" in next(tables.database()).words
            finally:
                cursor.execute("UPDATE pg_index SET indisvalid = true WHERE indexrelid = 'reading_run_at'::regclass")


def test_the_command_ends_with_what_it_found(kitchen, monkeypatch, capsys):
    with pytest.raises(SystemExit) as ended:
        call_command("doctor")
    assert ended.value.code == 1
    said = capsys.readouterr().out.splitlines()
    assert "ILL   Backup: No backup was made yet. To mend it: manage.py backup --to FOLDER --prove" in said
    assert len(said) >= len(QUICK) + len(THOROUGH) - 1


def test_the_page_is_the_owners_and_says_the_same(kitchen, owner_client, other_client, tmp_path):
    assert other_client.get("/bench/keeping/").status_code == 404
    page = owner_client.get("/bench/keeping/").content.decode()
    assert "None was made yet." in page
    assert "No backup was made yet." in page
    assert "Look at everything" in page
    path = make_backup_of(tmp_path)
    page = owner_client.post("/bench/keeping/").content.decode()
    assert str(path) in page
    assert "not yet" in page
    assert "found nothing wrong" in page
    assert Recipe.objects.first().title  # looking changes nothing


def test_a_proxy_that_is_not_believed_is_told(kitchen, rf, settings):
    request = rf.get("/bench/keeping/", headers={"X-Forwarded-Proto": "https"})
    assert "which is not believed" in reached.as_it_was_asked(request).words
