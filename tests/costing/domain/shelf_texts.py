"""The table of packs, prices and lines of till slips, and what each is to be read as."""

from __future__ import annotations

from pathlib import Path

_TABLE = Path(__file__).with_name("shelf_texts.txt")


def rows(kind: str) -> list[list[str]]:
    """The fields of every row of a kind, without the kind."""
    lines = [line for line in _TABLE.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    fields = [[field.strip() for field in line.replace("| |", "|  |").split(" | ")] for line in lines]
    return [row[1:] for row in fields if row[0] == kind]
