"""Marking a run on its curve: by typed minutes, without script; trimming keeps every reading; and all of it can be undone."""

from __future__ import annotations

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from energy.runs.domain.samples import Sample
from energy.runs.operations.recording import record_run
from energy.runs.operations.typed import RunDetails, StageStart, TypedRows


@pytest.fixture
def logged_run(details, owner, noon):
    """An invented log of an hour: five minutes idle, ten on, thirty ticking, the rest off; one stage."""

    def watts(at_s):
        if at_s < 300 or at_s >= 2700:
            return 0.0
        return 700.0 if at_s < 900 or at_s // 30 % 2 else 1.0

    readings = [Sample(at_s, None, watts(at_s), origin="file") for at_s in range(0, 3601, 10)]
    moved = RunDetails(**vars(details))
    return record_run(details=moved, rows=TypedRows(readings, [StageStart(0, "come_up")]), operator=owner, at=noon)


def marks(begins, ends, *stages, **more):
    rows = {
        f"stage{n}-{cell}": value for n, stage in enumerate(stages) for cell, value in zip(("minute", "kind"), stage, strict=True)
    }
    return {"begins": begins, "ends": ends, **rows, "keep": "1", **more}


def kept(run):
    run.refresh_from_db()
    return [((stage.starts_at - run.started_at).total_seconds() / 60, stage.kind) for stage in run.stages.all()]


def test_the_page_shows_the_curve_and_what_is_marked(logged_run, owner_client):
    page = owner_client.get(reverse("energy:run-marks", args=[logged_run.pk])).content.decode()
    assert page.count("<svg") == 2
    assert 'name="stage0-minute" value="0"' in page
    assert "See what the curve suggests: 3 stages" in page


def test_suggestions_are_filled_in_and_not_kept(logged_run, owner_client):
    page = owner_client.get(reverse("energy:run-marks", args=[logged_run.pk]), {"suggest": "1"}).content.decode()
    assert [float(minute) for minute in re.findall(r'name="stage\d-minute" value="([\d.]+)"', page)] == pytest.approx(
        [5, 15, 45], abs=0.6
    )
    assert 'name="begins" value="5"' in page
    assert kept(logged_run) == [(0, "come_up")]


def test_trimming_moves_the_ends_and_keeps_every_reading(logged_run, owner_client, noon):
    address, count = reverse("energy:run-marks", args=[logged_run.pk]), logged_run.readings.count()
    answer = owner_client.post(address, marks("5", "45", ("5", "come_up"), ("15", "hold")), follow=True)
    page = answer.content.decode()
    assert "The marks are saved." in page
    assert kept(logged_run) == [(0, "come_up"), (10, "hold")]
    assert (logged_run.started_at - noon).total_seconds() == 300
    assert (logged_run.ended_at - logged_run.started_at).total_seconds() == 2400
    assert logged_run.readings.count() == count
    assert "30 before the start and 90 after the end: those readings are saved and not counted." in page
    assert logged_run.summary["total_s"] == 2400


def test_what_was_kept_can_be_taken_back_twice(logged_run, owner_client, noon):
    address = reverse("energy:run-marks", args=[logged_run.pk])
    before_wh = logged_run.summary["energy_wh"]
    went = owner_client.post(address, marks("5", "20", ("5", "come_up")))
    page = owner_client.get(went.headers["Location"]).content.decode()
    token = re.search(r'name="before" value="([^"]+)"', page)[1]
    assert logged_run.summary["energy_wh"] == before_wh
    for _ in range(2):
        owner_client.post(reverse("energy:run-unmark", args=[logged_run.pk]), {"before": token})
        assert kept(logged_run) == [(0, "come_up")]
        assert logged_run.started_at == noon
        assert logged_run.summary["energy_wh"] == before_wh


