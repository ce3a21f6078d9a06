"""What a card's app puts on the bench: places to go, sections, its group on a workbench, what waits for somebody."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class BenchLink:
    """A place on the bench that a card's app offers for a recipe or for everyone; ``note`` is a few words beside it."""

    label: str
    url: str
    note: str = ""


@dataclass(frozen=True)
class BenchSection:
    """One of the few sections of the bench, by what a cook does there, and its pages: the first one is where it leads.

    ``beneath``: addresses below which its other pages lie.
    """

    label: str
    pages: tuple[BenchLink, ...]
    beneath: tuple[str, ...] = ()


@dataclass(frozen=True)
class WorkbenchPart:
    """A card's group on a recipe's workbench.

    ``state`` says in few words how far it is ("cooked 4 times"), ``next`` what had better be done, None where nothing need be;
    ``links`` are what can be done at any time, ``context`` what ``template_name`` shows, if there is one, and
    ``counting_template`` on the page that publishes, where what the figures rest on can be changed.
    """

    title: str
    state: str
    next: BenchLink | None = None
    links: tuple[BenchLink, ...] = ()
    template_name: str = ""
    counting_template: str = ""
    context: Mapping[str, Any] = field(default_factory=dict)


@dataclass(frozen=True)
class FirstThing:
    """One of the few things on the way to the first published recipe; ``order`` is its place among them, from 0 to 100."""

    label: str
    words: str
    url: str
    done: bool
    order: int


@dataclass(frozen=True)
class Attention:
    """Something on the bench that waits for the owner."""

    words: str
    url: str
    kind: str
