"""The table of presses, by what the tables hold and a desk's page shows once all have arrived."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from energy.runs.operations.desk import keep_press, take_back
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import TypedRows
from energy.runs.queries.desk_page import desk_page
from energy.runs.queries.desk_presses import desk_presses
from tests.energy.runs.domain.desk_table import CASES, STARTED, instant, numbers, press_of, seconds, uuid_of


@pytest.fixture
def run(details, owner):
    """A cook that begins with the table, before anything is pressed."""
    begun = replace(details, started_at=STARTED)
    return record_run(details=begun, rows=TypedRows(), operator=owner, running=True, at=STARTED)


def arrive(run, arrival, by):
    if arrival.get("withdrawn"):
        take_back(run=run, key=uuid_of(arrival["id"]), by=by, at=STARTED)
        return
    press, replaces = press_of(arrival), arrival.get("replaces")
    kept = replace(press, replaces=None if replaces is None else uuid_of(replaces))
    keep_press(run=run, press=kept, by=by, at=STARTED)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_what_a_run_holds_after_presses(case, run, owner):
    for arrival in case["arrivals"]:
        arrive(run, arrival, owner)
    run.refresh_from_db()
    wanted = case["follows"]
    assert numbers(run.stages.order_by("position").values_list("event", flat=True)) == wanted["stages"]
    assert set(numbers(run.readings.values_list("pk", flat=True))) == set(wanted["readings"])
    assert set(numbers(run.moments.values_list("pk", flat=True))) == set(wanted["moments"])
    pauses = [[one and seconds(datetime.fromisoformat(one)) for one in pause] for pause in run.pauses]
    assert (pauses, seconds(run.ended_at)) == (wanted["pauses"], wanted["ended_at_s"])


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_what_a_desk_shows_after_presses(case, run, owner):
    for arrival in case["arrivals"]:
        arrive(run, arrival, owner)
    run.refresh_from_db()
    presses, wanted = desk_presses(run), case["follows"]
    page = desk_page(run, presses, [], instant(7200))
    for name in ("stage", "reading", "moment"):
        assert numbers([press.id for press in presses.shown if press.kind == name]) == wanted[f"{name}s"]
    assert (page.paused, page.ended) == (wanted["paused"], wanted["ended_at_s"] is not None)
    assert {name: float(shown) for name, shown in page.last.items() if shown} == wanted["last"]
    assert page.place == (f"stage {len(wanted['stages'])} of {len(wanted['stages'])}" if wanted["stages"] else "")
