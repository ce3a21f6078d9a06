"""Labelled ingredient lines and how well a reading of them scores."""

import re
from collections import Counter
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

KINDS = {"o": "ordinary", "h": "hard", "#": "heading"}
_WORD = re.compile(r"[^\W_]+%?")
_ESCAPE = re.compile(r"\\u([0-9a-f]{4})")


@dataclass(frozen=True)
class Labelled:
    """One line and what a careful reader makes of it."""

    kind: str
    low: Fraction | None
    high: Fraction | None
    unit: str
    name: str
    text: str


@dataclass(frozen=True)
class Score:
    """Shares from 0 to 1: amount and unit exactly right, and the mean F1 of the words of the name."""

    lines: int
    amounts: float
    names: float
    missed: tuple[str, ...]

    def __str__(self):
        return f"{self.lines} lines, amount and unit right {self.amounts:.2%}, F1 of the name {self.names:.2%}"


def read_labelled(path: Path) -> list[Labelled]:
    """Return the labelled lines of a file; comments and the head are skipped."""
    rows = [row.split("\t") for row in path.read_text("utf-8").split("\n") if row and not row.startswith("# ")]
    return [_labelled(*row) for row in rows[1:]]


def _labelled(kind, amount, unit, name, text):
    low, _, high = amount.partition("..")
    ends = (Fraction(low), Fraction(high or low)) if amount else (None, None)
    return Labelled(KINDS[kind], *ends, unit, name, _ESCAPE.sub(lambda found: chr(int(found[1], 16)), text))


def is_amount_right(line: Labelled, read) -> bool:
    """Say whether both ends and the unit are exactly as labelled, and a heading is one."""
    if line.kind == "heading" or read.heading:
        return line.kind == "heading" and read.heading
    return (read.low, read.high, read.unit) == (line.low, line.high, line.unit)


def name_f1(labelled: str, read: str) -> float:
    """Return the harmonic mean of precision and recall over the words of a name, as bags without case.

    >>> name_f1("red lentils", "lentils, red"), round(name_f1("onion", "red onion"), 3), name_f1("a", "b")
    (1.0, 0.667, 0.0)
    """
    wanted, found = (Counter(_WORD.findall(name.lower())) for name in (labelled, read))
    if not wanted and not found:
        return 1.0
    common = sum((wanted & found).values())
    return 2 * common / (sum(wanted.values()) + sum(found.values()))


def score(lines: list[Labelled], parse) -> Score:
    """Return how well ``parse`` reads the lines, and every line that it does not read as labelled."""
    right, names, missed = 0, 0.0, []
    for line in lines:
        read = parse(line.text)
        good, f1 = is_amount_right(line, read), name_f1(line.name, read.name)
        right, names = right + good, names + f1
        if not good or f1 < 1:
            missed.append(f"{line.text!r}: {_shown(read)}, labelled {_shown(line)}")
    return Score(len(lines), right / len(lines), names / len(lines), tuple(missed))


def _shown(line):
    ends = "" if line.low is None else str(line.low) if line.low == line.high else f"{line.low}..{line.high}"
    return f"[{ends} {line.unit}] {line.name!r}" + (" heading" if getattr(line, "heading", False) else "")
