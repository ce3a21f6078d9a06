"""Writing down what is done to shared things and accounts, and putting a shared thing back as it stood before.

Decisions. Of 1 December 2026 unless it says otherwise. Operations write down what they do (``kitchen/operations/journal.py``)
when they are told by whose hand; an archive and the example tell none. Putting back restores the whole state before a change,
since single columns could contradict each other, and is a change itself. What would change an ended run of another cook than
the one who let the device in waits for that cook, the nearest reading beside the run too; a device that has sent into a run
while it went on may finish its words for ten minutes. The log in ``log/`` holds numbers, patterns of addresses and kinds of
mistakes; failed sign-ins alone name somebody, in files of their own; both go after ``WATTFARE_LOG_DAYS``. ``deploy/asvs.md``
says what of OWASP ASVS is met where.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.contrib.auth.models import User
from django.core.exceptions import ValidationError
from django.db import IntegrityError, transaction
from django.db.models import Field, JSONField, Model

from kitchen.models import Change
from kitchen.queries.as_known import columns_of, stood
from kitchen.shared import kind_of, shared_kind

MADE, CHANGED, REMOVED, PUT_BACK = "made", "changed", "removed", "put_back"
ACCOUNT = "account"
_LONGEST_NAME = 200


@dataclass(frozen=True)
class Hand:
    """Whose hand does something, and when; ``person`` is None at the command line."""

    person: Any
    at: datetime


class CannotBePutBack(ValueError):
    """The thing cannot stand again as it stood; the message says why and what to do."""


@contextmanager
def noted(thing: Model, by: Hand | None, done: str = "") -> Iterator[None]:
    """Write down what the block does to a shared thing, if anything; call it inside a transaction.

    Without a hand (an archive that is unpacked, the worked example) nothing is written down.
    """
    if by is None:
        yield
        return
    kind, number = kind_of(thing), thing.pk
    name, before = _standing(kind.model, number)
    yield
    new_name, after = _standing(kind.model, thing.pk)
    if before == after:
        return
    done = done or (MADE if not before else CHANGED if after else REMOVED)
    _write(by, kind=kind.slug, number=thing.pk or number, name=new_name or name, done=done, before=before, after=after)


def note_made(things: Iterable[Model], by: Hand | None) -> None:
    """Write down that shared things of one sort were made, as their rows say now; without a hand nothing. One query."""
    if by is not None:
        rows = [(thing, {column.attname: _as_json(column, thing) for column in columns_of(type(thing))}) for thing in things]
        told = [
            _change(by, kind=kind_of(thing).slug, number=thing.pk, name=str(thing), done=MADE, after=row) for thing, row in rows
        ]
        Change.objects.bulk_create(told, batch_size=500)


def note_thing(thing: Model, done: str, by: Hand) -> None:
    """Write down what was done about a shared thing that changes none of its columns."""
    _write(by, kind=kind_of(thing).slug, number=thing.pk, name=str(thing), done=done)


def note_account(account: User, done: str, by: Hand) -> None:
    """Write down what was done to an account."""
    _write(by, kind=ACCOUNT, number=account.pk, name=account.get_username(), done=done)


def _write(by: Hand, **told: Any) -> None:
    _change(by, **told).save()


def _change(by: Hand, *, name: str, **told: Any) -> Change:
    person = by.person if by.person is not None and by.person.pk else None
    return Change(at=by.at, by=person, by_name=person.get_username() if person else "", name=name[:_LONGEST_NAME], **told)


def _standing(model: type[Model], number: int | None) -> tuple[str, dict[str, Any]]:
    """Return what a row is called, and its columns as JSON holds them: texts, null, and what is JSON already; empty without."""
    row = None if number is None else model._default_manager.filter(pk=number).first()
    return ("", {}) if row is None else (str(row), {column.attname: _as_json(column, row) for column in columns_of(model)})


def _as_json(column: Field[Any, Any], row: Model) -> Any:
    value = getattr(row, column.attname)
    if value is None or isinstance(column, JSONField):
        return value
    return str(value) if column.is_relation else column.value_to_string(row)


@transaction.atomic
def put_back(*, change: Change, by: Hand) -> Model:
    """Let a thing stand again as it stood before a change, also one that was removed; that is written down in its turn.

    Raises
    ------
    CannotBePutBack
        If it cannot stand so any more, or there was nothing before.
    """
    kind = shared_kind(change.kind)
    if kind is None or not change.before:
        raise CannotBePutBack("There was nothing before that could be put back.")
    thing = stood(kind.model._default_manager.filter(pk=change.number).first() or kind.model(pk=change.number), change.before)
    try:
        thing.full_clean(exclude=[column.name for column in columns_of(kind.model) if not column.editable])
        with transaction.atomic(), noted(thing, by, PUT_BACK):
            kind.save(thing)
    except ValidationError as refused:
        raise CannotBePutBack(f"It cannot stand as it did: {' '.join(refused.messages)}") from None
    except IntegrityError:
        raise CannotBePutBack("It cannot stand as it did: something that it needs is gone, or another has its name.") from None
    return thing
