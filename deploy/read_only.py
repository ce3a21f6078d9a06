"""Data that can only be read: how they are opened, so that public pages are still served. Standard library only."""

from __future__ import annotations

import os
from pathlib import Path
from urllib.parse import quote


def can_only_be_read(folder: Path) -> bool:
    """Whether a folder is there and nothing can be written into it."""
    return folder.is_dir() and (bool(os.statvfs(folder).f_flag & os.ST_RDONLY) or not os.access(folder, os.W_OK))


def address_for_reading(path: Path) -> str:
    """Return the name by which SQLite opens a file that nobody can write.

    Beside a database that was closed well lies nothing, and SQLite is told that it will not change: it could make no files for
    its locks there. Where a log of writes still lies beside it, it is read along, with the locks that lie there, too.
    """
    log = path.with_name(path.name + "-wal")
    closed_well = not log.exists() or log.stat().st_size == 0
    return f"file:{quote(str(path))}?mode=ro" + ("&immutable=1" if closed_well else "")
