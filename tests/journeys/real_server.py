"""A server in a process of its own, on a database in a file, as in real use: it can be killed in the middle of an answer."""

from __future__ import annotations

import os
import signal
import socket
import sqlite3
import subprocess
import sys
import time
import urllib.request
from pathlib import Path
from typing import Any

import pytest

from tests.prepared import TOP, environment_of, prepare_copy, run_there

SESSIONS = 12
PATIENCE_S = 60
HANDED_OUT_FROM = 32_768  # a port below is given to nobody unasked while the server is down
FURNISH = """
from django.contrib.auth.models import User
from tests.journeys.small_kitchen import bring_gear, write_pot
owner = User.objects.create_superuser("owner", password="pot-lid-spoon")
pot = write_pot(owner, published=True)
bring_gear()
from kitchen.operations.collections import change_collection, make_collection, publish_collection
both = make_collection(owner=owner, title="Two pots", at=pot.created_at)
change_collection(collection=both, title="Two pots", summary="", dishes=[(pot.pk, 4), (pot.pk, 8)], at=pot.created_at)
publish_collection(collection=both, at=pot.created_at)
from django.test import Client
for _ in range({sessions}):
    client = Client()
    client.force_login(owner)
    print("session", client.cookies["wattfare_session"].value)
"""


def is_free(port: int) -> bool:
    """Whether nobody listens on a port."""
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) != 0


class RealServer:
    """Started, killed and started again on one port and one data folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.port = next(port for port in range(20_000 + os.getpid() % 10_000, HANDED_OUT_FROM) if is_free(port))
        self.url = f"http://127.0.0.1:{self.port}"
        self.process: subprocess.Popen[bytes] | None = None
        self._sessions: list[str] = []

    def furnish(self, factory: pytest.TempPathFactory) -> None:
        """Make the tables, a cook who has signed in some times, a recipe and gear."""
        prepare_copy(factory, self.folder)
        furnished = run_there(self.folder, "shell", "-v0", "-c", FURNISH.format(sessions=SESSIONS))
        assert furnished.returncode == 0, furnished.stderr
        self._sessions = [line.split()[1] for line in furnished.stdout.splitlines() if line.startswith("session ")]

    def sign_in(self) -> str:
        """Return a session of the cook that nobody used."""
        return self._sessions.pop()

    def start(self) -> None:
        """Start the server and wait until it answers."""
        asked = ["--bind", f"127.0.0.1:{self.port}", "--worker-class", "deploy.patience.PatientWorker"]
        asked += ["--threads", "4", "--log-level", "warning"]
        command = [sys.executable, "-m", "gunicorn", *asked, "deploy.wsgi:application"]
        self.process = subprocess.Popen(command, cwd=TOP, env=environment_of(self.folder), start_new_session=True)
        deadline = time.monotonic() + PATIENCE_S
        while not self._answers():
            assert time.monotonic() < deadline, "the server does not answer"
            time.sleep(0.05)

    def kill(self) -> None:
        """End the server and its workers at once, without a word to them."""
        if self.process is not None:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()
            self.process = None

    def rows(self, sql: str, *given: Any) -> list[tuple[Any, ...]]:
        """Read the database from outside."""
        with sqlite3.connect(self.folder / "wattfare.sqlite3", timeout=20) as database:
            return database.execute(sql, given).fetchall()

    def _answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"{self.url}/healthz", timeout=2) as answer:
                return answer.status == 200
        except OSError:
            return False
