"""How long a backup of very many rows takes, how large it is, and whether memory grows with it.

    python -m tests.measure.backup                 100,000 and 1,000,000 readings on SQLite, in a folder that goes again
    python -m tests.measure.backup --rows 50000    another number, once

Each step is a program of its own, whose largest memory is what the system says of it (ru_maxrss).
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.house.tree import TOP

FILL = """
import sys, uuid, datetime, django
django.setup()
from django.utils import timezone
from energy.models import Meter, SentReading
meter, start = Meter.objects.create(name="Plug"), timezone.now() - datetime.timedelta(days=30)
moments = (start + datetime.timedelta(seconds=n) for n in range(int(sys.argv[1])))
rows = (SentReading(meter=meter, at=at, energy_wh=n / 7, power_w=n % 700) for n, at in enumerate(moments))
SentReading.objects.bulk_create(rows, batch_size=5000)
"""


def measured(folder: Path, *arguments: str) -> tuple[float, float, str]:
    """Run a program on a data folder; return seconds, its largest memory in MB, and what it said."""
    environment = {**os.environ, "WATTFARE_DATA": str(folder), "DATABASE_URL": "", "DJANGO_SETTINGS_MODULE": "deploy.settings"}
    began = time.monotonic()
    with subprocess.Popen([sys.executable, *arguments], cwd=TOP, env=environment, stdout=subprocess.PIPE, text=True) as program:
        said = program.stdout.read() if program.stdout else ""
        _, status, used = os.wait4(program.pid, 0)
        program.returncode = os.waitstatus_to_exitcode(status)
    if program.returncode:
        sys.exit(f"{' '.join(arguments)[:60]} failed")
    return time.monotonic() - began, used.ru_maxrss / 1024, said


def main() -> None:
    """Print a table: rows, what was done, seconds, MB of memory, MB on disk."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rows", type=int, nargs="*", default=[100_000, 1_000_000])
    print("| rows | step | seconds | memory MB | file MB |\n| ---: | --- | ---: | ---: | ---: |")
    for rows in parser.parse_args().rows:
        with tempfile.TemporaryDirectory(prefix="wattfare-measure-") as name:
            folder, other = Path(name) / "one", Path(name) / "two"
            measured(folder, "manage.py", "migrate", "--verbosity", "0")
            measured(folder, "-c", FILL, str(rows))
            steps = {"backup": measured(folder, "manage.py", "backup")}
            (path,) = (folder / "backups").glob("*.backup")
            (folder / "pass").write_text("a pot, a lid, a spoon")
            steps["backup, sealed"] = measured(folder, "manage.py", "backup", "--passphrase-file", str(folder / "pass"))
            steps["restore and compare"] = measured(other, "manage.py", "restore", str(path))
            for step, (seconds, memory, _) in steps.items():
                print(f"| {rows:,} | {step} | {seconds:.1f} | {memory:.0f} | {path.stat().st_size / 2**20:.1f} |", flush=True)


if __name__ == "__main__":
    main()
