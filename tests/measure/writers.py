"""Count what goes wrong when phones, forms and a meter's devices write the same runs at once: deadlocks, locked tables, losses.

    .venv/bin/python -m tests.measure.writers [MINUTES]

Fourteen processes write for so many minutes (10 unless another number is given) on PostgreSQL, where a server answers, then for a
tenth of that on SQLite: six runs of one meter, each process a phone, a form or a device by turns. Each write counts once with
how it ended; at the end every acknowledged reading is looked for. Nothing here judges, but a loss ends it with 1.
"""

from __future__ import annotations

import io
import json
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

from deploy.place import find_place
from deploy.postgres import find_server
from tests.measure.promises import MAKE_DATABASE

TOP = Path(__file__).resolve().parents[2]
DATABASE = "wattfare_writers_measured"
WRITERS = 14
RUNS = 6


def main() -> int:
    """Measure on each database in processes of their own, since settings are read once."""
    if "--write" in sys.argv:
        return write(float(sys.argv[1]), int(sys.argv[-1]))
    if "--make" in sys.argv:
        return make()
    minutes = float(sys.argv[1]) if len(sys.argv) > 1 else 10.0
    lost = 0
    with tempfile.TemporaryDirectory(prefix="wattfare-writers-") as name:
        server = find_server(find_place(TOP)).url
        if server:
            subprocess.run([sys.executable, "-c", MAKE_DATABASE, server, DATABASE, "make"], cwd=TOP, check=True)
            try:
                address = f"{server.rsplit('/', 1)[0]}/{DATABASE}"
                lost += measure("PostgreSQL", minutes, {"WATTFARE_DATA": f"{name}/postgres", "DATABASE_URL": address})
            finally:
                subprocess.run([sys.executable, "-c", MAKE_DATABASE, server, DATABASE, "drop"], cwd=TOP, check=True)
        lost += measure("SQLite", minutes / 10, {"WATTFARE_DATA": f"{name}/sqlite", "DATABASE_URL": ""})
    return 1 if lost else 0


def measure(engine: str, minutes: float, given: dict[str, str]) -> int:
    """Print a table for one database and return how many acknowledged readings are not there."""
    surroundings = {**os.environ, **find_place(TOP, **given).variables}
    command = [sys.executable, "-m", "tests.measure.writers", str(minutes * 60)]
    subprocess.run([*command, "--make"], cwd=TOP, env=surroundings, check=True)
    begun = [
        subprocess.Popen([*command, "--write", str(seed)], cwd=TOP, env=surroundings, stdout=subprocess.PIPE, text=True)
        for seed in range(WRITERS)
    ]
    told = [json.loads(process.communicate()[0]) for process in begun]
    ends, times = Counter[str](), [ms for one in told for ms in one["ms"]]
    for one in told:
        ends.update(one["ends"])
    lost = sum(one["lost"] for one in told)
    high = statistics.quantiles(times, n=100)
    print(f"\n{engine}: {len(times):,} writes in {minutes:g} min; median {high[49]:.0f} ms, 99th of 100 {high[98]:.0f} ms")
    print("| how it ended | writes |\n| --- | --- |")
    for name, count in ends.most_common():
        print(f"| {name} | {count:,} |")
    print(f"| acknowledged and not there | {lost:,} |", flush=True)
    return lost


def make() -> int:
    """Make the example kitchen and runs that go on."""
    from django.core.management import call_command

    import deploy.wsgi  # noqa: F401  (it names the settings and sets everything up)

    call_command("migrate", verbosity=0)
    call_command("demo", stdout=io.StringIO())
    from django.contrib.auth import get_user_model
    from django.utils import timezone

    from energy.models import Run
    from energy.runs.operations.recording import record_run
    from energy.runs.operations.typed import RunDetails, StageStart, TypedRows

    like, now = Run.objects.select_related("revision", "appliance", "source", "meter").earliest("pk"), timezone.now()
    cook = get_user_model().objects.create_superuser("writer")
    Run.objects.all().delete()
    for place in range(RUNS):
        details = RunDetails(like.revision, like.appliance, like.source, like.meter, now - timedelta(minutes=20), 4)
        rows = TypedRows(stages=[StageStart(0, "brown")])
        record_run(details=details, rows=rows, operator=cook, running=place % 2 == 0, at=now)
    return 0


