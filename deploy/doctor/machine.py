"""The computer: room on its disks, its clock, the packages and libraries, the type and the collected styles."""

from __future__ import annotations

import os
import platform
import re
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

from django.conf import settings
from django.db import connection
from django.db.models import Max
from django.utils import timezone

from deploy.collected import styles_are_current
from deploy.debian import missing_libraries
from deploy.doctor.findings import Finding, ill, mind, well
from energy.models import DeskEvent, Run
from kitchen.models import Edition
from kitchen.operations.room import RESERVE_BYTES
from kitchen.publish.typefaces import missing_faces

_COMFORTABLE_BYTES = 1 << 30
_SKEW = timedelta(minutes=5)
_LOCKED = re.compile(r"^([a-z0-9._-]+)==([^ \\;]+)(.*)$", re.MULTILINE)


def disk() -> Iterator[Finding]:
    """Look at the room that is left where the data lie."""
    folder = Path(settings.DATA_DIR)
    free = shutil.disk_usage(folder).free
    words = f"{free / 2**30:.1f} GB are free where the data lie ({folder})."
    if os.statvfs(folder).f_flag & os.ST_RDONLY or not os.access(folder, os.W_OK):
        yield ill(
            "Disk", f"Nothing can be written to {folder}: pages are shown, and nothing is kept.", "dmesg, then mount it anew"
        )
    elif free < RESERVE_BYTES:
        yield ill("Disk", words + " New photos are refused, so that readings still have room.", "free some space")
    elif free < _COMFORTABLE_BYTES:
        yield mind("Disk", words, "free some space before it is less than 200 MB")
    else:
        yield well("Disk", words)


def clock() -> Iterator[Finding]:
    """Compare the clock with the newest rows, with the database's and with what the system knows."""
    now = timezone.now()
    newest = [
        Run.objects.aggregate(at=Max("recorded_at"))["at"],
        Edition.objects.aggregate(at=Max("published_at"))["at"],
        DeskEvent.objects.aggregate(at=Max("received_at"))["at"],
    ]
    last = max((moment for moment in newest if moment is not None), default=now)
    said = f"The clock says {now:%d %B %Y, %H:%M} UTC"
    if last > now + _SKEW:
        words = f"{said}, and the newest row is of {last:%d %B %Y, %H:%M}: it went back."
        yield ill("Clock", words, "timedatectl set-ntp true")
    elif abs(_database_now() - timezone.now()) > _SKEW:
        yield ill("Clock", f"{said}, and the database’s is more than five minutes from it.", "timedatectl set-ntp true, on both")
    elif _synchronised() == "no":
        yield mind("Clock", f"{said}, and no time server is asked.", "timedatectl set-ntp true")
    else:
        yield well("Clock", f"{said}.")


def _database_now() -> datetime:
    with connection.cursor() as cursor:
        cursor.execute(
            "SELECT EXTRACT(EPOCH FROM NOW())" if connection.vendor == "postgresql" else "SELECT strftime('%s', 'now')"
        )
        row = cursor.fetchone()
    return datetime.fromtimestamp(float(row[0]), UTC)


def _synchronised() -> str:
    """Return whether the system keeps its clock by a time server, ``yes`` or ``no``; empty where it does not say."""
    asked = shutil.which("timedatectl")
    if asked is None:
        return ""
    try:
        done = subprocess.run(
            [asked, "show", "--property=NTPSynchronized", "--value"], capture_output=True, text=True, timeout=5, check=False
        )
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return done.stdout.strip()


def libraries() -> Iterator[Finding]:
    """Compare the installed packages with the lock, and look for what WeasyPrint loads."""
    missing = missing_libraries()
    if missing:
        line = f"sudo apt-get install --no-install-recommends {' '.join(missing)}"
        yield ill("Libraries", f"Cards cannot be set: {', '.join(missing)} are missing.", line)
    others = _packages_that_differ()
    if others:
        yield ill(
            "Libraries", f"Installed otherwise than locked: {', '.join(others[:8])}.", "deploy/run, which installs the lock"
        )
    if not (missing or others):
        words = f"The packages are those of the lock, on Python {platform.python_version()} and SQLite {sqlite3.sqlite_version}."
        yield well("Libraries", words)


def _packages_that_differ() -> list[str]:
    lock = (Path(settings.BASE_DIR) / "deploy" / "locks" / "run.txt").read_text("utf-8")
    differing = []
    for name, wanted, rest in _LOCKED.findall(lock):
        try:
            installed = version(name)
        except PackageNotFoundError:
            installed = "" if ";" not in rest else wanted  # for another kind of Python
        if installed != wanted:
            differing.append(f"{name} {installed or 'missing'} for {wanted}")
    return differing


def fonts() -> Iterator[Finding]:
    """Look for the type that cards are set in."""
    missing = missing_faces()
    if missing:
        yield ill("Type", f"Cards lack their type: {', '.join(missing)}.", "deploy/run, which installs the lock")
    else:
        yield well("Type", "The type families of cards and pages are there.")


def collected() -> Iterator[Finding]:
    """Compare the collected styles, fonts and scripts with their sources."""
    if styles_are_current():
        yield well("Styles", "The collected styles and scripts are those of this program.")
    else:
        yield ill(
            "Styles", "The collected styles and scripts are older than the program.", "manage.py prepare, then start it anew"
        )
