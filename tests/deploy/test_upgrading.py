"""An upgrade makes a backup first, happens whole or not at all, and says how to go back."""

import re

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from deploy import upgrading
from deploy.backup.places import backups_in, last_backup
from deploy.upgrading import UpgradeFailed, apply_changes, back_up_first, keep_served
from kitchen.models import Recipe
from tests.house.tree import TOP

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture(autouse=True)
def own_folder(settings, tmp_path):
    settings.DATA_DIR, settings.MEDIA_ROOT = tmp_path, tmp_path / "photos"
    return tmp_path


def half_done(*_args, **_kwargs):
    """A change that makes a table, changes rows, and then fails."""
    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE kitchen_half (id integer PRIMARY KEY)")
        cursor.execute("UPDATE kitchen_recipe SET title = 'half'")
    raise RuntimeError("cannot go on\nsecond line")


def test_an_upgrade_that_fails_leaves_the_data_as_they_were(owner, noon, monkeypatch, own_folder):
    Recipe.objects.create(owner=owner, title="Whole", slug="whole", created_at=noon, updated_at=noon)
    kept = back_up_first()
    assert [path for _, path in backups_in(own_folder / "backups", rows_alone=True)] == [kept]
    assert last_backup() is None
    keep_served()
    monkeypatch.setattr(upgrading, "call_command", half_done)
    with pytest.raises(UpgradeFailed) as failure:
        apply_changes(kept)
    sentence = str(failure.value)
    assert "The upgrade failed (RuntimeError: cannot go on). Nothing was changed: the data are as they were." in sentence
    assert re.search(r"Go on with the program that served before: git checkout [0-9a-f]{12}, and start it again\.", sentence)
    assert sentence.endswith(f"A backup of the rows is in {kept}.")
    assert Recipe.objects.get().title == "Whole"
    assert "kitchen_half" not in connection.introspection.table_names()
    Recipe.objects.create(owner=owner, title="Next", slug="next", created_at=noon, updated_at=noon)


def test_tables_of_a_newer_program_are_left_alone(own_folder):
    recorder = MigrationRecorder(connection)
    kept = back_up_first()
    recorder.record_applied("kitchen", "9999_later")
    try:
        with pytest.raises(CommandError, match=r"does not know kitchen\.9999_later\. .*--without-backup ") as refusal:
            call_command("prepare", "--no-demo")
        assert str(refusal.value).endswith(str(kept))
    finally:
        recorder.record_unapplied("kitchen", "9999_later")


def test_every_change_to_the_tables_can_be_taken_back_together():
    """One transaction holds them all; a migration that wants none of its own would leave half an upgrade."""
    files = [path for app in ("kitchen", "energy", "costing") for path in (TOP / app / "migrations").glob("0*.py")]
    assert len(files) > 10
    assert [path.name for path in files if re.search(r"atomic\s*=\s*False|Concurrently", path.read_text("utf-8"))] == []
