"""Kill writers in the middle of what they do, again and again: is every reading that was acknowledged still there?

    .venv/bin/python -m tests.measure.kill [KILLS]

A phone, a form or a device by turns (``writers.Hand``) writes in a process that is killed (SIGKILL) after 5 to 200 ms and begins
anew, 1,000 times unless another number is given, on SQLite and then on PostgreSQL where a server answers. A reading counts as
acknowledged when its writer was told so. At the end each of them is looked for, the database is read whole, and the figures of
every run that has ended are worked out again. Anything lost or different ends it with 1.
"""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from uuid import UUID

from deploy.place import find_place
from deploy.postgres import find_server
from tests.measure.promises import MAKE_DATABASE
from tests.measure.writers import TOP, Hand, make

DATABASE = "wattfare_kill_measured"
KILLS = 1_000
KEY_BYTES = 16
WARM = 40


def main() -> int:
    """Measure on each database in a process of its own, since settings are read once."""
    kills = sys.argv[1] if len(sys.argv) > 1 else str(KILLS)
    if "--here" in sys.argv:
        return measure(int(kills))
    print(
        "| database | kills | acknowledged | lost | whole | runs whose figures differ | seconds |\n" + "| --- " * 7 + "|",
        flush=True,
    )
    wrong = 0
    with tempfile.TemporaryDirectory(prefix="wattfare-kill-") as name:
        wrong += _in_process(kills, {"WATTFARE_DATA": f"{name}/sqlite", "DATABASE_URL": ""})
        server = find_server(find_place(TOP)).url
        if server:
            subprocess.run([sys.executable, "-c", MAKE_DATABASE, server, DATABASE, "make"], cwd=TOP, check=True)
            try:
                address = f"{server.rsplit('/', 1)[0]}/{DATABASE}"
                wrong += _in_process(kills, {"WATTFARE_DATA": f"{name}/postgres", "DATABASE_URL": address})
            finally:
                subprocess.run([sys.executable, "-c", MAKE_DATABASE, server, DATABASE, "drop"], cwd=TOP, check=True)
    return 1 if wrong else 0


def _in_process(kills: str, given: dict[str, str]) -> int:
    surroundings = {**os.environ, **find_place(TOP, **given).variables}
    command = [sys.executable, "-m", "tests.measure.kill", kills, "--here"]
    return subprocess.run(command, cwd=TOP, env=surroundings, check=False).returncode


def measure(kills: int) -> int:
    """Print one row and return whether something is wrong."""
    make()
    from django.db import connection, connections

    from energy.models import DeskEvent, Reading

    chance, began = random.Random(kills), time.monotonic()
    acknowledged: set[UUID] = set()
    hand = Hand(chance)
    for _ in range(WARM):
        hand.next()[1]()
    for number in range(kills):
        connections.close_all()
        hand.chance = random.Random(number)
        acknowledged |= _killed_writer(hand, chance.uniform(0.005, 0.2))
    here = set(Reading.objects.values_list("pk", flat=True)) | set(DeskEvent.objects.values_list("pk", flat=True))
    lost, whole, differ = len(acknowledged - here), _is_whole(), _runs_that_differ()
    print(
        f"| {connection.vendor} | {kills:,} | {len(acknowledged):,} | {lost} | {'yes' if whole else 'no'} | {differ} "
        f"| {time.monotonic() - began:.0f} |",
        flush=True,
    )
    return 1 if lost or differ or not whole else 0


def _killed_writer(hand: Hand, lives_s: float) -> set[UUID]:
    """Let a writer live for so long, and return the readings that it was told are kept."""
    read_end, write_end = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read_end)
        try:
            _write_on(hand, write_end)
        finally:
            os._exit(1)
    os.close(write_end)
    time.sleep(lives_s)
    os.kill(child, signal.SIGKILL)
    if not os.WIFSIGNALED(os.waitpid(child, 0)[1]):
        raise RuntimeError("A writer ended before it was killed: a write failed. Its reason stands above.")
    with os.fdopen(read_end, "rb") as told:
        keys = told.read()
    return {UUID(bytes=keys[at : at + KEY_BYTES]) for at in range(0, len(keys) - KEY_BYTES + 1, KEY_BYTES)}


def _write_on(hand: Hand, told: int) -> None:
    """Write until killed; each reading that is kept is told by its name."""
    while True:
        before = len(hand.kept)
        _, act = hand.next()
        act()
        for key in hand.kept[before:]:
            os.write(told, key.bytes)


def _is_whole() -> bool:
    from django.db import connection

    if connection.vendor != "sqlite":
        return True
    with connection.cursor() as cursor:
        return cursor.execute("PRAGMA integrity_check").fetchone() == ("ok",)


def _runs_that_differ() -> int:
    """Return in how many runs that have ended the kept figures are not those that follow from their readings."""
    from energy.models import Run
    from energy.runs.operations.summing import refresh_summary

    ends: Counter[bool] = Counter()
    for run in Run.objects.filter(ended_at__isnull=False):
        before = run.summary
        refresh_summary(run=run)
        ends[Run.objects.get(pk=run.pk).summary == before] += 1
    return ends[False]


if __name__ == "__main__":
    sys.exit(main())
