"""By what the library sorts, limits and groups recipes, as a card declares it. Pure."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True)
class ShelfFigure:
    """One of a card's ``figures`` by which the library sorts (the least first) and which a reader may limit.

    ``sort`` are the words of its order, ``sort_order`` is its place among those; ``limit`` is the label of its limit, ``field``
    the limit's name in an address, ``order`` its place among the limits. ``unit`` stands beside it; without one it is money.
    """

    name: str
    sort: str
    limit: str
    field: str
    unit: str = ""
    order: int = 50
    sort_order: int = 50


@dataclass(frozen=True)
class ShelfGroup:
    """What else the library sorts under: ``name`` in an address, ``title`` as its label; ``words`` says a mark to readers."""

    name: str
    title: str
    words: Callable[[str], str]
