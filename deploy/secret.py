"""The secret key that signs sessions, made once and kept in the data folder."""

from __future__ import annotations

import os
import secrets
import tempfile
from pathlib import Path

KEY_NAME = "secret-key"


def kept_secret_key(folder: Path) -> str:
    """Return the key kept in ``folder``, which is made when missing; raises OSError where nothing can be written."""
    path = folder / KEY_NAME
    if not path.exists():
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        _make_once(path)
    return path.read_text(encoding="ascii").strip()


def _make_once(path: Path) -> None:
    """Write a new key beside ``path`` and link it into place: of two processes one wins, and no reader sees half a key."""
    handle, name = tempfile.mkstemp(prefix=".secret-", dir=path.parent)  # made with mode 600
    try:
        with os.fdopen(handle, "w", encoding="ascii") as new:
            new.write(secrets.token_urlsafe(64) + "\n")
        try:
            os.link(name, path)
        except FileExistsError:
            pass
        except OSError:  # a file system without hard links
            os.replace(name, path)
    finally:
        Path(name).unlink(missing_ok=True)
