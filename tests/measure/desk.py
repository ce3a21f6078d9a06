"""Measure how long a press on the run desk takes from the phone's request to the answer that it is kept, over HTTP.

    .venv/bin/python -m tests.measure.desk

The real server (two workers) on SQLite, then on PostgreSQL where one answers; a cook of 2 hours with 180 presses: one phone, then
two at once, then beside a device's 10,000 rows. Nothing here judges: the figures depend on the computer.
"""

from __future__ import annotations

import http.client
import json
import os
import signal
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from uuid import uuid4

from deploy.place import find_place
from deploy.postgres import find_server
from tests.measure.promises import MAKE_DATABASE

TOP = Path(__file__).resolve().parents[2]

PORT = 8392
DATABASE = "wattfare_desk_measured"
PRESSES = 180
COOK_S = 7200
DEVICE_ROWS = 10_000
MOST_WAIT_S = 60
# Runs in the checkout's environment: a cook to press on, a session to press with, a token for its meter.
FURNISH = """
import json, os, django
os.environ["DJANGO_SETTINGS_MODULE"] = "deploy.settings"
django.setup()
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY, get_user_model
from django.contrib.sessions.backends.db import SessionStore
from django.utils import timezone
from energy.models import Appliance, Meter, PowerSource
from energy.meters.operations.devices import make_device
from kitchen.models import Recipe
cook, _ = get_user_model().objects.get_or_create(username="measurer", defaults={"is_superuser": True})
session = SessionStore()
session.update({SESSION_KEY: str(cook.pk), BACKEND_SESSION_KEY: "django.contrib.auth.backends.ModelBackend",
    HASH_SESSION_KEY: cook.get_session_auth_hash()})
session.save()
meter, recipe = Meter.objects.first(), Recipe.objects.filter(revisions__isnull=False).first()
_, token = make_device(meter=meter, name="measured", by=cook, at=timezone.now())
print(json.dumps({"session": session.session_key, "token": token, "recipe": recipe.slug,
    "appliance": Appliance.objects.first().pk, "source": PowerSource.objects.first().pk, "meter": meter.pk}))
"""


def main() -> int:
    """Measure on SQLite, then on PostgreSQL where a server is found."""
    with tempfile.TemporaryDirectory(prefix="wattfare-desk-") as name:
        print("| database | what | presses | median | 95 of 100 | longest |\n| --- | --- | --- | --- | --- | --- |")
        measure("SQLite", {"WATTFARE_DATA": f"{name}/sqlite", "DATABASE_URL": ""})
        server = find_server(find_place(TOP)).url
        if not server:
            print("No PostgreSQL server was found, so it is not measured.")
            return 0
        run_python(["-c", MAKE_DATABASE, server, DATABASE, "make"], {})
        try:
            address = f"{server.rsplit('/', 1)[0]}/{DATABASE}"
            measure("PostgreSQL", {"WATTFARE_DATA": f"{name}/postgres", "DATABASE_URL": address})
        finally:
            run_python(["-c", MAKE_DATABASE, server, DATABASE, "drop"], {})
    return 0


def measure(database: str, given: dict[str, str]) -> None:
    """Print how long presses take on one database."""
    for command in (["manage.py", "migrate", "-v0"], ["manage.py", "demo"]):
        run_python(command, given)
    kitchen = json.loads(run_python(["-c", FURNISH], given).splitlines()[-1])
    with served(given):
        pressing = Phone(kitchen)
        show(database, "one phone", pressing.presses(pressing.begin()))
        run = pressing.begin()
        show(database, "two phones at once", together(kitchen, run))
        pressing = Phone(kitchen)  # the server has closed the connection that stood idle
        run = pressing.begin()
        send_rows(kitchen)
        show(database, f"one phone beside {DEVICE_ROWS:,} rows of a device", pressing.presses(run))


def show(database: str, what: str, spans: list[float]) -> None:
    ordered = sorted(spans)
    figures = (statistics.median(ordered), ordered[int(len(ordered) * 0.95)], ordered[-1])
    print(f"| {database} | {what} | {len(spans)} | " + " | ".join(f"{span * 1000:.0f} ms" for span in figures) + " |", flush=True)


