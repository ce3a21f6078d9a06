"""Where backups lie, what they are called, which of them are kept, and what is known of the last one."""

from __future__ import annotations

import json
import os
import re
import tempfile
import time
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path

from django.conf import settings

_NAME = re.compile(r"wattfare-(\d{8}T\d{6})Z(?:-\d+)?\.backup\Z")
_ROWS_NAME = re.compile(r"wattfare-rows-(\d{8}T\d{6})Z(?:-\d+)?\.backup\Z")
_ROWS_KEPT = 5
_NOTE = "last-backup.json"
_DAY_S = 24 * 3600.0
COMING = ".coming-"
"""What the name of a backup begins with while it is written."""


@dataclass(frozen=True)
class LastBackup:
    """What is known of the last backup; moments are RFC 3339, and ``proved_at`` is empty for one that was not proved."""

    made_at: str
    path: str
    size: int
    rows: int
    photos: int
    sealed: bool
    proved_at: str = ""

    @property
    def holds(self) -> str:
        """What it holds, in words."""
        return f"{self.rows:,} rows and {self.photos:,} photo files"

    @property
    def made(self) -> datetime:
        """When it was made."""
        return datetime.fromisoformat(self.made_at)

    @property
    def proved(self) -> datetime | None:
        """When it was proved."""
        return datetime.fromisoformat(self.proved_at) if self.proved_at else None


def own_folder() -> Path:
    """Return the folder for backups where none is named: beside the data, which is better than none."""
    return Path(settings.DATA_DIR) / "backups"


def name_at(folder: Path, at: datetime, *, rows_alone: bool = False) -> Path:
    """Return where a backup made at a moment is put; never a place that is taken."""
    stem = f"wattfare-{'rows-' * rows_alone}{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    path, number = folder / f"{stem}.backup", 1
    while path.exists():
        number += 1
        path = folder / f"{stem}-{number}.backup"
    return path


def backups_in(folder: Path, *, rows_alone: bool = False) -> list[tuple[datetime, Path]]:
    """Return the backups of a folder with their moments, the newest first."""
    pattern = _ROWS_NAME if rows_alone else _NAME
    found = [(name.group(1), path) for path in folder.iterdir() if (name := pattern.fullmatch(path.name))]
    moments = [(datetime.strptime(digits, "%Y%m%dT%H%M%S").replace(tzinfo=UTC), path) for digits, path in found]
    return sorted(moments, reverse=True)


def kept(moments: Iterable[datetime], *, days: int, weeks: int, months: int) -> set[datetime]:
    """Return which of these moments stay: the newest of each of so many days, weeks and months that have one, and the newest.

    Examples
    --------
    >>> made = [datetime(2026, 10, day, 3, tzinfo=UTC) for day in (1, 2, 9, 10, 11)]
    >>> sorted(moment.day for moment in kept(made, days=2, weeks=2, months=0))
    [2, 10, 11]
    """
    newest_first = sorted(moments, reverse=True)
    stay = set(newest_first[:1])
    for most, period in ((days, "%Y-%m-%d"), (weeks, "%G-%V"), (months, "%Y-%m")):
        newest: dict[str, datetime] = {}
        for moment in newest_first:
            newest.setdefault(moment.strftime(period), moment)
        stay.update(list(newest.values())[:most])
    return stay


def remove_older(folder: Path, *, days: int, weeks: int, months: int) -> list[Path]:
    """Remove the backups of a folder that are not to be kept, and return them."""
    found = backups_in(folder)
    stay = kept((moment for moment, _ in found), days=days, weeks=weeks, months=months)
    gone = [path for moment, path in found if moment not in stay]
    for path in gone:
        path.unlink(missing_ok=True)
    return gone


def remove_older_rows(folder: Path) -> None:
    """Remove all but the newest few backups of rows alone."""
    for _, path in backups_in(folder, rows_alone=True)[_ROWS_KEPT:]:
        path.unlink(missing_ok=True)


def remove_broken_off(folder: Path) -> None:
    """Remove what is left of backups that were killed while they were written, more than a day ago."""
    for path in folder.glob(f"{COMING}*.backup"):
        if time.time() - path.stat().st_mtime > _DAY_S:
            path.unlink(missing_ok=True)


def on_disk_of_its_own(folder: Path) -> bool:
    """Whether a folder lies on another file system than the data: what is left when a disk dies."""
    return folder.stat().st_dev != Path(settings.DATA_DIR).stat().st_dev


def last_backup() -> LastBackup | None:
    """Return what is known of the last backup; None where none was made, or its note cannot be read."""
    try:
        return LastBackup(**json.loads((Path(settings.DATA_DIR) / _NOTE).read_text(encoding="utf-8")))
    except (OSError, ValueError, TypeError):
        return None


def keep_note(note: LastBackup) -> None:
    """Keep what is known of the last backup, whole or not at all."""
    folder = Path(settings.DATA_DIR)
    handle, beside = tempfile.mkstemp(dir=folder, prefix=".backup-note-")
    with os.fdopen(handle, "w", encoding="utf-8") as file:
        json.dump(asdict(note), file)
    Path(beside).chmod(0o644)  # whoever serves the site may be another than whoever backs it up
    Path(beside).replace(folder / _NOTE)
