"""The settings as a whole: clean under HTTPS, plain about mistakes, and the database set up as promised."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.db import connection

from deploy.environment import VARIABLES

TOP = Path(__file__).resolve().parents[2]


def manage(*arguments: str, **variables: str) -> subprocess.CompletedProcess:
    """Run manage.py under the real settings with nothing but the given variables set."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("DJANGO_")}
    environment = {**kept, **dict.fromkeys(VARIABLES, ""), **variables}
    command = [sys.executable, "manage.py", *arguments]
    return subprocess.run(command, cwd=TOP, env=environment, capture_output=True, text=True, check=False)


def test_the_deployment_check_is_clean_under_https(tmp_path):
    done = manage(
        "check",
        "--deploy",
        "--fail-level=WARNING",
        WATTFARE_DATA=str(tmp_path),
        WATTFARE_HTTPS="1",
        WATTFARE_BEHIND_PROXY="1",
        WATTFARE_HOSTS="recipes.example.org",
    )
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""


def test_mistakes_are_told_together_without_a_traceback(tmp_path):
    done = manage("check", WATTFARE_DATA=str(tmp_path), WATTFARE_WORKERS="none", WATTFARE_TIME_ZONE="Fernhollow")
    assert done.returncode == 1
    assert "WATTFARE_WORKERS is 'none'" in done.stderr
    assert "WATTFARE_TIME_ZONE is 'Fernhollow'" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_data_folder_that_cannot_be_used_is_named(tmp_path):
    (tmp_path / "file").write_text("")
    done = manage("check", WATTFARE_DATA=str(tmp_path / "file" / "data"))
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


def test_under_https_no_other_host_can_set_a_cookie_of_ours(tmp_path):
    said = {"WATTFARE_DATA": str(tmp_path), "WATTFARE_HTTPS": "1", "WATTFARE_BEHIND_PROXY": "1", "WATTFARE_HOSTS": "a.example"}
    assert manage("migrate", "-v0", **said).returncode == 0
    done = manage("shell", "-v0", "-c", COOKIES, **said)
    cookies = [line.split()[1:] for line in done.stdout.splitlines() if line.startswith("cookie")]
    names = {cookie[0].removeprefix("__Host-") for cookie in cookies}
    assert {"wattfare_session", "wattfare_csrf", "wattfare_device", "wattfare_messages"} <= names, done.stderr
    assert [cookie for cookie in cookies if not cookie[0].startswith("__Host-") or cookie[1:4] != ["True", "/", "none"]] == []
