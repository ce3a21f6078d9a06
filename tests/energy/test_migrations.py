"""Tables as version 0.1.0 left them are brought up to date: what forms had changed then, the presses say afterwards."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID

import pytest
from django.db import connection
from django.db.migrations.executor import MigrationExecutor

from tests.conftest import NOON

pytestmark = pytest.mark.django_db(transaction=True)
BEFORE, AFTER = ("energy", "0005_price_tariffs_by_the_clock"), ("energy", "0006_let_presses_follow_forms")


def elsewhere(executor):
    """Return where the other apps' tables stand: as they are now."""
    return [leaf for leaf in executor.loader.graph.leaf_nodes() if leaf[0] == "kitchen"]


@pytest.fixture
def old_tables():
    """The tables of then; whatever the test leaves, those of now come back."""
    executor = MigrationExecutor(connection)
    executor.migrate([BEFORE])
    yield executor.loader.project_state([BEFORE, *elsewhere(executor)]).apps
    latest = MigrationExecutor(connection)
    latest.migrate(latest.loader.graph.leaf_nodes())


def migrated():
    executor = MigrationExecutor(connection)
    executor.migrate([AFTER])
    return executor.loader.project_state([AFTER, *elsewhere(executor)]).apps


def old_run(tables, started_at, **more):
    """Return a run in the tables of then, with the least around it."""
    owner, _ = tables.get_model("auth", "User").objects.get_or_create(username="cook")
    recipe, _ = tables.get_model("kitchen", "Recipe").objects.get_or_create(
        slug="pot", defaults={"title": "Pot", "owner": owner, "created_at": NOON, "updated_at": NOON}
    )
    revision, _ = tables.get_model("kitchen", "Revision").objects.get_or_create(
        recipe=recipe, number=1, defaults={"servings": 4, "created_at": NOON}
    )
    gear = {
        "appliance": tables.get_model("energy", "Appliance").objects.get_or_create(
            name="Pot", kind="pressure_cooker", rated_w=700
        ),
        "source": tables.get_model("energy", "PowerSource").objects.get_or_create(name="Wall", kind="mains"),
        "meter": tables.get_model("energy", "Meter").objects.get_or_create(name="Plug"),
    }
    given = {name: found for name, (found, _) in gear.items()}
    return tables.get_model("energy", "Run").objects.create(
        revision=revision, **given, started_at=started_at, servings=4, recorded_at=NOON, **more
    )


def event(tables, run, number, kind, minute, **said):
    at = NOON + timedelta(minutes=minute)
    return tables.get_model("energy", "DeskEvent").objects.create(
        id=UUID(int=number), run=run, kind=kind, at=at, said=said, received_at=at
    )


def test_presses_move_to_where_their_rows_were_moved(old_tables):
    """The start was moved an hour back: rows went along then, presses did not."""
    hour = timedelta(hours=1)
    run = old_run(old_tables, NOON - hour)
    for number, kind, minute in ((1, "reading", 1), (2, "pause", 10), (3, "resume", 20)):
        event(old_tables, run, number, kind, minute, **({"energy_wh": 10.0} if kind == "reading" else {}))
    readings = old_tables.get_model("energy", "Reading").objects
    readings.create(id=UUID(int=1), run=run, at=NOON + timedelta(minutes=1) - hour, energy_wh=10.0, origin="desk")
    events = migrated().get_model("energy", "DeskEvent").objects
    moments = {one.kind: (one.at - NOON).total_seconds() / 60 for one in events.all()}
    assert moments == {"reading": -59, "pause": -50, "resume": -40}
    assert events.get(kind="reading").amended == {}


def test_a_reading_that_a_form_corrected_is_amended_and_one_it_removed_is_taken_back(old_tables):
    run = old_run(old_tables, NOON)
    event(old_tables, run, 1, "reading", 1, energy_wh=10.0)
    event(old_tables, run, 2, "reading", 2, energy_wh=20.0)
    readings = old_tables.get_model("energy", "Reading").objects
    readings.create(id=UUID(int=1), run=run, at=NOON + timedelta(minutes=1), energy_wh=11.0, origin="desk", note="read again")
    events = migrated().get_model("energy", "DeskEvent").objects
    corrected, removed = events.get(pk=UUID(int=1)), events.get(pk=UUID(int=2))
    assert corrected.amended == {"energy_wh": 11.0, "power_w": None, "charge_pct": None, "note": "read again"}
    assert (corrected.withdrawn_at, removed.withdrawn_at) == (None, NOON + timedelta(minutes=2))


def test_an_end_is_the_forms_unless_a_finish_put_it_there(old_tables):
    typed = old_run(old_tables, NOON, ended_at=NOON + timedelta(minutes=31))
    pressed = old_run(old_tables, NOON + timedelta(days=1), ended_at=NOON + timedelta(days=1, minutes=30))
    event(old_tables, pressed, 1, "finish", 24 * 60 + 30)
    runs = migrated().get_model("energy", "Run").objects
    assert runs.get(pk=typed.pk).typed_end == NOON + timedelta(minutes=31)
    assert runs.get(pk=pressed.pk).typed_end is None
