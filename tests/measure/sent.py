"""Measure what very many readings of a device cost: pages and presses before and after, in questions and milliseconds.

    .venv/bin/python -m tests.measure.sent [ROWS]

A year of one reading a second is 31.5 million rows; 2 million (23 days) are made unless another number is given, on SQLite and
then on PostgreSQL where a server answers. An index finds a run's rows, so their number should hardly matter. Nothing here judges.
"""

from __future__ import annotations

import io
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import timedelta
from itertools import islice
from pathlib import Path

from deploy.place import find_place
from deploy.postgres import find_server
from tests.measure.promises import MAKE_DATABASE

TOP = Path(__file__).resolve().parents[2]

ROWS = 2_000_000
DATABASE = "wattfare_sent_measured"
TIMES = 15
BATCH = 20_000


def main() -> int:
    """Measure on each database in a process of its own, since settings are read once."""
    if "--here" in sys.argv:
        return measure(int(sys.argv[1]))
    rows = sys.argv[1] if len(sys.argv) > 1 else str(ROWS)
    with tempfile.TemporaryDirectory(prefix="wattfare-sent-") as name:
        print("SQLite", flush=True)
        run_python(["-m", "tests.measure.sent", rows, "--here"], {"WATTFARE_DATA": f"{name}/sqlite", "DATABASE_URL": ""})
        server = find_server(find_place(TOP)).url
        if not server:
            print("No PostgreSQL server was found, so it is not measured.")
            return 0
        run_python(["-c", MAKE_DATABASE, server, DATABASE, "make"], {})
        try:
            print("\nPostgreSQL", flush=True)
            address = f"{server.rsplit('/', 1)[0]}/{DATABASE}"
            run_python(
                ["-m", "tests.measure.sent", rows, "--here"], {"WATTFARE_DATA": f"{name}/postgres", "DATABASE_URL": address}
            )
        finally:
            run_python(["-c", MAKE_DATABASE, server, DATABASE, "drop"], {})
    return 0


def run_python(command: list[str], given: dict[str, str]) -> None:
    subprocess.run([sys.executable, *command], cwd=TOP, env=dict(find_place(TOP, **given).variables), check=True)


def measure(rows: int) -> int:
    """Print a table for the database of this process."""
    from django.core.management import call_command

    import deploy.wsgi  # noqa: F401  (it names the settings and sets everything up)

    call_command("migrate", verbosity=0)
    call_command("demo", stdout=io.StringIO())
    asked = questions()
    before = {name: timed(ask) for name, ask in asked.items()}
    began = time.perf_counter()
    fill(rows)
    print(f"{rows:,} rows made in {time.perf_counter() - began:.0f} s")
    print(f"| what | queries | median before | median with {rows:,} rows |\n| --- | --- | --- | --- |")
    for name, ask in asked.items():
        queries, after_s = timed(ask)
        print(f"| {name} | {queries} | {before[name][1] * 1000:.1f} ms | {after_s * 1000:.1f} ms |", flush=True)
    return 0


def questions() -> dict[str, Callable[[], object]]:
    """Return what is asked, by name: pages, what the desk shows live, a minute of a device, a run's figures."""
    from django.contrib.auth import get_user_model
    from django.test import Client
    from django.utils import timezone

    from energy.meters.operations.devices import make_device
    from energy.models import Run
    from energy.runs.operations.summing import refresh_summary
    from kitchen.models import Recipe

    cook = get_user_model().objects.create_superuser("measurer")
    run = Run.objects.select_related("revision__recipe", "appliance", "source", "meter").order_by("-started_at").first()
    assert run is not None
    recipe = (
        Recipe.objects.filter(current_edition__isnull=False, revisions__runs=run).first()
        or Recipe.objects.filter(current_edition__isnull=False).first()
    )
    assert recipe is not None
    signed_in = Client(headers={"host": "localhost"})
    signed_in.force_login(cook)
    _, token = make_device(meter=run.meter, name="measured", by=cook, at=timezone.now())
    minute = iter(range(10**6))

    def send() -> object:
        from energy.models import DeviceToken

        DeviceToken.objects.update(requests=0)
        first = timezone.now() - timedelta(minutes=next(minute) + 1)
        lines = "\n".join(f"{first.timestamp() + place:.0f},{90_000 + place},700" for place in range(60))
        bearer = {"Authorization": f"Bearer {token}"}
        return signed_in.post("/api/v1/readings", f"t,wh_total,w\n{lines}", content_type="text/csv", headers=bearer)

    return {
        "a published recipe's page": lambda: signed_in.get(f"/r/{recipe.slug}/"),
        "its draft on the bench, collected anew": lambda: signed_in.get(f"/bench/recipes/{recipe.slug}/"),
        "a run's page": lambda: signed_in.get(f"/bench/runs/{run.pk}/"),
        "what the desk shows live": lambda: signed_in.get(f"/api/v1/runs/{run.pk}/live"),
        "the meter's devices": lambda: signed_in.get(f"/bench/meters/{run.meter_id}/devices/"),
        "60 rows of a device": send,
        "a run's figures with a device's row every second": lambda: refresh_summary(run=run),
    }


def timed(ask: Callable[[], object]) -> tuple[int, float]:
    """Return how many queries something takes, and its median time. [-, s]"""
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    ask()
    with CaptureQueriesContext(connection) as queries:
        answer = ask()
    count = len(queries)
    if getattr(answer, "status_code", 200) != 200:
        raise SystemExit(f"{getattr(answer, 'request', '')}: {getattr(answer, 'status_code', '')}")
    spans = []
    for _ in range(TIMES):
        began = time.perf_counter()
        ask()
        spans.append(time.perf_counter() - began)
    return count, statistics.median(spans)


def fill(rows: int) -> None:
    """Make a reading for each second around the newest run: half of them before it, as a plug that is always on would."""
    from energy.models import Run, SentReading

    run = Run.objects.order_by("-started_at").first()
    assert run is not None
    first = run.started_at - timedelta(seconds=rows // 2)

    def made() -> Iterator[SentReading]:
        for place in range(rows):
            watts = 700.0 if place % 60 < 30 else 2.0
            yield SentReading(meter_id=run.meter_id, at=first + timedelta(seconds=place), energy_wh=place / 10, power_w=watts)

    making = made()
    while batch := list(islice(making, BATCH)):
        SentReading.objects.bulk_create(batch)


if __name__ == "__main__":
    raise SystemExit(main())
