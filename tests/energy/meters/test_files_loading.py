"""A file's readings come into a run and out of it again; a log becomes several runs, or none. All logs are invented."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from energy.meters.operations import files
from energy.meters.operations.files import CookOfLog, FileFacts, TooManyReadings
from energy.models import LoadedFile, Run
from energy.runs.domain.log_columns import LogColumns
from energy.runs.operations.recording import remove_runs

NAN = float("nan")
FACTS = FileFacts("plug.csv", "a" * 64, {"columns": []}, ("Read as a comma-separated table.",))


def logged(seconds, start=None, watts=700.0, every_s=10):
    times = [float(at_s) for at_s in range(0, seconds + 1, every_s)]
    return LogColumns(times, [NAN] * len(times), [watts] * len(times), [NAN] * len(times), start)


@pytest.fixture
def load(owner, noon):
    def into(run, readings, placing="dates", facts=FACTS):
        return files.load_file(run=run, readings=readings, facts=facts, placing=placing, by=owner, at=noon)

    return into


@pytest.fixture
def empty_run(record):
    """A run that was begun and ended at once, before its file came."""
    return record((), ((0, "come_up"),))


def state(run):
    run = Run.objects.get(pk=run.pk)
    readings = sorted(run.readings.values_list("at", "energy_wh", "power_w"), key=str)
    return (run.started_at, run.ended_at, readings, sorted(run.stages.values_list("kind", "starts_at")), run.summary)


def test_a_file_comes_in_and_goes_out_again(run, load, noon):
    before = state(run)
    loaded = load(run, logged(600, noon))
    assert (loaded.fresh, loaded.known, loaded.far) == (61, 0, 0)
    assert run.readings.filter(loaded=loaded.file, origin="file").count() == 61
    files.unload_file(file=LoadedFile.objects.get())
    assert state(run) == before
    assert LoadedFile.objects.count() == 0


def test_a_figure_that_no_display_can_show_was_not_read(run, load, noon):
    log = LogColumns([0.0, 60.0, 120.0], [-1.0, 5.0, NAN], [NAN] * 3, [NAN, 120.0, 101.0], noon)
    assert load(run, log).fresh == 1
    assert [(one.energy_wh, one.charge_pct) for one in run.readings.filter(origin="file")] == [(5.0, None)]


def test_a_run_that_had_no_end_of_its_own_ends_with_the_file(empty_run, load, noon):
    before = state(empty_run)
    load(empty_run, logged(1800, noon))
    empty_run.refresh_from_db()
    assert empty_run.ended_at == noon + timedelta(minutes=30)
    assert empty_run.summary["energy_wh"] == pytest.approx(350)  # 700 W for half an hour
    files.unload_file(file=LoadedFile.objects.get())
    assert state(empty_run) == before


def test_an_end_that_was_there_stays_and_what_is_far_stays_out(run, load, noon):
    loaded = load(run, logged(4 * 3600, noon - timedelta(hours=2), every_s=60))
    run.refresh_from_db()
    assert run.ended_at == noon + timedelta(minutes=31)
    assert loaded.fresh == 60 + 31 + 60 + 1
    assert loaded.far == 241 - loaded.fresh


def test_the_same_readings_are_not_doubled(run, load, noon):
    load(run, logged(600, noon))
    again = load(run, logged(900, noon), facts=replace(FACTS, digest="b" * 64))
    assert (again.fresh, again.known) == (30, 61)
    assert run.readings.filter(origin="file").count() == 91


def test_the_first_row_is_the_start(run, load, noon):
    load(run, logged(600, noon - timedelta(days=400)), "start")
    assert run.readings.filter(origin="file").order_by("at").first().at == noon


def test_the_run_moves_to_the_file_with_all_it_holds_and_back(run, load, noon):
    before = state(run)
    there = noon + timedelta(days=3, seconds=0.5)
    load(run, logged(600, there), "move")
    run.refresh_from_db()
    assert (run.started_at, run.ended_at) == (there, there + timedelta(minutes=31))
    assert list(run.stages.values_list("starts_at", flat=True))[1] == there + timedelta(minutes=10)
    assert run.readings.filter(origin="typed").order_by("at").first().at == there
    files.unload_file(file=LoadedFile.objects.get())
    assert state(run) == before


def test_ends_that_were_moved_since_stay_when_the_file_goes(empty_run, load, noon):
    load(empty_run, logged(1800, noon))
    Run.objects.filter(pk=empty_run.pk).update(ended_at=noon + timedelta(minutes=20))
    files.unload_file(file=LoadedFile.objects.get())
    empty_run.refresh_from_db()
    assert empty_run.ended_at == noon + timedelta(minutes=20)


def test_steady_rows_of_a_long_log_are_thinned_and_no_figure_changes(empty_run, load, noon, monkeypatch):
    monkeypatch.setattr(files, "MOST_READINGS", 300)
    readings = logged(1800, noon)
    loaded = load(empty_run, readings)
    empty_run.refresh_from_db()
    assert loaded.steady > 100
    assert empty_run.summary["energy_wh"] == pytest.approx(350)


def test_more_than_a_run_keeps_is_refused_whole(empty_run, load, noon, monkeypatch):
    monkeypatch.setattr(files, "MOST_READINGS", 50)
    readings = logged(1800, noon)
    uneven = replace(readings, power_w=[float(n % 7) for n in range(readings.count)])
    with pytest.raises(TooManyReadings, match="181 readings in this cook, and a cook keeps 50"):
        load(empty_run, uneven)
    assert not LoadedFile.objects.exists()


def test_progress_is_told_in_shares(empty_run, owner, noon):
    told = []
    files.load_file(
        run=empty_run, readings=logged(1800, noon), facts=FACTS, placing="dates", by=owner, at=noon, progress=told.append
    )
    assert told == sorted(told)
    assert told[-1] == 1


@pytest.fixture
def evening(noon):
    """Two cooks, 900 W for 20 min and 600 W for 15, with an hour between them."""
    parts = ((600, 0.0), (1200, 900.0), (3600, 0.0), (900, 600.0), (3600, 0.0))
    watts = [power for span_s, power in parts for _ in range(span_s // 10)]
    return LogColumns([10.0 * n for n in range(len(watts))], [NAN] * len(watts), watts, [NAN] * len(watts), noon)


def cooks_of(details, noon):
    spans = ((590.0, 1800.0), (5390.0, 6300.0))
    return [CookOfLog(a, b, replace(details, started_at=noon + timedelta(seconds=a)), "come_up") for a, b in spans]


def test_a_log_becomes_two_runs_and_they_go_again(evening, details, owner, noon):
    made = files.record_cooks(cooks=cooks_of(details, noon), readings=evening, facts=FACTS, by=owner, at=noon)
    energies = [Run.objects.get(pk=run.pk).summary["energy_wh"] for run in made]
    assert energies == pytest.approx([300, 150], abs=2.6)  # half a sample of ramp at each end
    first, second = made
    assert first.readings.order_by("at").last().at <= second.started_at
    assert second.readings.order_by("at").first().at >= first.ended_at
    assert [run.files.get().digest for run in made] == ["a" * 64] * 2
    assert remove_runs(runs=made) == 2
    assert not Run.objects.exists()
    assert not LoadedFile.objects.exists()


def test_one_cook_that_cannot_be_kept_keeps_none(evening, details, owner, noon, monkeypatch):
    monkeypatch.setattr(files, "MOST_READINGS", 250)
    cooks = cooks_of(details, noon)
    longer = replace(evening, power_w=[power + n % 5 for n, power in enumerate(evening.power_w)])
    with pytest.raises(TooManyReadings):
        files.record_cooks(cooks=cooks, readings=longer, facts=FACTS, by=owner, at=noon)
    assert not Run.objects.exists()


def test_taking_a_file_out_costs_the_same_queries_however_long_it_is(record, load, noon):
    def queries(seconds):
        run = record((), ((0, "come_up"),), later=seconds)
        file = load(run, logged(seconds, noon + timedelta(days=seconds))).file
        with CaptureQueriesContext(connection) as asked:
            files.unload_file(file=LoadedFile.objects.select_related("run").get(pk=file.pk))
        return len(asked.captured_queries)

    assert queries(60) == queries(1800)
