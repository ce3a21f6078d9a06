"""Measure what the README promises, and print it as a table: start, pages, paper cards, memory, size; on each database.

    python3 -m tests.measure.promises            everything, with packages installed anew: a few minutes
    python3 -m tests.measure.promises --warm     with the checkout's own environment, so that no cold start is measured

Nothing here judges: the figures depend on the computer. Standard library only.
"""

from __future__ import annotations

import argparse
import json
import signal
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from deploy.place import Place, find_place, run_plainly, say
from deploy.postgres import find_server

TOP = Path(__file__).resolve().parents[2]

PORT = 8391
ADDRESS = f"http://127.0.0.1:{PORT}"
MOST_WAIT_S = 600
LATER = 15
SETTLING_S = 3
DATABASE = "wattfare_measured"
# Runs in the checkout's environment: which recipe is looked at, and how many questions each page puts to the database.
COUNT_QUERIES = """
import json, os, django
os.environ["DJANGO_SETTINGS_MODULE"] = "deploy.settings"
django.setup()
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from kitchen.models import Recipe
recipe = Recipe.objects.filter(current_edition__isnull=False).order_by("slug").first()
counts = {"address": f"/r/{recipe.slug}/"}
for name, address in (("recipe", counts["address"]), ("library", "/")):
    with CaptureQueriesContext(connection) as queries:
        assert Client(headers={"host": "localhost"}).get(address).status_code == 200
    counts[name] = len(queries)
print(json.dumps(counts))
"""
MAKE_DATABASE = """
import sys, psycopg
with psycopg.connect(sys.argv[1], autocommit=True) as connection:
    connection.execute(f"drop database if exists {sys.argv[2]}")
    if sys.argv[3] == "make":
        connection.execute(f"create database {sys.argv[2]}")
"""


def main() -> int:
    """Measure on SQLite, then on PostgreSQL where a server is found."""
    options = read_options()
    with tempfile.TemporaryDirectory(prefix="wattfare-measure-") as name:
        folder = Path(name)
        venv = {} if options.warm else {"WATTFARE_VENV": str(folder / "venv")}
        place = find_place(TOP, WATTFARE_DATA=str(folder / "sqlite"), DATABASE_URL="", **venv)
        show("SQLite", measure(place, cold=not options.warm))
        show("Installed", measure_size(place))
        server = find_server(place)
        if server.why_not:
            say(f"PostgreSQL: {server.why_not}")
            return 0
        with own_database(place, server.url) as url:
            place = find_place(TOP, WATTFARE_DATA=str(folder / "postgresql"), DATABASE_URL=url, **venv)
            show("PostgreSQL", measure(place, cold=False))
    return 0


def read_options() -> argparse.Namespace:
    """Return what was asked for on the command line."""
    parser = argparse.ArgumentParser(description="Measure what the README promises.")
    parser.add_argument("--warm", action="store_true", help="use the checkout's own environment as it is")
    return parser.parse_args()


def measure(place: Place, *, cold: bool) -> list[tuple[str, str]]:
    """Return the figures of one database: a first start with the example, then a second one that is looked at."""
    with serving(place) as (_, first_start_s):
        pass
    with serving(place) as (server, second_start_s):
        time.sleep(SETTLING_S)
        idle_mb, with_parent_mb = resident_mb(server.pid)
        counts = json.loads(inside(place, COUNT_QUERIES))
        card = f"{counts['address']}card.pdf"
        first_card_ms = timed_ms(card)
        rows = [
            ("cold start, packages installed anew" if cold else "first start, packages there", f"{first_start_s:.1f} s"),
            ("second start", f"{second_start_s:.1f} s"),
            ("public recipe page", f"{counts['recipe']} queries, {later_ms(counts['address'])}"),
            ("library", f"{counts['library']} queries, {later_ms('/')}"),
            ("first PDF card of a process", f"{first_card_ms:.0f} ms"),
            ("later PDF cards", later_ms(card)),
            ("two idle workers", f"{idle_mb:.0f} MB ({with_parent_mb:.0f} MB with their parent)"),
            ("the same after these pages", f"{resident_mb(server.pid)[0]:.0f} MB"),
        ]
    return rows


