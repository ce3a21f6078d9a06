"""Measure what a recipe's page takes of a processor, without any cache, and print it as a table.

    .venv/bin/python -m tests.measure.page            200 requests for each page
    .venv/bin/python -m tests.measure.page 50         fewer

Makes a data folder of its own, loads the example kitchen into it, and throws it away. Nothing here judges. Times are those of the
thread that answers, so that what else the computer does counts little; what is loaded is set aside from the collector of
garbage, as the server does before it forks. "Presenting" is from an edition's facts to what the templates get, "drawing" the
templates; the rest is the database, the form fields' reading and the frame of the answer.
"""

from __future__ import annotations

import gc
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest import mock

from deploy.place import find_place

TOP = Path(__file__).resolve().parents[2]

REQUESTS = 200
PLACE = "/r/red-lentil-and-squash-pot/"
PAGES = {
    "as written": PLACE,
    "for another number": f"{PLACE}for-9/",
    "for a reader's kit": f"{PLACE}for-9/?battery_wh=500&inverter_w=600&panel_w=200&altitude_m=2000&ambient_c=-3",
}


def main(arguments: list[str]) -> None:
    """Print the table, in a process of its own with a data folder of its own, since settings are read once."""
    if arguments[:1] == ["--here"]:
        _set_up()
        _print_table(int(arguments[1]))
        return
    requests = arguments[0] if arguments else str(REQUESTS)
    with tempfile.TemporaryDirectory(prefix="wattfare-page-") as folder:
        variables = dict(find_place(TOP, WATTFARE_DATA=folder, DATABASE_URL="").variables)
        subprocess.run([sys.executable, "-m", "tests.measure.page", "--here", requests], cwd=TOP, env=variables, check=True)


def _set_up() -> None:
    from django.core.management import call_command

    import deploy.wsgi  # noqa: F401  (it names the settings and sets everything up)

    call_command("migrate", verbosity=0)
    call_command("foods", verbosity=0)
    call_command("demo", verbosity=0)


def _print_table(requests: int) -> None:
    from django.test import Client

    client = Client(headers={"host": "localhost"})
    for address in PAGES.values():
        client.get(address)
    gc.collect()
    gc.freeze()
    print(f"{'CPU in ms, median':24}{'page':>8}{'lowest':>8}{'presenting':>12}{'drawing':>9}{'reads':>7}{'meals':>7}")
    for words, address in PAGES.items():
        print(f"{words:24}{_row(client, address, requests)}")


def _row(client: Any, address: str, requests: int) -> str:
    from energy.estimates.domain import meal
    from kitchen.domain import record

    with _counted(record, "read") as reads, _counted(meal, "estimate") as meals:
        assert client.get(address).status_code == 200
    facts = sum(times for name, times in reads.items() if name in ("RecipeFacts", "EnergyFacts", "CostFacts"))
    taken = _timed(client, address, requests)
    page, presenting, drawing = map(statistics.median, taken)
    return f"{page:>8.1f}{min(taken[0]):>8.1f}{presenting:>12.1f}{drawing:>9.1f}{facts:>7}{meals.total():>7}"


@contextmanager
def _counted(module: Any, name: str) -> Iterator[Counter[str]]:
    """Count a function's calls by the name of what it is first called with."""
    counts: Counter[str] = Counter()
    function = getattr(module, name)

    def counting(first: Any, *rest: Any, **more: Any) -> Any:
        counts[getattr(first, "__name__", type(first).__name__)] += 1
        return function(first, *rest, **more)

    with mock.patch.object(module, name, counting):
        yield counts


def _timed(client: Any, address: str, requests: int) -> tuple[list[float], list[float], list[float]]:
    """Return what each request took, and of that presenting and drawing. [ms]"""
    from kitchen.views import public, showing

    page, presenting, drawing = [], [], []
    with _summed(public, "read_facts") as read, _summed(showing, "present_page") as shown, _summed(showing, "render") as drawn:
        for _ in range(requests):
            before = sum(read) + sum(shown), sum(drawn)
            page.append(_taken_ms(lambda: client.get(address)))
            presenting.append(sum(read) + sum(shown) - before[0])
            drawing.append(sum(drawn) - before[1])
    return page, presenting, drawing


@contextmanager
def _summed(module: Any, name: str) -> Iterator[list[float]]:
    """Collect what a function takes each time that it is called. [ms]"""
    taken: list[float] = []
    function = getattr(module, name)

    def timed(*arguments: Any, **more: Any) -> Any:
        found = []
        taken.append(_taken_ms(lambda: found.append(function(*arguments, **more))))
        return found[0]

    with mock.patch.object(module, name, timed):
        yield taken


def _taken_ms(work: Callable[[], object]) -> float:
    began = time.thread_time()
    work()
    return (time.thread_time() - began) * 1000


if __name__ == "__main__":
    main(sys.argv[1:])
