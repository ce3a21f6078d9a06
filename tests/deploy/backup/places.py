"""For tests of backups: a furnished kitchen with photos, and a database of their own."""

from __future__ import annotations

import io
from datetime import timedelta

from django.db import connection

from deploy.backup.proving import _scratch_database
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


def empty_database():
    """Give the address of an empty database of the kind that the tests run on, which goes again."""
    assert connection.vendor in {"sqlite", "postgresql"}
    return _scratch_database()
