"""What many devices at once cost the real server: each sends a reading a second over HTTP, on this computer alone.

    .venv/bin/python -m tests.measure.devices [DEVICES] [SECONDS]

Twenty devices for thirty seconds unless other numbers are given, each of a meter of its own, on SQLite and then on PostgreSQL
where a server answers. At the end every reading that was accepted is looked for; a loss ends it with 1.
"""

from __future__ import annotations

import http.client
import json
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter

from deploy.place import find_place
from deploy.postgres import find_server
from tests.measure.desk import PORT, TOP, run_python, served
from tests.measure.promises import MAKE_DATABASE

DATABASE = "wattfare_devices_measured"
DEVICES, SECONDS = 20, 30

FURNISH = """
import sys, django
django.setup()
from django.contrib.auth.models import User
from django.core.management import call_command
from django.utils import timezone
from energy.meters.operations.devices import make_device
from energy.models import Meter
call_command("migrate", verbosity=0)
cook, now = User.objects.create_superuser("cook"), timezone.now()
for number in range(int(sys.argv[1])):
    print(make_device(meter=Meter.objects.create(name=f"plug {number}"), name="plug", by=cook, at=now)[1])
"""
COUNT = "import django; django.setup(); from energy.models import SentReading; print(SentReading.objects.count())"


def main() -> int:
    """Print a row for each database; 1 where something that was accepted is not there."""
    devices, seconds = (int(given) for given in (*sys.argv[1:3], *(DEVICES, SECONDS)[len(sys.argv) - 1 :]))
    columns = ("database", "devices", "sent", "accepted", "otherwise", "median ms", "99th of 100 ms", "lost")
    print(f"| {' | '.join(columns)} |\n{'| --- ' * len(columns)}|", flush=True)
    lost = 0
    with tempfile.TemporaryDirectory(prefix="wattfare-devices-") as name:
        lost += measure("SQLite", devices, seconds, {"WATTFARE_DATA": f"{name}/sqlite", "DATABASE_URL": ""})
        server = find_server(find_place(TOP)).url
        if server:
            subprocess.run([sys.executable, "-c", MAKE_DATABASE, server, DATABASE, "make"], cwd=TOP, check=True)
            try:
                address = f"{server.rsplit('/', 1)[0]}/{DATABASE}"
                lost += measure("PostgreSQL", devices, seconds, {"WATTFARE_DATA": f"{name}/postgres", "DATABASE_URL": address})
            finally:
                subprocess.run([sys.executable, "-c", MAKE_DATABASE, server, DATABASE, "drop"], cwd=TOP, check=True)
    return 1 if lost else 0


def measure(engine: str, devices: int, seconds: int, given: dict[str, str]) -> int:
    """Print one row and return how many accepted readings are not there."""
    given = {**given, "DJANGO_SETTINGS_MODULE": "deploy.settings"}
    tokens = run_python(["-c", FURNISH, str(devices)], given).split()
    told, times = list[str](), list[float]()
    with served(given):
        threads = [threading.Thread(target=send, args=(token, seconds, told, times)) for token in tokens]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join()
    ends = Counter(told)
    lost = ends["accepted"] - int(run_python(["-c", COUNT], given))
    high = statistics.quantiles(times, n=100)
    otherwise = ", ".join(f"{name} {count}" for name, count in ends.items() if name != "accepted") or "none"
    figures = (engine, devices, len(times), ends["accepted"], otherwise, f"{high[49]:.0f}", f"{high[98]:.0f}", max(lost, 0))
    print(f"| {' | '.join(map(str, figures))} |", flush=True)
    return max(lost, 0)


def send(token: str, seconds: int, told: list[str], times: list[float]) -> None:
    """Send a reading a second, as a plug does."""
    connection = http.client.HTTPConnection("127.0.0.1", PORT, timeout=30)
    for number in range(seconds):
        began = time.perf_counter()
        try:
            body = json.dumps({"w": 700 + number, "wh_total": number})
            connection.request("POST", "/api/v1/readings", body, {"Authorization": f"Bearer {token}"})
            answer = connection.getresponse()
            said = json.loads(answer.read())
            told.append("accepted" if said.get("accepted") else f"answer {answer.status}")
        except OSError as error:
            told.append(type(error).__name__)
            connection.close()
        times.append((time.perf_counter() - began) * 1000)
        time.sleep(max(0.0, 1.0 - (time.perf_counter() - began)))


if __name__ == "__main__":
    sys.exit(main())
