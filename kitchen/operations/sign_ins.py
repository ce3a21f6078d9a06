"""Trying a password: counted before it is compared, by account and by address, and by itself on a device that is known.

Whoever knows a cook's name could lock the cook out of a plain counter. A device on which the cook has signed in before holds a
signed name of its own; what happens there is counted there alone, and its passwords are compared in a queue of their own.

Decisions. Of 1 December 2026 unless it says otherwise. Wrong passwords wait in a table of our own
(``kitchen/operations/sign_ins.py``) and not in django-axes, which, from memory, counts after the password was compared, so
that many tries at once all get through, keeps names and addresses, and has no lane for a device that is known. A try is
counted before it is compared; keys are keyed digests; the tables have no door of their own. A device on which a cook has
signed in holds a signed cookie for a year, and is counted and queued by itself. Readers take turns at passwords, cards and
pictures that are not kept (``kitchen/operations/turns.py``), five threads of eight at most. Bodies of strangers are bounded
each (2 MB) and together, those of cooks together (``deploy/bodies.py``); what the computer refuses outside the site is
answered and logged by ``deploy/last_resort.py``. A helper is a member of a group; doors are closed to helpers unless marked
``for_helpers``. A photo is public where an edition of a recipe that readers can see shows its picture.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from django.contrib.auth import authenticate
from django.contrib.auth.models import User
from django.db import transaction
from django.db.models import F
from django.utils.crypto import salted_hmac

from kitchen.domain.client_address import Origin
from kitchen.domain.sign_in_waits import FORGOTTEN_AFTER, wait_left_s
from kitchen.models import SignInLane
from kitchen.operations.turns import PASSWORDS_OF_COOKS, PASSWORDS_OF_STRANGERS, Busy

LONGEST_NAME_LOGGED = 80
_SALT = "kitchen.sign-in-lane"
log = logging.getLogger("wattfare.sign_in")


class TooSoon(Exception):
    """Too many wrong passwords came before; ``wait_s`` says how long to wait. [s]"""

    def __init__(self, wait_s: int) -> None:
        super().__init__(f"wait {wait_s} s")
        self.wait_s = wait_s


@dataclass(frozen=True)
class Comer:
    """Who is at the door: where from, and what the device is called for those who have signed in on it, by account number."""

    origin: Origin
    known_as: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class _Lane:
    kind: str
    key: str


def try_password(*, name: str, password: str, comer: Comer, at: datetime) -> User | None:
    """Return the cook whose name and password these are, or None where they belong to nobody who may come in.

    Raises
    ------
    TooSoon
        If too many wrong ones came before; nothing is compared then.
    Busy
        If too many are being compared at this moment; nothing is counted then.
    """
    device = _known_device(name, comer)
    lanes = [_lane("device", device)] if device else [_lane("account", name.casefold()), _lane("address", comer.origin.network)]
    try:
        _count(lanes, at)
    except TooSoon:
        _tell("put off", name, comer)
        raise
    try:
        with (PASSWORDS_OF_COOKS if device else PASSWORDS_OF_STRANGERS).turn():
            cook = authenticate(username=name, password=password)
    except Busy:
        _count_back(lanes)
        raise
    if cook is None:
        _tell("refused", name, comer)
        return None
    _count_back(lanes)
    SignInLane.objects.filter(pk__in=[lane.key for lane in lanes if lane.kind != "address"]).delete()
    return cook


def forget_failures(*, cook: User) -> None:
    """Let a cook whose password is new come in without waiting for mistakes with the old one."""
    SignInLane.objects.filter(pk=_lane("account", cook.get_username().casefold()).key).delete()


def _known_device(name: str, comer: Comer) -> str:
    """Return what this device is called for the cook of a name; empty where the cook has not signed in on it."""
    if not comer.known_as:
        return ""
    numbers = User.objects.filter(username=name, is_active=True).values_list("pk", flat=True)
    return next((comer.known_as[str(number)] for number in numbers if str(number) in comer.known_as), "")


def _lane(kind: str, whose: str) -> _Lane:
    return _Lane(kind, salted_hmac(_SALT, f"{kind}:{whose}", algorithm="sha256").hexdigest())


def _count(lanes: list[_Lane], at: datetime) -> None:
    """Count one try in each lane; raises TooSoon where one has to wait. Tries that come at once are counted one by one."""
    keys = [lane.key for lane in lanes]
    _refuse_too_soon(list(SignInLane.objects.filter(pk__in=keys)), at)
    with transaction.atomic():
        SignInLane.objects.filter(last_at__lt=at - FORGOTTEN_AFTER).delete()
        SignInLane.objects.bulk_create(
            (SignInLane(key=lane.key, kind=lane.kind, last_at=at) for lane in lanes), ignore_conflicts=True
        )
        rows = list(SignInLane.objects.select_for_update().filter(pk__in=keys).order_by("pk"))
        _refuse_too_soon(rows, at)
        SignInLane.objects.filter(pk__in=keys).update(failures=F("failures") + 1, last_at=at)


def _count_back(lanes: list[_Lane]) -> None:
    """Take one try back."""
    SignInLane.objects.filter(pk__in=[lane.key for lane in lanes], failures__gt=0).update(failures=F("failures") - 1)


def _refuse_too_soon(rows: list[SignInLane], at: datetime) -> None:
    wait_s = max((wait_left_s(row.kind, row.failures, row.last_at, at) for row in rows), default=0)
    if wait_s:
        raise TooSoon(wait_s)


def _tell(what: str, name: str, comer: Comer) -> None:
    """Log a try in one line; the name is escaped, so that nobody writes a line of their own into the log."""
    log.warning("sign-in %s: address=%s account=%s", what, comer.origin.address, json.dumps(name[:LONGEST_NAME_LOGGED]))
