"""Archivists: the small contract through which other apps put their rows into a packed library, and take them out again.

The kitchen knows no archivist by name. An app registers one in ``AppConfig.ready()``. What it packs is plain JSON: rows that
belong to no recipe in one document, and for each recipe another one. Rows are told apart by what they say (a name, a moment),
never by their numbers in a table, which differ from site to site.

Decisions. Of 25 November 2026 unless it says otherwise. Runs of the shown revision come first, then those of the newest
earlier one with the same food, liquid and stages within 2 %, then the newest earlier one as an estimate. Going back opens a
new revision. Each page that saves names itself and its turn, so that an answer that was lost is no clash with oneself. Rows
in an archive are told apart by what they say, never by their numbers; nothing is overwritten. A run that is here already
takes what the archive has beyond it, press by press and reading by reading, so that archives of one cook may come in any
order: what was taken back in either stays taken back, the later end stands (1 December). A name in an archive is no account:
whom it means is asked or said (1 December). JSON takes memory by its values, so a document of brackets is refused before it
is taken apart (1 December). Saved pages are taken apart by a scanner of our own: hostile pages must cost no more than their
length, and of a megabyte of open boxes selectolax 1.0 made more than 40 s, while lxml 6.1 lost the text below 256 of them (1
December). A page is read beside its data; where it shows much more, both are offered. Photos are kept in three shapes around
their focal point. Publishing again when only the revision is another is allowed. A cost sheet's day is that of its newest
quote. Electricity costs between two sums where its energy lies between two figures, and so does what it is part of (1
December).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Any

from kitchen.domain.archive import Document, FoodLink

if TYPE_CHECKING:
    from kitchen.models import Food, Recipe


class ArchiveRefused(ValueError):
    """The archive cannot be unpacked; the message says why and what to do. Nothing was written."""


@dataclass
class Account:
    """What unpacking came to, or would come to: rows by kind, and what else is to be said.

    ``added`` are rows that were not here, ``same`` those that were, ``left`` those that cannot be taken.
    """

    added: Counter[str] = field(default_factory=Counter)
    same: Counter[str] = field(default_factory=Counter)
    left: Counter[str] = field(default_factory=Counter)
    said: list[str] = field(default_factory=list)

    @property
    def nothing_new(self) -> bool:
        """Whether everything was here already."""
        return not +self.added


@dataclass(frozen=True)
class Desk:
    """What an archivist has at hand while it unpacks: who unpacks and when, the account, and how to find a food.

    ``fresh`` is true for a kitchen that had no recipes before: it may take over settings, too. ``cooks`` are the accounts here
    that the archive's names were said to mean.
    """

    by: Any
    at: datetime
    account: Account
    food: Callable[[FoodLink], Food | None]
    fresh: bool = False
    cooks: Mapping[str, Any] = field(default_factory=dict)


class Archivist:
    """What an app registers. ``slug`` is the app's name in the archive: lower-case letters and hyphens."""

    slug: str = ""

    def pack(self) -> Document:
        """Return the app's rows that belong to no recipe, as plain JSON."""
        raise NotImplementedError

    def left_out(self) -> Mapping[str, int]:
        """Return how many rows of which kinds the app keeps and does not pack, so that nothing is missing in silence."""
        return {}

    def pack_recipe(self, recipe: Recipe) -> Document | None:
        """Return what the app keeps of one recipe, or None; in a constant number of queries."""
        return None

    def unpack(self, held: Document, desk: Desk) -> Any:
        """Add what ``pack`` returned elsewhere and is not here yet, and return what ``unpack_recipe`` needs.

        Raises
        ------
        ArchiveRefused
            If a value makes no sense; the message names it.
        UnreadableRecord
            If a field is missing or of the wrong kind.
        """
        raise NotImplementedError

    def leave_recipe(self, held: Document, desk: Desk) -> None:
        """Count what ``pack_recipe`` returned elsewhere as what cannot be taken: the recipe says something else here."""

    def unpack_recipe(self, held: Document, recipe: Recipe, brought: Any, desk: Desk) -> None:
        """Add what ``pack_recipe`` returned elsewhere and is not here yet; ``brought`` is what ``unpack`` returned."""
        raise NotImplementedError


_registered: dict[str, Archivist] = {}


class ArchivistAlreadyRegistered(RuntimeError):
    """Two archivists want the same name."""


def register_archivist(archivist: Archivist) -> None:
    """Add an archivist to the registry; raises ArchivistAlreadyRegistered for a name that is taken."""
    if archivist.slug in _registered:
        raise ArchivistAlreadyRegistered(f"an archivist of the name {archivist.slug!r} is registered already")
    _registered[archivist.slug] = archivist


def archivists() -> Iterator[Archivist]:
    """Yield the archivists in the order of their names."""
    yield from (_registered[slug] for slug in sorted(_registered))
