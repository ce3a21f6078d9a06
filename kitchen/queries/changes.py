"""Reads of what was done: to one thing, by everybody, and what differs in words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.core.exceptions import FieldDoesNotExist
from django.db.models import JSONField, QuerySet

from kitchen.models import Change
from kitchen.shared import SharedKind, shared_kind
from kitchen.words import ENGLISH
from kitchen.words.changes import change_words

MOST_SHOWN = 20
ACCOUNT = "account"
_ABSENT = "–"


@dataclass(frozen=True)
class Difference:
    """One column that differs: its label, and what it said before and after; both empty where it is too long to show."""

    label: str
    before: str = ""
    after: str = ""


@dataclass(frozen=True)
class ChangeRow:
    """One change as a page shows it. ``address`` leads to the thing, empty where it is gone; ``may_be_put_back``: in one tap."""

    change: Change
    words: str
    address: str = ""
    may_be_put_back: bool = False
    differences: list[Difference] = field(default_factory=list)


def changes_of(thing: Any, slug: str) -> list[ChangeRow]:
    """Return what was done to one thing, the newest first. One query, and one for each sort of things that it names."""
    found = list(Change.objects.filter(kind=slug, number=thing.pk)[:MOST_SHOWN])
    kind = shared_kind(slug)
    names = _names(kind, found) if kind else {}
    return [_row(change, kind, _differences(change, kind, names) if kind else []) for change in found]


def all_changes(*, with_accounts: bool) -> QuerySet[Change]:
    """Return everything that was done, the newest first; of accounts only where asked."""
    found = Change.objects.all()
    return found if with_accounts else found.exclude(kind=ACCOUNT)


def change_rows(changes: Iterable[Change]) -> list[ChangeRow]:
    """Return changes as a page lists them. One query for each sort of shared things."""
    held = list(changes)
    there = {slug: _there(slug, held) for slug in {change.kind for change in held}}
    return [_row(one, shared_kind(one.kind), [], there=one.number in there[one.kind]) for one in held]


def newest_removed(slug: str) -> int | str:
    """Return the number of the newest removal of one sort of things; empty where nothing was removed."""
    return Change.objects.filter(kind=slug, done="removed").values_list("pk", flat=True).first() or ""


def newest_removal(number: str, slugs: Iterable[str]) -> ChangeRow | None:
    """Return the removal that an address names, so that a list can offer to put it back; None for anything else."""
    if not (number.isascii() and number.isdigit() and len(number) < 19):
        return None
    found = Change.objects.filter(pk=int(number), done="removed", kind__in=list(slugs)).first()
    return None if found is None or _there(found.kind, [found]) else _row(found, shared_kind(found.kind), [], there=False)


def _row(change: Change, kind: SharedKind | None, differences: list[Difference], *, there: bool = True) -> ChangeRow:
    words = change_words(change.kind, change.done, change.name, kind.one if kind else change.kind, ENGLISH)
    address = kind.address(change.number) if kind is not None and there else ""
    return ChangeRow(change, words, address, kind is not None and bool(change.before), differences)


def _there(slug: str, changes: list[Change]) -> set[int]:
    kind = shared_kind(slug)
    numbers = {change.number for change in changes if change.kind == slug}
    if kind is None:
        return set()
    return set(kind.standing(kind.model._default_manager.filter(pk__in=numbers)).values_list("pk", flat=True))


def _differences(change: Change, kind: SharedKind, names: Mapping[str, Mapping[str, str]]) -> list[Difference]:
    """Return what a change changed; of a thing that was made or removed nothing, for that is all of it."""
    if not change.before or not change.after:
        return []
    columns = [name for name in {**change.before, **change.after} if change.before.get(name) != change.after.get(name)]
    return [_difference(kind, name, change.before.get(name), change.after.get(name), names) for name in columns]


def _difference(kind: SharedKind, name: str, before: Any, after: Any, names: Mapping[str, Mapping[str, str]]) -> Difference:
    try:
        column: Any = kind.model._meta.get_field(name.removesuffix("_id"))
    except FieldDoesNotExist:
        return Difference(name, _shown(before), _shown(after))
    label = kind.labels.get(column.name) or str(column.verbose_name)
    label = label[:1].upper() + label[1:]
    if isinstance(column, JSONField):
        return Difference(label)
    said = {str(key): str(words) for key, words in column.flatchoices} | dict(names.get(name, {}))
    return Difference(label, said.get(_shown(before), _shown(before)), said.get(_shown(after), _shown(after)))


def _names(kind: SharedKind, changes: list[Change]) -> dict[str, dict[str, str]]:
    """Return what the things are called that a thing names by number. One query for each such column."""
    found = {}
    for column in kind.model._meta.concrete_fields:
        if column.is_relation and column.related_model is not None and not isinstance(column.related_model, str):
            said = {state.get(column.attname) for change in changes for state in (change.before, change.after)} - {None}
            rows = column.related_model._default_manager.in_bulk([int(number) for number in said]) if said else {}
            found[column.attname] = {str(number): str(row) for number, row in rows.items()}
    return found


def _shown(value: Any) -> str:
    return _ABSENT if value in (None, "") else str(value).removesuffix(".0")
