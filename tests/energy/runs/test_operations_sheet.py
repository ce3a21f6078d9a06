"""Rows of a sheet are added at once, once, and taken back whole."""

from __future__ import annotations

from datetime import timedelta
from uuid import UUID, uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from energy.models import Moment
from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import add_reading, record_run
from energy.runs.operations.sheet import add_rows, take_rows_back
from energy.runs.operations.typed import NewNote, StageStart, TypedRows
from energy.runs.queries.sheet import kept_readings
from tests.conftest import NOON

ONCE = UUID("0193a5f0-1111-4222-8333-444455556666")
ROWS = TypedRows(
    [Sample(400, 70.0), Sample(2100, 215.0, 0.0, note="lid off")],
    [StageStart(1860, "rest")],
    [NewNote(500, "wind got up")],
)


def state(run):
    run.refresh_from_db()
    readings = sorted((r.pk, r.at, r.energy_wh, r.power_w, r.note) for r in run.readings.all())
    stages = [(s.position, s.kind, s.starts_at, s.label, s.attended) for s in run.stages.all()]
    return readings, stages, list(run.moments.values_list("at", "text")), run.ended_at, run.summary


def test_rows_come_in_and_the_run_goes_on_to_the_last(run):
    add_rows(run=run, rows=ROWS, once=ONCE, at=NOON)
    run.refresh_from_db()
    assert run.ended_at == run.started_at + timedelta(seconds=2100)
    assert run.summary["energy_wh"] == 215.0
    assert [stage.kind for stage in run.stages.all()] == ["brown", "come_up", "release", "rest"]
    assert run.readings.get(note="lid off").origin == "typed"
    assert run.moments.get().text == "wind got up"


def test_the_same_form_adds_nothing_twice(run):
    assert add_rows(run=run, rows=ROWS, once=ONCE, at=NOON)
    once = state(run)
    assert add_rows(run=run, rows=ROWS, once=ONCE, at=NOON) is None
    assert state(run) == once
    stages_only = TypedRows(stages=[StageStart(300, "keep_warm")])
    assert add_rows(run=run, rows=stages_only, once=uuid4(), at=NOON)
    assert add_rows(run=run, rows=stages_only, once=uuid4(), at=NOON) is None


def test_taking_back_leaves_the_run_as_it_was_and_twice_changes_nothing(run):
    before = state(run)
    added = add_rows(run=run, rows=ROWS, once=ONCE, at=NOON)
    take_rows_back(run=run, added=added, at=NOON)
    assert state(run) == before
    take_rows_back(run=run, added=added, at=NOON)
    assert state(run) == before


def test_a_stage_that_gave_way_comes_back(run):
    before = state(run)
    added = add_rows(run=run, rows=TypedRows(stages=[StageStart(600, "reduce")]), once=ONCE, at=NOON)
    assert [stage.kind for stage in run.stages.all()] == ["brown", "reduce", "release"]
    take_rows_back(run=run, added=added, at=NOON)
    assert state(run) == before


def test_what_came_since_stays(run):
    added = add_rows(run=run, rows=ROWS, once=ONCE, at=NOON)
    later = add_reading(run=run, reading=Sample(2400, 220.0))
    take_rows_back(run=run, added=added, at=NOON)
    run.refresh_from_db()
    assert run.readings.filter(pk=later.pk).exists()
    assert run.ended_at == later.at
    assert run.readings.count() == 8


@settings(max_examples=15, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    minutes=st.lists(st.integers(1, 400), unique=True, max_size=8), kinds=st.lists(st.sampled_from(["hold", "rest"]), max_size=3)
)
def test_any_rows_can_be_taken_back(run, minutes, kinds):
    rows = TypedRows(
        [Sample(minute * 60 + 7, 50.0) for minute in minutes],
        [StageStart(place * 300, kind) for place, kind in enumerate(kinds)],
        [NewNote(minute * 60, "x") for minute in minutes[:2]],
    )
    before = state(run)
    added = add_rows(run=run, rows=rows, once=uuid4(), at=NOON)
    if added is not None:
        take_rows_back(run=run, added=added, at=NOON)
    assert state(run) == before


def test_a_whole_sheet_keeps_its_notes_once(details, owner, noon):
    rows = TypedRows([Sample(0, 0.0), Sample(600, 50.0)], notes=[NewNote(900, "put it in the box")])
    for _ in range(2):
        run = record_run(details=details, rows=rows, operator=owner, once=ONCE, at=noon)
    assert Moment.objects.get().run == run
    assert run.ended_at == noon + timedelta(minutes=15)


@pytest.mark.django_db
def test_a_form_is_not_held_against_its_own_rows(run):
    add_rows(run=run, rows=ROWS, once=ONCE, at=NOON)
    assert len(kept_readings(run)) == 9
    assert len(kept_readings(run, ONCE)) == 7
