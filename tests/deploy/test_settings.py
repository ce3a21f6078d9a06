"""The settings as a whole: clean under HTTPS, plain about mistakes, and the database set up as promised."""

import pytest
from django.db import connection

from tests.prepared import prepare_copy, run_there


def test_the_deployment_check_is_clean_under_https(tmp_path):
    said = {"WATTFARE_HTTPS": "1", "WATTFARE_BEHIND_PROXY": "1", "WATTFARE_HOSTS": "recipes.example.org"}
    done = run_there(tmp_path, "check", "--deploy", "--fail-level=WARNING", **said)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""


def test_mistakes_are_told_together_without_a_traceback(tmp_path):
    done = run_there(tmp_path, "check", WATTFARE_WORKERS="none", WATTFARE_TIME_ZONE="Fernhollow")
    assert done.returncode == 1
    assert "WATTFARE_WORKERS is 'none'" in done.stderr
    assert "WATTFARE_TIME_ZONE is 'Fernhollow'" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_data_folder_that_cannot_be_used_is_named(tmp_path):
    (tmp_path / "file").write_text("")
    done = run_there(tmp_path / "file" / "data", "check")
    assert done.returncode == 1
    assert "Set WATTFARE_DATA to a folder you may write to." in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.django_db
def test_sqlite_waits_for_other_writers_and_survives_a_dying_battery():
    if connection.vendor != "sqlite":
        pytest.skip("about SQLite")
    with connection.cursor() as cursor:
        asked = {
            name: cursor.execute(f"PRAGMA {name}").fetchone()[0]
            for name in ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
        }
    full = 2
    assert asked == {"journal_mode": "wal", "synchronous": full, "foreign_keys": 1, "busy_timeout": 20_000}
    assert connection.transaction_mode == "IMMEDIATE"


COOKIES = """
from django.contrib.auth.models import User
from django.contrib import messages
from django.conf import settings
from django.test import Client
settings.ALLOWED_HOSTS.append("testserver")
User.objects.create_superuser("owner", password="pot-lid-spoon")
client = Client(headers={"x-forwarded-proto": "https"})
client.get("/bench/sign-in/")
client.post("/bench/sign-in/", {"username": "owner", "password": "pot-lid-spoon"})
client.get("/kit/?kit=keep&battery_wh=500")
client.get("/bench/password/changed/")
for name, one in client.cookies.items():
    print("cookie", name, one["secure"], one["path"], one["domain"] or "none", one["samesite"])
"""


def test_under_https_no_other_host_can_set_a_cookie_of_ours(tmp_path, tmp_path_factory):
    said = {"WATTFARE_HTTPS": "1", "WATTFARE_BEHIND_PROXY": "1", "WATTFARE_HOSTS": "a.example"}
    done = run_there(prepare_copy(tmp_path_factory, tmp_path), "shell", "-v0", "-c", COOKIES, **said)
    cookies = [line.split()[1:] for line in done.stdout.splitlines() if line.startswith("cookie")]
    names = {cookie[0].removeprefix("__Host-") for cookie in cookies}
    assert {"wattfare_session", "wattfare_csrf", "wattfare_device", "wattfare_messages"} <= names, done.stderr
    assert [cookie for cookie in cookies if not cookie[0].startswith("__Host-") or cookie[1:4] != ["True", "/", "none"]] == []
