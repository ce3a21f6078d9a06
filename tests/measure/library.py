"""Measure the library's search over 20,000 recipes, and print it as a table; on each database.

    python3 -m tests.measure.library                 20,000 recipes: about three minutes
    python3 -m tests.measure.library --recipes 2000  fewer

The recipes are made from the example's editions, with other titles and ingredients; nothing of yours is touched. Each search is
done 15 times; the table shows the median and the longest, of the questions to the database and of the whole page.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path

from deploy.place import Place, find_place, run_plainly, say
from deploy.postgres import find_server
from tests.measure.promises import own_database

TOP = Path(__file__).resolve().parents[2]

RECIPES = 20_000


def main() -> int:
    """Measure on SQLite, then on PostgreSQL where a server is found."""
    options = read_options()
    with tempfile.TemporaryDirectory(prefix="wattfare-measure-") as name:
        place = find_place(TOP, WATTFARE_DATA=f"{name}/sqlite", DATABASE_URL="")
        measure("SQLite", place, options.recipes)
        server = find_server(place)
        if server.why_not:
            say(f"PostgreSQL: {server.why_not}")
            return 0
        with own_database(place, server.url) as url:
            measure("PostgreSQL", find_place(TOP, WATTFARE_DATA=f"{name}/postgresql", DATABASE_URL=url), options.recipes)
    return 0


def read_options() -> argparse.Namespace:
    """Return what was asked for on the command line."""
    parser = argparse.ArgumentParser(description="Measure the library's search over many recipes.")
    parser.add_argument("--recipes", type=int, default=RECIPES, help="how many recipes to make")
    return parser.parse_args()


def measure(title: str, place: Place, recipes: int) -> None:
    """Make the rows in the place's own database and print what the searches take."""
    say(f"\n{title}, {recipes} recipes")
    Path(place.variables["WATTFARE_DATA"]).mkdir(parents=True, exist_ok=True)
    for arguments in (("manage.py", "migrate"), ("manage.py", "foods"), ("manage.py", "demo")):
        run_inside(place, *arguments, stdout=subprocess.DEVNULL)
    run_inside(place, "-m", "tests.measure.many_recipes", str(recipes))


def run_inside(place: Place, *arguments: str, stdout: int | None = None) -> None:
    """Run the checkout's own Python."""
    subprocess.run(
        [str(place.python), *arguments],
        cwd=TOP,
        env={**place.variables, "DJANGO_SETTINGS_MODULE": "deploy.settings"},
        stdout=stdout,
        check=True,
    )


if __name__ == "__main__":
    sys.exit(run_plainly(main))
