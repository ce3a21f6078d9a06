"""Upgrading the tables to this program: a backup first, all changes or none, and the way back in one sentence."""

from __future__ import annotations

import logging
import subprocess
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connection
from django.db.migrations.loader import MigrationLoader
from django.utils import timezone

from deploy.backup.places import backups_in, own_folder
from deploy.backup.snapshot import seen_migrations, unknown_migrations
from deploy.backup.whole_change import whole_change
from deploy.backup.writing import keep_rows

SERVED = "served-by"
log = logging.getLogger(__name__)


class UpgradeFailed(Exception):
    """The tables could not be brought up to date and are as they were; the message says why and how to go back."""


def back_up_first() -> Path | None:
    """Make a backup of rows that are about to be changed, and return where it lies; None for tables that are new."""
    return keep_rows(timezone.now()) if seen_migrations(MigrationLoader(connection)) else None


def apply_changes(kept: Path | None) -> None:
    """Bring the tables up to date, all changes or none; ``kept`` is the backup of what they were.

    Raises
    ------
    UpgradeFailed
        If a change fails: the data are as they were, and the sentence says how to go back.
    """
    try:
        with whole_change():
            call_command("migrate", verbosity=0, interactive=False)
    except Exception as error:
        log.exception("the tables could not be changed")
        said = (str(error).strip().splitlines() or [""])[0]
        raise UpgradeFailed(
            f"The upgrade failed ({type(error).__name__}: {said}). Nothing was changed: the data are as they were. "
            f"Go on with the program that served before{_which_served()}, and start it again."
            + (f" A backup of the rows is in {kept}." if kept else "")
        ) from None


def refuse_newer_tables() -> None:
    """Refuse tables that a newer program than this one has changed; raises UpgradeFailed with the ways on."""
    loader = MigrationLoader(connection)
    for app, name in unknown_migrations(loader, seen_migrations(loader))[:1]:
        folder = own_folder()
        before = backups_in(folder, rows_alone=True) if folder.is_dir() else []
        path = before[0][1] if before else "FILE"
        raise UpgradeFailed(
            f"The tables are of a newer program: this one does not know {app}.{name}. Start that program again, or go back to "
            f"the data from before, without what came since: manage.py restore --replace --without-backup {path}"
        )


def keep_served() -> None:
    """Keep which program prepared these data, so that a failed upgrade can name it."""
    asked = ["git", "-C", str(settings.BASE_DIR), "rev-parse", "--short=12", "HEAD"]
    try:
        commit = subprocess.run(asked, capture_output=True, text=True, check=False).stdout.strip()
    except OSError:  # no git here
        commit = ""
    path = Path(settings.DATA_DIR) / SERVED
    if not path.exists() or path.read_text(encoding="utf-8") != commit:
        path.write_text(commit, encoding="utf-8")


def _which_served() -> str:
    try:
        commit = (Path(settings.DATA_DIR) / SERVED).read_text(encoding="utf-8")
    except OSError:
        return ""
    return f": git checkout {commit}" if commit else ""