class Phone:
    """A signed-in phone with one open connection."""

    def __init__(self, kitchen: dict[str, str]) -> None:
        self.kitchen = kitchen
        self.connection = http.client.HTTPConnection("127.0.0.1", PORT, timeout=MOST_WAIT_S)
        self.cookies = {"wattfare_session": kitchen["session"]}
        self.secret = self.ask("GET", "session")["csrf"]

    def ask(self, method: str, address: str, said: object = None) -> dict[str, str]:
        """Return the answer to a request; anything but 200 or 201 stops the measuring."""
        cookies = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        headers = {"Cookie": cookies, "Content-Type": "application/json", "X-CSRFToken": getattr(self, "secret", "")}
        self.connection.request(method, f"/api/v1/{address}", None if said is None else json.dumps(said), headers)
        answer = self.connection.getresponse()
        body = answer.read()
        if cookie := answer.getheader("Set-Cookie"):
            name, _, value = cookie.partition(";")[0].partition("=")
            self.cookies[name] = value
        if answer.status not in (200, 201):
            raise SystemExit(f"{method} {address}: {answer.status} {body.decode()[:300]}")
        answered: dict[str, str] = json.loads(body)
        return answered

    def begin(self) -> str:
        """Start a cook two hours ago and return its name."""
        gear = {name: self.kitchen[name] for name in ("recipe", "appliance", "source", "meter")}
        started = datetime.now(UTC) - timedelta(seconds=COOK_S)
        name = str(uuid4())
        self.ask("PUT", f"cooks/{name}", {**gear, "started_at": started.isoformat()})
        self.ask("PUT", f"runs/{name}/events/{uuid4()}", {"kind": "stage", "stage": "hold", "at": started.isoformat()})
        return name

    def presses(self, run: str, first: int = 0, every: int = 1) -> list[float]:
        """Log readings and return how long each took to be kept. [s]"""
        spans = []
        started = datetime.now(UTC) - timedelta(seconds=COOK_S)
        for place in range(first, PRESSES, every):
            at = started + timedelta(seconds=place * COOK_S / PRESSES)
            said = {"kind": "reading", "at": at.isoformat(), "energy_wh": place * 1.5, "power_w": 700}
            began = time.perf_counter()
            self.ask("PUT", f"runs/{run}/events/{uuid4()}", said)
            spans.append(time.perf_counter() - began)
        return spans


def together(kitchen: dict[str, str], run: str) -> list[float]:
    """Return how long presses take when two phones log the same cook at once. [s]"""
    spans: list[float] = []
    phones = [
        threading.Thread(target=lambda first=first: spans.extend(Phone(kitchen).presses(run, first, 2))) for first in (0, 1)
    ]
    for phone in phones:
        phone.start()
    for phone in phones:
        phone.join()
    return spans


def send_rows(kitchen: dict[str, str]) -> None:
    """Send what a device measured in the last two hours."""
    began = datetime.now(UTC).timestamp() - COOK_S
    step_s = COOK_S / DEVICE_ROWS
    rows = "\n".join(f"{began + place * step_s:.3f},{80_000 + place / 50:.2f},700" for place in range(DEVICE_ROWS))
    connection = http.client.HTTPConnection("127.0.0.1", PORT, timeout=MOST_WAIT_S)
    connection.request("POST", "/api/v1/readings", f"t,wh_total,w\n{rows}", {"Authorization": f"Bearer {kitchen['token']}"})
    answer = connection.getresponse()
    said = json.loads(answer.read())
    if said.get("accepted") != DEVICE_ROWS:
        raise SystemExit(f"The device’s rows were not kept: {answer.status} {str(said)[:300]}")


def run_python(command: list[str], given: dict[str, str]) -> str:
    """Run Python in the checkout's environment and return what it printed."""
    done = subprocess.run(
        [sys.executable, *command],
        cwd=TOP,
        env=dict(find_place(TOP, **given).variables),
        capture_output=True,
        text=True,
        check=False,
    )
    if done.returncode:
        raise SystemExit(done.stderr or done.stdout)
    return done.stdout


@contextmanager
def served(given: dict[str, str]) -> Iterator[None]:
    """Run the real server until the measuring is done."""
    command = [sys.executable, "-m", "deploy.serve"]
    server = subprocess.Popen(
        command,
        cwd=TOP,
        env=dict(find_place(TOP, **given, WATTFARE_BIND=f"127.0.0.1:{PORT}").variables),
        stdout=subprocess.DEVNULL,
        start_new_session=True,
    )
    try:
        wait_for_server()
        yield
    finally:
        os.killpg(server.pid, signal.SIGTERM)
        server.wait(timeout=MOST_WAIT_S)


def wait_for_server() -> None:
    until = time.monotonic() + MOST_WAIT_S
    while time.monotonic() < until:
        try:
            connection = http.client.HTTPConnection("127.0.0.1", PORT, timeout=5)
            connection.request("GET", "/healthz")
            if connection.getresponse().status == 200:
                return
        except OSError:
            pass
        time.sleep(0.3)
    raise SystemExit("The server did not start in time.")


if __name__ == "__main__":
    raise SystemExit(main())
