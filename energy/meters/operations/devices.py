"""Devices that send a meter's readings: each has a token, of which a digest alone is kept."""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime, timedelta
from typing import Any

from django.db import transaction

from energy.models import DeviceToken, Meter
from kitchen.operations.journal import Hand, note_thing

A_MINUTE = 120
"""So many requests a device may make in a minute."""

_MARK = "wf_"


class TooOften(ValueError):
    """A device asks too often; ``wait_s`` says how long it should wait."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(f"More than {A_MINUTE} requests came in this minute. Wait {wait_s} s, and send more lines at a time.")
        self.wait_s = wait_s


@transaction.atomic
def make_device(*, meter: Meter, name: str, by: Any, at: datetime) -> tuple[DeviceToken, str]:
    """Let one more device send a meter's readings; return it and its token, which nobody can read again."""
    token = _MARK + secrets.token_urlsafe(32)
    note_thing(meter, "device_made", Hand(by, at))
    return DeviceToken.objects.create(meter=meter, name=name, digest=_digest(token), made_at=at, made_by=by), token


@transaction.atomic
def revoke_device(*, device: DeviceToken, at: datetime, by: Any = None) -> None:
    """Let a device send no more; what it sent stays. Doing it twice changes nothing."""
    if DeviceToken.objects.filter(pk=device.pk, revoked_at=None).update(revoked_at=at):
        note_thing(device.meter, "device_revoked", Hand(by, at))


def revoke_devices_of(person: Any, at: datetime) -> None:
    """Let the devices that somebody let in send no more, when the account is closed."""
    DeviceToken.objects.filter(made_by=person, revoked_at=None).update(revoked_at=at)


@transaction.atomic
def admit_device(*, token: str, at: datetime) -> DeviceToken | None:
    """Return the device of a token and count its request; None where no device has it, or it may send no more.

    Raises
    ------
    TooOften
        If it has asked too often in this minute.
    """
    devices = DeviceToken.objects.select_for_update(of=("self",)).select_related("meter")
    device = devices.filter(digest=_digest(token), revoked_at=None).first()
    if device is None:
        return None
    minute = at.replace(second=0, microsecond=0)
    if device.minute != minute:
        device.minute, device.requests = minute, 0
    if device.requests >= A_MINUTE:
        raise TooOften(max(round((minute + timedelta(minutes=1) - at).total_seconds()), 1))
    device.requests, device.last_seen_at = device.requests + 1, at
    device.save(update_fields=["minute", "requests", "last_seen_at"])
    return device


def _digest(token: str) -> str:
    """Return what is kept of a token: it is 256 random bits, so one round of SHA-256 hides it well."""
    return hashlib.sha256(token.encode("utf-8", "surrogateescape")).hexdigest()
