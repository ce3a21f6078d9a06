"""The gate runs what was asked for, and its table and exit code say how it ended."""

import subprocess
import sys
from pathlib import Path

import pytest

from deploy import gate
from deploy.gate import Outcome, check, run_checks, run_postgres_half, sqlite_arguments, summarise, variables_for_tests
from deploy.place import Place, find_place
from deploy.postgres import Server


@pytest.fixture
def place(tmp_path) -> Place:
    """A checkout whose environment holds two programs: one that is content, one that is not."""
    place = find_place(tmp_path, WATTFARE_VENV="venv", WATTFARE_DATA="", WATTFARE_BIND="")
    programs = tmp_path / "venv" / "bin"
    programs.mkdir(parents=True)
    for name, code in (("content", 0), ("discontent", 3)):
        (programs / name).write_text(f"#!/bin/sh\necho what {name} says\nexit {code}\n")
        (programs / name).chmod(0o755)
    (programs / "python").symlink_to(sys.executable)
    return place


def test_everything_is_run_unless_something_is_named():
    assert sqlite_arguments([], quick=False)[:2] == ["tests", "kitchen/domain"]
    assert sqlite_arguments(["-x"], quick=False)[-2:] == ["--doctest-modules", "-x"]
    assert sqlite_arguments(["tests/energy"], quick=False) == ["tests/energy"]
    assert sqlite_arguments(["-k", "servings"], quick=True) == ["-m", "not browser", "-k", "servings"]


def test_a_check_that_passes_is_quiet(place, capsys):
    assert check(place, "contents", ["content"]).word == "ok"
    assert capsys.readouterr().out == "contents: ok\n"


def test_a_check_that_fails_is_quoted(place, capsys):
    assert check(place, "contents", ["discontent"]).word == "FAILED"
    assert capsys.readouterr().out == "contents: FAILED\nwhat discontent says\n"


def test_the_checks_are_told_in_their_order(place):
    outcomes = run_checks(place, {"slow": ["python", "-c", "import time; time.sleep(0.3)"], "quick": ["discontent"]})
    assert [(outcome.name, outcome.word) for outcome in outcomes] == [("slow", "ok"), ("quick", "FAILED")]


def test_what_python_compiles_is_kept_for_the_next_process(tmp_path):
    variables = variables_for_tests(find_place(tmp_path, WATTFARE_VENV="venv", PYTHONDONTWRITEBYTECODE="1"), "")
    asked = "import sys; print(sys.dont_write_bytecode, sys.pycache_prefix)"
    said = subprocess.run([sys.executable, "-c", asked], env=variables, capture_output=True, text=True, check=True).stdout
    assert said.split() == ["False", str(tmp_path / "venv" / "compiled")]


def test_each_half_is_given_its_database(place):
    assert variables_for_tests(place, "")["TEST_DATABASE_URL"] == ""
    assert variables_for_tests(place, "postgresql://x/y")["TEST_DATABASE_URL"] == "postgresql://x/y"
    assert Path(variables_for_tests(place, "")["PATH"].split(":")[0]) == place.python.parent


@pytest.mark.parametrize(("asked_for", "word"), [(False, "skipped"), (True, "FAILED")])
def test_a_server_that_is_missing_is_a_failure_only_when_it_was_named(place, monkeypatch, capsys, asked_for, word):
    monkeypatch.setattr(gate, "find_server", lambda _place: Server(why_not="no server answers", asked_for=asked_for))
    assert run_postgres_half(place, []).word == word
    assert "PostgreSQL: no server answers" in capsys.readouterr().out


def test_tests_are_counted_from_the_closing_line(place, monkeypatch):
    monkeypatch.setattr(gate, "shown_as_it_comes", lambda _process: "..F\n1 failed, 2 passed, 3 skipped, 1 error in 4.00s\n")
    outcome = gate.run_tests(place, "tests", "", ["--version"])
    assert outcome.counts == {"failed": 1, "passed": 2, "skipped": 3, "error": 1}


@pytest.mark.parametrize(
    ("outcomes", "code", "closing"),
    [
        (
            [Outcome("a", "ok", counts={"passed": 2}), Outcome("b", "ok", counts={"passed": 3, "skipped": 1})],
            0,
            "5 passed, 0 failed, 1 skipped",
        ),
        (
            [Outcome("a", "ok", counts={"passed": 2}), Outcome("b", "FAILED", counts={"failed": 1, "error": 1})],
            1,
            "2 passed, 2 failed, 0 skipped",
        ),
        ([Outcome("a", "FAILED"), Outcome("b", "ok", counts={"passed": 2})], 1, "2 passed, 0 failed, 0 skipped"),
        ([Outcome("a", "ok")], 1, "0 passed, 0 failed, 0 skipped"),
    ],
)
def test_the_summary_closes_with_plain_numbers(outcomes, code, closing, capsys):
    assert summarise(outcomes) == code
    assert capsys.readouterr().out.splitlines()[-1] == closing
