"""Sent archives that wait for a yes: kept in the photo folder under a name that nobody can guess, for a day at most."""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterable
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings

from kitchen.operations.room import need_room

LONGEST_WAIT = timedelta(days=1)
_TOKEN = re.compile(r"[0-9a-f]{32}\Z")


def keep_waiting(*, pieces: Iterable[bytes], at: datetime) -> str:
    """Keep a sent archive and return the token by which it is found again; older ones that nobody came for go."""
    _forget_old(at)
    need_room()
    token = secrets.token_hex(16)
    _folder().mkdir(parents=True, exist_ok=True)
    with _path(token).open("xb") as file:
        for piece in pieces:
            file.write(piece)
    return token


def waiting_archive(token: str) -> Path | None:
    """Return where a waiting archive lies, or None when it is gone or the token is none."""
    path = _path(token) if _TOKEN.match(token) else None
    return path if path is not None and path.exists() else None


def forget_waiting(*, token: str) -> None:
    """Let a waiting archive go."""
    if _TOKEN.match(token):
        _path(token).unlink(missing_ok=True)


def _forget_old(at: datetime) -> None:
    for path in _folder().glob("*.zip"):
        if path.stat().st_mtime < (at - LONGEST_WAIT).timestamp():
            path.unlink(missing_ok=True)


def _folder() -> Path:
    return Path(settings.MEDIA_ROOT) / ".waiting"


def _path(token: str) -> Path:
    return _folder() / f"{token}.zip"
