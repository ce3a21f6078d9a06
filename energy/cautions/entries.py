"""The list of cautions, from one readable file: each sentence, its short form, where it stands, and when it is shown."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache
from pathlib import Path
from typing import Any

_FILE = Path(__file__).with_name("cautions.toml")


@dataclass(frozen=True)
class Entry:
    """One caution and its conditions, as ``cautions.toml`` explains them; an empty condition asks for nothing.

    ``since`` and ``until`` are the lists that hold it; ``by_key`` marks one that only an edition that kept its key shows.
    """

    key: str
    words: str
    document: str
    harm: int
    short: str = ""
    issuer: str = ""
    year: int | None = None
    classes: frozenset[str] = frozenset()
    appliances: frozenset[str] = frozenset()
    sources: frozenset[str] = frozenset()
    around: frozenset[str] = frozenset()
    raised_by: frozenset[str] = frozenset()
    replaces: frozenset[str] = frozenset()
    answerable: bool = False
    stricter: bool = False
    since: int = 2
    until: int | None = None
    by_key: bool = False

    @property
    def source(self) -> str:
        """Where it stands: "US Food and Drug Administration, Bad Bug Book, 2012", or that it is common practice.

        Examples
        --------
        >>> Entry("a", "", "Bad Bug Book", 1, issuer="FDA", year=2012).source, Entry("b", "", "common practice", 1).source
        ('FDA: Bad Bug Book, 2012', 'common practice')
        """
        named = f"{self.issuer}: {self.document}" if self.issuer else self.document
        return f"{named}, {self.year}" if self.year else named

    def held_by(self, number: int) -> bool:
        """Return whether the list of this number holds it."""
        return self.since <= number and (self.until is None or number <= self.until)


@cache
def entries() -> tuple[Entry, ...]:
    """Return every caution of the file, of all its lists, read once."""
    return tuple(_entry(row) for row in _held()["cautions"])


def list_number() -> int:
    """Return the number of today's list."""
    return int(_held()["list"])


@cache
def method_words() -> Mapping[str, tuple[str, ...]]:
    """Return the words of a recipe's steps by what they say of the cooker: ``{"pressure": ("pressure cook", ...)}``."""
    return {topic: tuple(words.split("; ")) for topic, words in _held()["methods"].items()}


def _entry(row: Mapping[str, Any]) -> Entry:
    known = {field.name for field in fields(Entry)}
    if unknown := row.keys() - known:
        raise ValueError(f"the caution {row['key']} names {', '.join(sorted(unknown))}, which no caution has")
    values: dict[str, Any] = {name: frozenset(value) if isinstance(value, list) else value for name, value in row.items()}
    return Entry(**values)


@cache
def _held() -> dict[str, Any]:
    return tomllib.loads(_FILE.read_text(encoding="utf-8"))
