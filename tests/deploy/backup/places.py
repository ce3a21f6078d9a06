"""For tests of backups: a furnished kitchen with photos, and commands on a folder and a database of their own."""

from __future__ import annotations

import io
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

from django.conf import settings
from django.db import connection

from deploy.backup.proving import _scratch_database
from deploy.place import find_place
from energy.models import SentReading
from kitchen.operations import add_photo
from tests.house.bench_of_everything import furnish
from tests.kitchen.pictures import halves


def fill(owner, other_cook, noon):
    """Fill every kind of table: runs, devices' readings inside and outside runs, an own password, a photo, odd words."""
    kitchen = furnish(owner, other_cook, noon)
    add_photo(recipe=kitchen.recipe, picture=io.BytesIO(halves((1600, 1200))), alt="Halves ½ 😀", at=noon + timedelta(hours=1))
    run = kitchen.revision.runs.get()
    for minutes in (-300, 3, 600):
        SentReading.objects.create(meter=run.meter, at=run.started_at + timedelta(minutes=minutes), energy_wh=0.1 + 0.2)
    run.note, run.flags = "tab\tline\nquote\" ' \\ \u2028", [1e-7, 12.5, {"a": None}]
    run.save()
    return kitchen


def manage(folder: Path, *arguments: str, database: str = "") -> subprocess.CompletedProcess[str]:
    """Run a command of the program on a data folder and a database of its own."""
    place = find_place(
        Path(settings.BASE_DIR), WATTFARE_DATA=str(folder), DATABASE_URL=database, DJANGO_SETTINGS_MODULE="deploy.settings"
    )
    command = [sys.executable, "manage.py", *arguments]
    return subprocess.run(command, cwd=settings.BASE_DIR, env=dict(place.variables), capture_output=True, text=True, check=False)


def empty_database():
    """Give the address of an empty database of the kind that the tests run on, which goes again."""
    assert connection.vendor in {"sqlite", "postgresql"}
    return _scratch_database()
