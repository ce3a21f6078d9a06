"""Measure estimates, and print tables: in simulated kitchens how often the truth lies in the range, and how quick they are.

    .venv/bin/python -m tests.measure.estimates [--cases N] [--seed N] [--speed]

The kitchens are drawn from a seed, 2,000 cases a row, and take some minutes; ``--speed`` leaves them out. Nothing here judges.
"""

from __future__ import annotations

import sys

from tests.measure.estimates import speed
from tests.measure.estimates.foretold import cases
from tests.measure.estimates.rows import ROWS, Scored, scored

_CASES, _SEED = 2000, 100
_HEAD = ("row", "cases", "in range", "bias", "width", "score", "of known", "false no", "yes fails", "missed no", "may not")


def main(arguments: list[str]) -> None:
    """Print the tables."""
    if "--speed" not in arguments:
        _print_kitchens(_number(arguments, "--cases", _CASES), _number(arguments, "--seed", _SEED))
    speed.main([])


def _number(arguments: list[str], name: str, usual: int) -> int:
    return int(arguments[arguments.index(name) + 1]) if name in arguments else usual


def _print_kitchens(n: int, seed: int) -> None:
    print(f"{_HEAD[0]:26}" + "".join(f"{word:>10}" for word in _HEAD[1:]))
    made = []
    for number, row in enumerate(ROWS):
        made.append(scored(row, cases(row, n, seed=seed + number)))
        _print_row(made[-1])
    pooled = sum(one.covered * one.n for one in made) / sum(one.n for one in made)
    print(f"{'all':26}{sum(one.n for one in made):>10}{100 * pooled:>9.1f}%\n")


def _print_row(one: Scored) -> None:
    shares = "".join(f"{100 * share:>9.2f}%" for share in (one.false_no, one.failed_yes, one.missed_no))
    figures = (
        f"{one.n:>10}{100 * one.covered:>9.1f}%{100 * one.bias:>+9.1f}%{one.width:>10.2f}{one.score:>10.2f}{one.ratio:>10.2f}"
    )
    print(f"{one.name:26}{figures}{shares}{100 * one.may_not:>9.1f}%", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])
