"""Shared things: the small contract through which other apps let the kitchen tell what was done to what all cooks use.

The kitchen knows no such thing by name. An app registers each sort in ``AppConfig.ready()``; its operations then write every
change down (``kitchen.operations.journal``), and the bench tells who changed what, and puts it back.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.db.models import Model, QuerySet


def _all(rows: QuerySet[Any]) -> QuerySet[Any]:
    return rows


@dataclass(frozen=True)
class SharedKind:
    """One sort of shared things.

    ``address`` leads from a thing's number to its page, ``save`` keeps one with all that follows from it, ``labels`` are the
    names of its columns as its form has them. ``standing`` picks of some rows those that were not removed, where a removed one
    keeps its row.
    """

    slug: str
    model: type[Model]
    one: str
    address: Callable[[int], str]
    save: Callable[[Any], None]
    labels: Mapping[str, str] = field(default_factory=dict)
    standing: Callable[[QuerySet[Any]], QuerySet[Any]] = _all


_registered: dict[str, SharedKind] = {}


class SharedKindAlreadyRegistered(RuntimeError):
    """Two sorts of shared things want the same name."""


def register_shared(kind: SharedKind) -> None:
    """Add a sort to the registry; raises SharedKindAlreadyRegistered for a name that is taken."""
    if kind.slug in _registered:
        raise SharedKindAlreadyRegistered(f"shared things of the name {kind.slug!r} are registered already")
    _registered[kind.slug] = kind


def shared_kind(slug: str) -> SharedKind | None:
    """Return the sort of a name, or None where no app registers it any more."""
    return _registered.get(slug)


def kind_of(thing: Model) -> SharedKind:
    """Return the sort that a thing is of; raises KeyError for what nobody shares."""
    found = next((kind for kind in _registered.values() if type(thing) is kind.model), None)
    if found is None:
        raise KeyError(type(thing).__name__)
    return found
