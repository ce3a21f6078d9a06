"""Measure how fast ingredient lines are read, and print it as a table. Nothing here judges: the figures depend on the computer.

    python3 -m tests.measure.lines            the labelled lines of the tests
    python3 -m tests.measure.lines FILE       the lines of a text file of yours

Standard library only.
"""

from __future__ import annotations

import statistics
import sys
import time
from pathlib import Path

from kitchen.domain.lines import LONGEST_READ, parse_line

TOP = Path(__file__).resolve().parents[2]

LABELLED = TOP / "tests" / "kitchen" / "domain"
ROUNDS = 5
HOSTILE = (
    *("1/", "(", ")", "1 (", "½", "1 x ", "juice of ", "a ", "1-"),
    *(",", " or ", "to ", "peeled, ", "1 lb ", "[", "- ", "finely ", "#"),
)


def main(arguments: list[str]) -> None:
    """Print the table for the labelled lines or a file, and below it what the worst made-up lines take."""
    lines = _lines_of(Path(arguments[0])) if arguments else _labelled_lines()
    print(f"{'':24}{'lines':>8}{'lines/s':>10}{'mean us':>10}{'95 % us':>10}{'worst us':>10}")
    _print_row("read once, from cold", lines, rounds=1)
    _print_row(f"best of {ROUNDS}", lines, rounds=ROUNDS)
    hostile = [(piece * LONGEST_READ)[:LONGEST_READ] for piece in HOSTILE]
    _print_row(f"{LONGEST_READ} hostile letters", hostile, rounds=ROUNDS)


def _print_row(title: str, lines: list[str], rounds: int) -> None:
    best = [min(taken) for taken in zip(*(_timed(lines) for _ in range(rounds)), strict=True)]
    taken = sorted(best)
    mean, worst = statistics.fmean(taken), taken[-1]
    late = taken[int(len(taken) * 0.95)] if len(taken) > 1 else worst
    print(f"{title:24}{len(lines):>8}{1e6 / mean:>10.0f}{mean:>10.1f}{late:>10.1f}{worst:>10.1f}")


def _timed(lines: list[str]) -> list[float]:
    """Return the microseconds that each line took."""
    taken = []
    for line in lines:
        start = time.perf_counter_ns()
        parse_line(line)
        taken.append((time.perf_counter_ns() - start) / 1000)
    return taken


def _labelled_lines() -> list[str]:
    rows = [row for path in sorted(LABELLED.glob("lines_*.tsv")) for row in path.read_text("utf-8").splitlines()]
    return [row.rpartition("\t")[2] for row in rows if row and not row.startswith("# ")]


def _lines_of(path: Path) -> list[str]:
    return [line for line in path.read_text("utf-8").splitlines() if line.strip()]


if __name__ == "__main__":
    main(sys.argv[1:])