@contextmanager
def serving(place: Place) -> Iterator[tuple[subprocess.Popen[bytes], float]]:
    """Run ``deploy/run`` until it answers; yield its process and how long that took; stop it as Ctrl-C does."""
    began = time.monotonic()
    command = [sys.executable, str(TOP / "deploy" / "run"), "--port", str(PORT)]
    with subprocess.Popen(command, env=dict(place.variables), stdout=subprocess.DEVNULL) as server:
        try:
            wait_until(answers_or_ended(server))
            yield server, time.monotonic() - began
        finally:
            server.send_signal(signal.SIGINT)
            server.wait(timeout=30)


def answers_or_ended(server: subprocess.Popen[bytes]) -> Callable[[], bool]:
    """Return a question: does the site answer yet? A server that has ended is an error."""

    def answers() -> bool:
        if server.poll() is not None:
            raise RuntimeError("deploy/run has ended before it served")
        try:
            with urllib.request.urlopen(f"{ADDRESS}/healthz", timeout=5) as answer:
                return bool(answer.status == 200)
        except OSError:
            return False

    return answers


def wait_until(question: Callable[[], bool]) -> None:
    """Ask every twentieth of a second until the answer is yes."""
    deadline = time.monotonic() + MOST_WAIT_S
    while not question():
        if time.monotonic() > deadline:
            raise TimeoutError("the site did not answer in time")
        time.sleep(0.05)


def timed_ms(address: str) -> float:
    """Return how long one request takes."""
    began = time.perf_counter()
    with urllib.request.urlopen(ADDRESS + address, timeout=60) as answer:
        answer.read()
    return (time.perf_counter() - began) * 1000


def later_ms(address: str) -> str:
    """Return the median and the longest of some requests, after one that does not count."""
    timed_ms(address)
    spans = [timed_ms(address) for _ in range(LATER)]
    return f"{statistics.median(spans):.0f} ms ({max(spans):.0f} at most)"


def resident_mb(parent: int) -> tuple[float, float]:
    """Return the memory of the workers, shared pages counted in proportion; without and with their parent."""
    workers = Path(f"/proc/{parent}/task/{parent}/children").read_text(encoding="ascii").split()
    of_workers = sum(proportional_mb(int(worker)) for worker in workers)
    return of_workers, of_workers + proportional_mb(parent)


def proportional_mb(process: int) -> float:
    """Return the proportional set size of one process."""
    lines = Path(f"/proc/{process}/smaps_rollup").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) / 1024 for line in lines if line.startswith("Pss:"))


def measure_size(place: Place) -> list[tuple[str, str]]:
    """Return how many packages there are and what they weigh."""
    packages = next((place.environment.venv / "lib").glob("python*/site-packages"))
    own = [path for path in packages.iterdir() if path.name.partition("-")[0] not in {"pip", "setuptools", "_distutils_hack"}]
    files = [path for top in own for path in ([top] if top.is_file() else top.rglob("*")) if path.is_file()]
    count = sum(path.suffix == ".dist-info" for path in own)
    return [("packages", str(count)), ("together", f"{sum(path.stat().st_size for path in files) / 1e6:.0f} MB")]


def inside(place: Place, program: str, *arguments: str) -> str:
    """Run a short program with the checkout's own Python; return what it printed."""
    command = [str(place.python), "-c", program, *arguments]
    return subprocess.run(command, cwd=TOP, env=dict(place.variables), stdout=subprocess.PIPE, text=True, check=True).stdout


@contextmanager
def own_database(place: Place, server_url: str) -> Iterator[str]:
    """Make an empty database on the server; drop it afterwards."""
    inside(place, MAKE_DATABASE, server_url, DATABASE, "make")
    try:
        yield f"{server_url.rpartition('/')[0]}/{DATABASE}"
    finally:
        inside(place, MAKE_DATABASE, server_url, DATABASE, "drop")


def show(title: str, rows: list[tuple[str, str]]) -> None:
    """Print one part of the table."""
    say(f"\n{title}")
    for words, figure in rows:
        say(f"  {words:<38} {figure}")


if __name__ == "__main__":
    sys.exit(run_plainly(main))
