"""Presses on the run desk: each is kept once, as it was said; the run's rows follow from those that stand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any, TypeVar
from uuid import UUID

from django.db import IntegrityError, transaction

from energy.models import DeskEvent, Moment, Reading, Run
from energy.runs.domain.desk import KINDS, Press
from energy.runs.domain.wire import Unfit
from energy.runs.operations.recording import SentBefore, record_run
from energy.runs.operations.run_rows import HeldRun, hold_run, keep_event, pressing, withdraw_press
from energy.runs.operations.typed import RunDetails, TypedRows

KEPT, KNOWN, WITHDRAWN = "kept", "known", "withdrawn"

_T = TypeVar("_T")


class SaidElse(ValueError):
    """The name of this press is taken by something else; ``kept`` is what."""

    def __init__(self, words: str, kept: dict[str, Any]) -> None:
        super().__init__(words)
        self.kept = kept


@dataclass(frozen=True)
class NewCook:
    """A cook to start; ``said`` is compared when it comes again."""

    id: UUID
    details: RunDetails
    said: dict[str, Any] = field(default_factory=dict)
    skew_s: float | None = None


def keep_press(*, run: Run, press: Press, by: Any, at: datetime) -> str:
    """Keep one press and return what became of it: ``kept``, ``known`` (kept before), ``withdrawn`` (taken back before).

    Raises
    ------
    SaidElse
        If its UUID stands for something else; nothing changes then.
    Unfit
        If it replaces a press of another run.
    """
    return once_more(lambda: _keep_in_run(run, press, by, at))


def take_back(*, run: Run, key: UUID, by: Any, at: datetime) -> str:
    """Take a press back, also before it came. Return ``withdrawn`` the first time, ``known`` after that.

    Raises
    ------
    SaidElse
        If its UUID belongs to another run, or stands for the start of the cook.
    """
    return once_more(lambda: _take_back(run, key, by, at))


def begin_cook(*, cook: NewCook, by: Any, at: datetime) -> tuple[Run, bool]:
    """Start a cook at a desk and return its run, and whether it is new; the same start sent again returns the run it made.

    Raises
    ------
    SaidElse
        If its UUID stands for something else.
    """
    return once_more(lambda: _begin(cook, by, at))


def once_more(write: Callable[[], _T]) -> _T:
    """Write, and once more where the same UUID was written by another at the same moment: it is found then."""
    try:
        with transaction.atomic():
            return write()
    except IntegrityError:
        with transaction.atomic():
            return write()


def _begin(cook: NewCook, by: Any, at: datetime) -> tuple[Run, bool]:
    before = DeskEvent.objects.select_related("run__revision__recipe").filter(pk=cook.id).first()
    if before is not None:
        if before.kind != "begin" or before.said != cook.said:
            raise SaidElse("This UUID stands for something else already. Start the cook under another one.", before.said)
        return before.run, False
    try:
        run = record_run(details=cook.details, rows=TypedRows(), operator=by, running=True, once=cook.id, at=at)
    except SentBefore as sent:
        raise SaidElse("A form has kept a cook under this UUID. Start this one under another.", {"run": sent.run.pk}) from None
    DeskEvent.objects.create(
        id=cook.id,
        run=run,
        kind="begin",
        at=run.started_at,
        said=cook.said,
        skew_s=cook.skew_s,
        received_at=at,
        said_by=by,
    )
    return run, True


def _keep_in_run(run: Run, press: Press, by: Any, at: datetime) -> str:
    with hold_run(run, soon=at) as held:
        before = DeskEvent.objects.filter(pk=press.id).first()
        if before is not None and before.run_id != run.pk:
            raise SaidElse("This UUID belongs to another cook. Send this press under another one.", {"run": before.run_id})
        if before is not None and before.kind:
            return _sent_again(before, press)
        if before is None:
            _refuse_taken(press.id)
        with pressing(held):
            event = keep_event(held, press, by, at, before)
            if press.replaces is not None:
                _withdraw(held, press.replaces, by, at)
        return KEPT if event.withdrawn_at is None else WITHDRAWN


def _sent_again(before: DeskEvent, press: Press) -> str:
    """Return what became of a press that came before.

    Raises
    ------
    SaidElse
        If it stands and said something else.
    """
    if before.withdrawn_at is not None:
        return WITHDRAWN
    if before.said != press.said:
        raise SaidElse("This UUID says something else here already. Send the correction under another one.", before.said)
    return KNOWN


def _refuse_taken(key: UUID) -> None:
    """Refuse a UUID under which a form has kept a reading."""
    taken = Reading.objects.filter(pk=key).first() or Moment.objects.filter(pk=key).first()
    if taken is not None:
        words = "This UUID stands for something else already. Send this press under another one."
        raise SaidElse(words, {"run": taken.run_id, "at": taken.at.isoformat()})


def _take_back(run: Run, key: UUID, by: Any, at: datetime) -> str:
    try:
        with hold_run(run, soon=at) as held, pressing(held):
            return WITHDRAWN if _withdraw(held, key, by, at) else KNOWN
    except Unfit:
        kept = DeskEvent.objects.get(pk=key)
        words = "This UUID is not a press that can be taken back here."
        raise SaidElse(words, {"run": kept.run_id, "kind": kept.kind}) from None


def _withdraw(held: HeldRun, key: UUID, by: Any, at: datetime) -> bool:
    """Take a press back, or leave a gravestone for one that has not come yet. Return whether it still stood.

    Raises
    ------
    Unfit
        If it is a press of another run, or no press at all: the start of the cook, a picture.
    """
    event = DeskEvent.objects.filter(pk=key).first()
    if event is not None and (event.run_id != held.run.pk or event.kind not in ("", *KINDS)):
        raise Unfit("This is not a press of this cook.", "replaces", str(key))
    if event is not None and event.withdrawn_at is not None:
        return False
    withdraw_press(held, key, by, at)
    return True
