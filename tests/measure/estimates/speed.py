"""Measure estimates on the example kitchen, and print tables: how quick they are, and whether a small cook foretells a large one.

    .venv/bin/python -m tests.measure.estimates --speed

Makes a data folder of its own, loads the example kitchen into it, and throws it away. Nothing here judges. The example's smaller
cooks are invented with the closed form of heating with losses, so that the last table tells of the arithmetic, not of nature.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from deploy.place import find_place

TOP = Path(__file__).resolve().parents[3]

ROUNDS = 300
KIT = {"battery_wh": 500.0, "inverter_w": 600.0, "panel_w": 200.0, "altitude_m": 2000.0, "ambient_c": -3.0, "food_start_c": 4.0}
QUERY = "&".join(f"{name}={value:g}" for name, value in KIT.items())


def main(arguments: list[str]) -> None:
    """Print the tables, in a process of its own with a data folder of its own, since settings are read once."""
    if arguments == ["--here"]:
        _set_up()
        _print_speed()
        _print_page()
        _print_foretold()
        return
    with tempfile.TemporaryDirectory(prefix="wattfare-estimates-") as folder:
        variables = dict(find_place(TOP, WATTFARE_DATA=folder, DATABASE_URL="").variables)
        subprocess.run([sys.executable, "-m", "tests.measure.estimates.speed", "--here"], cwd=TOP, env=variables, check=True)


def _set_up() -> None:
    from django.core.management import call_command

    import deploy.wsgi  # noqa: F401  (it names the settings and sets everything up)

    call_command("migrate", verbosity=0)
    call_command("demo", verbosity=0)


def _facts() -> dict[str, Any]:
    """Return the energy facts of every measured recipe by its address."""
    from django.utils import timezone

    from energy.cards.collecting import energy_facts
    from kitchen.models import Recipe

    found = {}
    for recipe in Recipe.objects.order_by("slug"):
        revision = recipe.revisions.order_by("-number").first()
        if revision is not None and (facts := energy_facts(revision, at=timezone.now())) is not None:
            found[recipe.slug] = facts
    return found


def _taken_ms(work: Callable[[], object], rounds: int) -> list[float]:
    taken = []
    for _ in range(rounds):
        start = time.perf_counter_ns()
        work()
        taken.append((time.perf_counter_ns() - start) / 1e6)
    return sorted(taken)


def _print_speed() -> None:
    from energy.estimates.domain.meal import meal_energy

    print(f"{'an estimate with a kit':32}{'median ms':>12}{'95 % ms':>12}")
    for slug, facts in _facts().items():
        taken = _taken_ms(lambda facts=facts: meal_energy(facts, facts.servings * 2 - 1, KIT), ROUNDS)
        print(f"{slug:32}{statistics.median(taken):>12.3f}{taken[int(0.95 * len(taken))]:>12.3f}")


def _print_page() -> None:
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    address = f"/r/red-lentil-and-squash-pot/for-11/?{QUERY}"
    client = Client(headers={"host": "localhost"})
    client.get(address)
    with CaptureQueriesContext(connection) as queries:
        answer = client.get(address)
    asked = len(queries)
    taken = _taken_ms(lambda: client.get(address), 20)
    print(f"\n{'the recipe page with a kit':32}{'queries':>12}{'median ms':>12}{'bytes':>12}")
    title, median_ms = f"for 11, answer {answer.status_code}", statistics.median(taken)
    print(f"{title:32}{asked:>12}{median_ms:>12.1f}{len(answer.content):>12}")


def _print_foretold() -> None:
    """Print what the balance of each size alone says of the other size, beside what was measured there."""
    print(f"\n{'one size foretells another':28}{'from':>6}{'to':>5}{'estimate Wh':>14}{'range':>14}{'measured Wh':>14}  inside")
    for slug, facts in _facts().items():
        for size in facts.sizes:
            for other in facts.sizes:
                if size.servings != other.servings:
                    _print_one(slug, size.servings, other)


def _print_one(slug: str, servings: int, other: Any) -> None:
    from energy.cards.collecting import measured_run
    from energy.estimates.domain.combine import combine_runs
    from energy.estimates.domain.estimating import estimate
    from energy.models import Run

    runs = Run.objects.filter(revision__recipe__slug=slug, servings=servings, ended_at__isnull=False)
    runs = runs.select_related("revision", "appliance", "source__tariff", "meter")
    newest = max(run.revision.number for run in runs)
    told = [fact for run in runs if run.revision.number == newest and (fact := measured_run(run, run.revision))]
    facts = combine_runs(told, servings=servings)
    if facts is None:
        return
    made, _ = estimate(facts, other.servings)
    inside = "yes" if made.low_wh <= other.energy_wh <= made.high_wh else "NO"
    spread = f"{made.low_wh:.0f}-{made.high_wh:.0f}"
    row = f"{slug:28}{servings:>6}{other.servings:>5}{made.energy_wh:>14.0f}{spread:>14}{other.energy_wh:>14.0f}"
    print(f"{row}  {inside} ({made.how})")


if __name__ == "__main__":
    main(sys.argv[1:])