def write(seconds: float, seed: int) -> int:
    """Write for so long and print what became of it."""
    import deploy.wsgi  # noqa: F401

    hand, ends, times = Hand(random.Random(seed)), Counter[str](), []
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        began = time.perf_counter()
        name, act = hand.next()
        try:
            ends[f"{name}: {act()}"] += 1
        except Exception as error:
            ends[f"{name}: {type(error).__name__}: {str(error).splitlines()[0][:60]}"] += 1
        times.append((time.perf_counter() - began) * 1000)
    print(json.dumps({"ends": ends, "ms": times, "lost": hand.lost()}))
    return 0


class Hand:
    """Whoever writes: a phone, a form or a device by turns, with runs as they were loaded at the beginning."""

    def __init__(self, chance: random.Random) -> None:
        from django.contrib.auth import get_user_model

        from energy.meters.operations.devices import make_device
        from energy.models import Run

        self.chance, self.kept = chance, []
        self.cook = get_user_model().objects.get(username="writer")
        self.runs = list(Run.objects.select_related("revision__recipe", "appliance", "source", "meter"))
        meter, cook = self.runs[0].meter, self.runs[0].operator
        self.device, _ = make_device(meter=meter, name="measured", by=cook, at=self.runs[0].recorded_at)

    def next(self) -> tuple[str, Callable[[], Any]]:
        """Return the name of the next write, and the write."""
        acts = [self.press, self.press, self.press, self.send, self.send, self.type, self.edit, self.begin_cook]
        act = self.chance.choice(acts)
        return act.__name__.replace("_", " "), act

    @property
    def run(self) -> Any:
        """One of the runs, as it was loaded."""
        return self.chance.choice(self.runs)

    def press(self) -> str:
        """A press of a phone."""
        from django.utils import timezone

        from energy.runs.domain.desk import Press
        from energy.runs.operations.desk import keep_press

        now = timezone.now()
        kind = self.chance.choice(["reading", "reading", "pause", "resume", "stage"])
        said = {"reading": {"energy_wh": 5.0}, "stage": {"stage": "hold"}}.get(kind, {})
        press = Press(uuid4(), kind, now, said)
        status = keep_press(run=self.run, press=press, by=self.cook, at=now)
        if kind == "reading":
            self.kept.append(press.id)
        return status

    def send(self) -> str:
        """What a device of the meter sends."""
        from django.utils import timezone

        from energy.meters.domain.device_lines import read_lines
        from energy.meters.operations.device_readings import keep_sent

        lines = read_lines(json.dumps({"w": self.chance.randint(0, 700)}), timezone.now())
        return str(keep_sent(device=self.device, lines=lines, at=timezone.now())[0].status)

    def type(self) -> str:
        """A reading that is typed into a form."""
        from energy.runs.domain.samples import Sample
        from energy.runs.operations.recording import add_reading

        key = uuid4()
        add_reading(run=self.run, reading=Sample(self.chance.randint(0, 1200), 5.0), key=key)
        self.kept.append(key)
        return "kept"

    def edit(self) -> str:
        """A note about the run."""
        from django.utils import timezone

        from energy.runs.operations.recording import edit_run
        from energy.runs.operations.typed import RunDetails

        run = self.run
        details = RunDetails(run.revision, run.appliance, run.source, run.meter, run.started_at, run.servings, note=str(uuid4()))
        edit_run(run=run, details=details, at=timezone.now())
        return "kept"

    def begin_cook(self) -> str:
        """Another cook begins."""
        from django.utils import timezone

        from energy.runs.operations.desk import NewCook, begin_cook
        from energy.runs.operations.typed import RunDetails

        run = self.run
        details = RunDetails(run.revision, run.appliance, run.source, run.meter, timezone.now(), 4)
        begin_cook(cook=NewCook(uuid4(), details), by=self.cook, at=timezone.now())
        return "kept"

    def lost(self) -> int:
        """Return how many readings that were acknowledged are not there."""
        from energy.models import Reading

        there: set[Any] = set()
        for start in range(0, len(self.kept), 500):
            there |= set(Reading.objects.filter(pk__in=self.kept[start : start + 500]).values_list("pk", flat=True))
        return len(set(self.kept) - there)


if __name__ == "__main__":
    sys.exit(main())
