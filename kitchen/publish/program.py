"""Which program this is: a digest of everything of its own that a page is made with."""

from __future__ import annotations

import hashlib
from functools import lru_cache
from pathlib import Path

from django.apps import apps
from django.conf import settings
from django.template import Engine

_SAID = ("TIME_ZONE", "LANGUAGE_CODE", "STATIC_URL", "MEDIA_URL", "INSTALLED_APPS")


@lru_cache(maxsize=1)
def program_digest() -> str:
    """Return a digest of code, templates, styles, locked packages and the settings that show on pages. Read once a process."""
    digest = hashlib.sha256(repr([getattr(settings, name) for name in _SAID]).encode())
    for file in _files(Path(settings.BASE_DIR)):
        digest.update(f"{file} {file.stat().st_size}\n".encode())
        digest.update(file.read_bytes())
    return digest.hexdigest()


def _files(top: Path) -> list[Path]:
    """Return the program's own files in one order, and the list of the collected ones."""
    rooms = [Path(app.path) for app in apps.get_app_configs() if Path(app.path).parent == top]
    rooms += [Path(str(folder)) for folder in (*Engine.get_default().dirs, *settings.STATICFILES_DIRS)]
    own = [file for room in rooms for file in room.rglob("*") if file.is_file() and file.suffix != ".pyc"]
    collected = Path(settings.STATIC_ROOT) / "staticfiles.json"
    return sorted(own) + ([collected] if collected.is_file() else [])