def test_another_runs_marks_are_not_put_here(logged_run, record, owner_client):
    went = owner_client.post(reverse("energy:run-marks", args=[logged_run.pk]), marks("0", "20", ("5", "come_up")))
    token = went.headers["Location"].partition("before=")[2]
    other = record(later=1)
    stood = kept(other)
    for bad in (token, "nonsense", ""):
        answer = owner_client.post(reverse("energy:run-unmark", args=[other.pk]), {"before": bad}, follow=True)
        assert "cannot be taken back any more" in answer.content.decode()
        assert kept(other) == stood


def test_keeping_what_stood_changes_no_instant(run, owner_client):
    before = (run.started_at, run.ended_at, list(run.stages.values_list("kind", "starts_at", "attended")))
    page = owner_client.get(reverse("energy:run-marks", args=[run.pk])).content.decode()
    sent = dict(re.findall(r'name="((?:stage\d-(?:minute|key)|begins|ends))" value="([^"]*)"', page))
    for n, (kind, _, attended) in enumerate(before[2]):
        sent |= {f"stage{n}-kind": kind} | ({f"stage{n}-attended": "on"} if attended else {})
    owner_client.post(reverse("energy:run-marks", args=[run.pk]), {**sent, "keep": "1"})
    run.refresh_from_db()
    assert (run.started_at, run.ended_at, list(run.stages.values_list("kind", "starts_at", "attended"))) == before


@pytest.mark.parametrize(
    ("sent", "sentence"),
    [
        (marks("0", "60"), "Mark at least one stage"),
        (marks("30", "20", ("25", "hold")), "The end should lie after the start."),
        (marks("5", "45", ("2", "hold")), "This lies outside the cook, which goes from minute 5 to 45."),
        (marks("0", "45", ("2", "hold"), ("2", "rest")), "Two stages begin at minute 2."),
        (marks("soon", "45", ("2", "hold")), "“soon” is not a minute."),
        (marks("-20000", "45", ("2", "hold")), "more than a week away"),
        (marks("0", "45", ("2", "")), "Which stage begins here?"),
    ],
)
def test_bad_marks_come_back_as_typed(logged_run, owner_client, sent, sentence):
    answer = owner_client.post(reverse("energy:run-marks", args=[logged_run.pk]), sent)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert sentence in page
    assert f'name="begins" value="{sent["begins"]}"' in page
    assert kept(logged_run) == [(0, "come_up")]


def test_more_rows_check_nothing_and_keep_what_was_typed(logged_run, owner_client):
    sent = marks("soon", "45", ("two", "hold"), more="1")
    page = owner_client.post(reverse("energy:run-marks", args=[logged_run.pk]), sent).content.decode()
    assert 'value="two"' in page
    assert 'name="stage3-minute"' in page
    assert 'role="alert"' not in page


def test_a_run_that_goes_on_goes_on(record, owner_client):
    run = record(running=True)
    owner_client.post(reverse("energy:run-marks", args=[run.pk]), marks("1", "31", ("1", "brown")))
    run.refresh_from_db()
    assert run.ended_at is None
    assert kept(run) == [(0, "brown")]


def test_a_counter_is_drawn_as_means(run, owner_client):
    page = owner_client.get(reverse("energy:run-marks", args=[run.pk])).content.decode()
    assert "Mean watts between two readings of the counter." in page


def test_a_run_without_a_curve_can_be_marked_all_the_same(record, owner_client):
    run = record(((0, 5),), ((0, "brown"),))
    page = owner_client.get(reverse("energy:run-marks", args=[run.pk])).content.decode()
    assert "There is no curve to draw yet" in page


def test_marking_costs_the_same_queries_with_more_readings(logged_run, details, owner, noon, owner_client):
    def queries(run):
        with CaptureQueriesContext(connection) as asked:
            owner_client.get(reverse("energy:run-marks", args=[run.pk]))
        return len(asked.captured_queries)

    short = record_run(
        details=details, rows=TypedRows([Sample(0, 0), Sample(60, 5)], [StageStart(0, "brown")]), operator=owner, at=noon
    )
    assert queries(logged_run) == queries(short)
