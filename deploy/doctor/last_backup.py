"""The last backup: how old it is, whether it is still there, and whether anybody has proved it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

from django.utils import timezone

from deploy.backup.places import last_backup, on_disk_of_its_own
from deploy.doctor.findings import Finding, ill, mind, well

ABOUT = "Backup"
_OLD = timedelta(days=8)
_MAKE = "manage.py backup --to FOLDER --prove"


def backup() -> Iterator[Finding]:
    """Look at the last backup that was made here."""
    last = last_backup()
    if last is None:
        yield ill(ABOUT, "No backup was made yet.", _MAKE)
        return
    path = Path(last.path)
    said = f"The last backup is of {last.made:%d %B %Y, %H:%M} UTC"
    if not path.exists():
        yield ill(ABOUT, f"{said}, and {path} is not there now.", "mount its disk, or " + _MAKE)
    elif path.stat().st_size != last.size:
        yield ill(ABOUT, f"{said}, and {path} has another size than it had.", _MAKE)
    elif timezone.now() - last.made > _OLD:
        yield ill(ABOUT, f"{said}: older than a week.", _MAKE)
    elif last.proved is None:
        yield mind(ABOUT, f"{said} and was not proved.", f"manage.py restore --prove {path}")
    elif not on_disk_of_its_own(path.parent):
        yield mind(ABOUT, f"{said}, proved, and lies on the same disk as the data.", _MAKE)
    else:
        yield well(ABOUT, f"{said}, {last.size / 2**20:,.1f} MB, proved, on a disk of its own.")
