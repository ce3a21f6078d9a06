"""Meters' files that wait to be read: kept beside the photos under a name that nobody can guess, for a day at most.

Beside each lies what is known of it, and, while it is read, how far the reading has come.
"""

from __future__ import annotations

import hashlib
import json
import re
import secrets
from collections.abc import Callable, Iterable
from dataclasses import asdict, dataclass, replace
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any

from django.conf import settings

from kitchen.operations.room import need_room

LONGEST_WAIT = timedelta(days=1)
_TOKEN = re.compile(r"[0-9a-f]{32}\Z")
_LONGEST_NAME = 120


@dataclass(frozen=True)
class Upload:
    """A waiting file: its token, what it was called, SHA-256 of its bytes, how many they are, and what it was sent for.

    ``shape`` is how the cook wants it read, None while that is left to the reader.
    """

    token: str
    name: str
    digest: str
    size: int
    sent_for: str
    shape: dict[str, Any] | None = None

    @property
    def path(self) -> Path:
        """Where its bytes lie."""
        return _path(self.token, "log")


def keep_upload(*, pieces: Iterable[bytes], name: str, sent_for: str, at: datetime) -> Upload:
    """Keep a sent file, piece by piece; older ones that nobody came for go. ``sent_for`` names what it may be read into."""
    _forget_old(at)
    need_room()
    _folder().mkdir(parents=True, exist_ok=True)
    token, sum256, size = secrets.token_hex(16), hashlib.sha256(), 0
    with _path(token, "log").open("xb") as file:
        for piece in pieces:
            file.write(piece)
            sum256.update(piece)
            size += len(piece)
    upload = Upload(token, _plain_name(name), sum256.hexdigest(), size, sent_for)
    _note(upload)
    return upload


def choose_shape(*, upload: Upload, shape: dict[str, Any] | None) -> Upload:
    """Note how a waiting file is to be read."""
    chosen = replace(upload, shape=shape)
    _note(chosen)
    return chosen


def waiting_upload(token: str, sent_for: str) -> Upload | None:
    """Return a waiting file that was sent for this, or None when it is gone, is for something else, or the token is none."""
    if not _TOKEN.match(token):
        return None
    try:
        upload = Upload(**json.loads(_path(token, "json").read_text("utf-8")))
    except (OSError, ValueError, TypeError):
        return None
    return upload if upload.sent_for == sent_for and upload.path.exists() else None


def forget_upload(*, token: str) -> None:
    """Let a waiting file go."""
    if _TOKEN.match(token):
        for kind in ("log", "json", "read"):
            _path(token, kind).unlink(missing_ok=True)


def tell_progress(*, token: str, share: float) -> None:
    """Note how far the reading has come, from 0 to 1. A note that cannot be written stops no reading."""
    try:
        passing = _path(token, f"{secrets.token_hex(4)}.part")
        passing.write_text(f"{min(max(share, 0.0), 1.0):.3f}", "ascii")
        passing.replace(_path(token, "read"))
    except OSError:
        pass


def progress_of(token: str) -> float | None:
    """Return how far the reading has come, None where none goes on."""
    try:
        return float(_path(token, "read").read_text("ascii")) if _TOKEN.match(token) else None
    except (OSError, ValueError):
        return None


def teller(token: str) -> Callable[[float], None]:
    """Return what a reading calls with its share as it comes along."""
    return partial(_tell, token)


def _tell(token: str, share: float) -> None:
    tell_progress(token=token, share=share)


def end_progress(*, token: str) -> None:
    """Note that the reading has ended."""
    if _TOKEN.match(token):
        _path(token, "read").unlink(missing_ok=True)


def _note(upload: Upload) -> None:
    """Write what is known of a file in one go, so that nobody reads half of it."""
    passing = _path(upload.token, f"{secrets.token_hex(4)}.part")
    passing.write_text(json.dumps(asdict(upload)), "utf-8")
    passing.replace(_path(upload.token, "json"))


def _plain_name(name: str) -> str:
    """Return a file's name as it may be shown and kept: its last part, without what cannot be printed."""
    last = re.split(r"[/\\]", name)[-1]
    return "".join(sign for sign in last if sign.isprintable())[-_LONGEST_NAME:] or "a file"


def _forget_old(at: datetime) -> None:
    for path in _folder().glob("*.*"):
        try:
            if path.stat().st_mtime < (at - LONGEST_WAIT).timestamp():
                path.unlink(missing_ok=True)
        except FileNotFoundError:  # another request was here first
            continue


def _folder() -> Path:
    return Path(settings.MEDIA_ROOT) / ".waiting-logs"


def _path(token: str, kind: str) -> Path:
    return _folder() / f"{token}.{kind}"
