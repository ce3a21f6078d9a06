"""The gate: every check that a change passes, one after another, and a table of how each ended. Standard library only."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

from deploy.place import Place, say
from deploy.postgres import find_server

DOMAINS = ["kitchen/domain", "kitchen/words", "kitchen/publish", "energy", "costing/domain", "costing/words"]
HOUSE_CHECKS = {
    "ruff check": ["ruff", "check", "."],
    "ruff format": ["ruff", "format", "--check", "."],
    "mypy": ["mypy"],
    "import contracts": ["lint-imports"],
    "migrations": ["python", "manage.py", "makemigrations", "--check", "--dry-run"],
}
COUNTED = re.compile(r"(\d+) (passed|failed|skipped|errors?|deselected)")
NO_TESTS_RAN = 5


@dataclass
class Outcome:
    """How one part of the gate ended."""

    name: str
    word: str
    span_s: float = 0.0
    note: str = ""
    counts: Mapping[str, int] = field(default_factory=dict)

    def __str__(self) -> str:
        return f"  {self.name:<20} {self.word:<8} {self.span_s:6.1f} s   {self.note}".rstrip()


def run_gate(place: Place, pytest_arguments: list[str], *, quick: bool, sqlite_only: bool) -> int:
    """Run the checks and the tests; print the table; return 0 when nothing failed."""
    outcomes = [] if quick else run_checks(place, HOUSE_CHECKS)
    outcomes.append(run_tests(place, "tests on SQLite", "", sqlite_arguments(pytest_arguments, quick=quick)))
    if not sqlite_only:
        outcomes.append(run_postgres_half(place, pytest_arguments))
    return summarise(outcomes)


def sqlite_arguments(pytest_arguments: list[str], *, quick: bool) -> list[str]:
    """Return what pytest is told for the whole suite; paths or expressions that were given stand instead of it."""
    whole = [] if any(not word.startswith("-") for word in pytest_arguments) else ["tests", *DOMAINS, "--doctest-modules"]
    return [*whole, *(["-m", "not browser"] if quick else []), *pytest_arguments]


def run_postgres_half(place: Place, pytest_arguments: list[str]) -> Outcome:
    """Run on PostgreSQL what uses a database; what uses none has run already."""
    server = find_server(place)
    if server.why_not:
        say(f"\nPostgreSQL: {server.why_not}")
        return Outcome("tests on PostgreSQL", "FAILED" if server.asked_for else "skipped", note=server.why_not)
    return run_tests(place, "tests on PostgreSQL", server.url, ["-p", "tests.only_database", *pytest_arguments])


def run_checks(place: Place, checks: Mapping[str, list[str]]) -> list[Outcome]:
    """Run the checks of the house side by side, since each keeps one core busy."""
    with ThreadPoolExecutor(os.cpu_count()) as workers:
        return list(workers.map(lambda name: check(place, name, checks[name]), checks))


def check(place: Place, name: str, command: list[str]) -> Outcome:
    """Run one check of the house; its words are shown when it fails."""
    began = time.monotonic()
    done = subprocess.run(
        [str(place.python.parent / command[0]), *command[1:]],
        cwd=place.top,
        env=variables_for_tests(place, ""),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
    )
    outcome = Outcome(name, "FAILED" if done.returncode else "ok", time.monotonic() - began)
    say(f"{name}: {outcome.word}" + (f"\n{done.stdout.rstrip()}" if done.returncode else ""))
    return outcome


def run_tests(place: Place, name: str, database_url: str, arguments: list[str]) -> Outcome:
    """Run pytest on every core, showing what it says as it says it."""
    say(f"\n{name}")
    began = time.monotonic()
    workers = ["-n", str(min(os.cpu_count() or 1, 8)), "--dist", "worksteal"]
    command = [str(place.python), "-m", "pytest", *workers, *arguments]
    variables = variables_for_tests(place, database_url)
    with subprocess.Popen(command, cwd=place.top, env=variables, stdout=subprocess.PIPE, stderr=subprocess.STDOUT) as pytest:
        said = shown_as_it_comes(pytest)
    closing = said.strip().splitlines()[-1] if said.strip() else "pytest said nothing"
    counts = {word.rstrip("s") if word.startswith("error") else word: int(number) for number, word in COUNTED.findall(closing)}
    failed = pytest.returncode not in {0, NO_TESTS_RAN}
    return Outcome(name, "FAILED" if failed else "ok", time.monotonic() - began, closing.strip("= "), counts)


def shown_as_it_comes(process: subprocess.Popen[bytes]) -> str:
    """Pass a program's output on without waiting for whole lines; return all of it."""
    pieces = []
    while process.stdout and (piece := os.read(process.stdout.fileno(), 4096)):
        sys.stdout.buffer.write(piece)
        sys.stdout.flush()
        pieces.append(piece)
    return b"".join(pieces).decode(errors="replace")


def variables_for_tests(place: Place, database_url: str) -> dict[str, str]:
    """Return the environment of a check: the tests' settings, the given database.

    What Python compiles is kept beside the packages, whatever the environment says: six processes would compile it again.
    """
    return {
        **place.variables,
        "PYTHONDONTWRITEBYTECODE": "",
        "PYTHONPYCACHEPREFIX": str(place.environment.venv / "compiled"),
        "PATH": f"{place.python.parent}{os.pathsep}{place.variables.get('PATH', os.defpath)}",
        "DJANGO_SETTINGS_MODULE": "tests.settings",
        "TEST_DATABASE_URL": database_url,
    }


def summarise(outcomes: list[Outcome]) -> int:
    """Print how each part ended and how many tests there were; return the exit code."""
    total = {word: sum(outcome.counts.get(word, 0) for outcome in outcomes) for word in ("passed", "failed", "skipped", "error")}
    failed = [outcome.name for outcome in outcomes if outcome.word == "FAILED"]
    say("\nSummary")
    for outcome in outcomes:
        say(str(outcome))
    if failed:
        say(f"Failed: {', '.join(failed)}")
    else:
        say("Everything passed." if total["passed"] else "No test ran.")
    say(f"{total['passed']} passed, {total['failed'] + total['error']} failed, {total['skipped']} skipped")
    return 1 if failed or not total["passed"] else 0
