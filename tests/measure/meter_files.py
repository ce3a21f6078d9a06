"""How long a meter's file of a million rows takes, and how much memory at its peak: ``python -m tests.measure.meter_files``.

The files are invented and made in a passing folder; each shape is read in a process of its own, so that the peaks are its own.
"""

from __future__ import annotations

import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

ROWS = 1_000_000
_START = datetime(2026, 10, 1, tzinfo=UTC)
_BAR_S, _BAR_MB = 10.0, 150.0


def _watts(row: int) -> float:
    return 1180.5 if row % 600 < 200 else 1.9


def _iso() -> Iterator[str]:
    yield "time,power_w,energy_kwh\n"
    energy = 0.0
    for row in range(ROWS):
        energy += _watts(row) / 3.6e6
        yield f"{(_START + timedelta(seconds=row)).isoformat()},{_watts(row)},{energy:.4f}\n"


def _points() -> Iterator[str]:
    yield "Zeit;Leistung [W];Spannung [V];Strom [A]\n"
    for row in range(ROWS):
        yield f"{_START + timedelta(seconds=row):%d.%m.%Y %H:%M:%S};{_watts(row):.1f};230,1;5,1\n".replace(".5;", ",5;").replace(
            ".9;", ",9;"
        )


def _states() -> Iterator[str]:
    yield "entity_id,state,last_changed\n"
    for row in range(ROWS):
        yield f"sensor.plug_power,{_watts(row // 3 * 100) + row % 7},{(_START + timedelta(seconds=row * 2)).isoformat()}\n"


def _halves() -> Iterator[str]:
    yield "Date\tTime\tW\tVA\tmA\n"
    for row in range(ROWS):
        yield f"{_START + timedelta(seconds=row):%m/%d/%Y\t%I:%M:%S %p}\t{_watts(row)}\t{_watts(row) + 9}\t5100\n"


def _epochs() -> Iterator[str]:
    yield "ts|wmin\n"
    for row in range(ROWS):
        yield f"{int(_START.timestamp()) * 1000 + row * 1000}|{row * 7}\n"


def _json() -> Iterator[str]:
    for row in range(ROWS):
        yield f'{{"t":{1790000000 + row},"power_w":{_watts(row)}}}\n'


def _days() -> Iterator[str]:
    yield "Date," + ",".join(f"{n // 4:02d}:{n % 4 * 15:02d}" for n in range(96)) + "\n"
    for day in range(ROWS // 96):
        yield f"{_START.date() + timedelta(days=day)}," + ",".join(["0.123"] * 96) + "\n"


SHAPES: dict[str, Callable[[], Iterator[str]]] = {
    "instants, watts, counter": _iso,
    "points, decimal commas": _points,
    "states as they change": _states,
    "day and clock apart, tabs": _halves,
    "epoch, watt-minutes": _epochs,
    "json, an object a line": _json,
    "96 columns a day": _days,
}


def main() -> int:
    """Measure every shape and print the table; 1 where one is over the bar."""
    over = 0
    print(f"{'shape':28}{'MB file':>9}{'look s':>8}{'read s':>8}{'thin s':>8}{'peak MB':>9}{'rows':>11}{'kept':>8}")
    with tempfile.TemporaryDirectory() as folder:
        for name, rows in SHAPES.items():
            path = Path(folder) / "log.txt"
            with path.open("w", encoding="utf-8") as file:
                file.writelines(rows())
            done = subprocess.run(
                [sys.executable, "-m", "tests.measure.meter_files", str(path)], capture_output=True, text=True, check=True
            )
            look_s, read_s, thin_s, peak_mb, read, kept = done.stdout.split()
            over += float(look_s) + float(read_s) > _BAR_S or float(peak_mb) > _BAR_MB
            size = path.stat().st_size / 1e6
            print(f"{name:28}{size:9.1f}{look_s:>8}{read_s:>8}{thin_s:>8}{peak_mb:>9}{int(read):11,}{int(kept):8,}")
    return 1 if over else 0


def measure(path: Path) -> str:
    """Return what one file takes: seconds of look, reading and thinning (CPU), peak MB, readings before and after thinning."""
    from energy.meters.files.looking import HEAD_BYTES, look_at
    from energy.meters.files.reading import read_meter_log
    from energy.meters.files.thinning import thinned

    begun = time.process_time()
    with path.open("rb") as file:
        look = look_at(file.read(HEAD_BYTES), zone="Europe/Vienna")
    looked = time.process_time()
    with path.open("rb") as file:
        log = read_meter_log(file, replace(look.shape, day_first=look.shape.day_first or False), zone="Europe/Vienna")
    read = time.process_time()
    short = thinned(log)
    ended = time.process_time()
    peak_mb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    times = f"{looked - begun:.2f} {read - looked:.2f} {ended - read:.2f}"
    return f"{times} {peak_mb:.0f} {len(log.times_s)} {len(short.times_s)}"


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(measure(Path(sys.argv[1])))
    else:
        sys.exit(main())
