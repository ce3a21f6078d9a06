"""Recording, correcting and judging runs."""

import datetime

import pytest
from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from energy import operations, queries
from energy.models import Reading, Run
from energy.operations import NewReading, StageStart


def minutes(run):
    return [(reading.at - run.started_at).total_seconds() / 60 for reading in run.readings.all()]


def test_a_recorded_run_has_its_figures(run):
    assert run.summary["method"] == "counter"
    assert run.summary["energy_wh"] == pytest.approx(213)
    assert [stage["energy_wh"] for stage in run.summary["stages"]] == pytest.approx([105, 108, 0])
    assert run.summary["stages"][0]["mean_w"] == pytest.approx(630)
    assert run.flags == []
    assert queries.does_count(run)


def test_recording_locks_the_revision_once(record, revision, noon):
    record()
    revision.refresh_from_db()
    assert revision.locked_at == noon
    record(later=1)
    revision.refresh_from_db()
    assert revision.locked_at == noon


def test_nothing_is_half_recorded(details, owner, noon):
    bad = [NewReading(0, 0), NewReading(60, -5)]
    with pytest.raises((IntegrityError, ValueError)), transaction.atomic():
        operations.record_run(details=details, readings=bad, stages=[], operator=owner, at=noon)
    assert not Run.objects.exists()
    details.revision.refresh_from_db()
    assert details.revision.locked_at is None


def test_stages_know_who_usually_stands_there(run):
    assert [stage.attended for stage in run.stages.all()] == [True, False, False]


def test_a_running_run_ends_when_it_is_finished(record, noon):
    run = record(running=True)
    assert run.ended_at is None
    operations.finish_run(run=run, ended_at=noon + datetime.timedelta(minutes=20))
    assert run.ended_at == noon + datetime.timedelta(minutes=31), "never before the last reading"


def test_a_reading_after_the_end_makes_the_run_longer(run):
    operations.add_reading(run=run, reading=NewReading(40 * 60, 215))
    run.refresh_from_db()
    assert (run.ended_at - run.started_at).total_seconds() == 2400
    assert run.summary["energy_wh"] == pytest.approx(215)


def test_a_removed_reading_can_be_put_back_once(run):
    reading = run.readings.get(energy_wh=105)
    removed = operations.remove_reading(reading=reading)
    run.refresh_from_db()
    assert 10 not in minutes(run)
    assert run.summary["stages"][0]["split_wh"] > 0, "the mark now falls between two readings"
    for _ in range(2):
        operations.put_back_reading(run=run, removed=removed)
    assert minutes(run).count(10) == 1
    run.refresh_from_db()
    assert run.summary["stages"][0]["energy_wh"] == pytest.approx(105)


def test_a_correction_works_the_figures_out_again(run):
    operations.correct_reading(reading=run.readings.get(at=run.started_at), now=NewReading(0, 3))
    run.refresh_from_db()
    assert run.summary["energy_wh"] == pytest.approx(210)


def test_a_new_start_moves_everything_along(run, details, noon):
    before = minutes(run)
    later = noon + datetime.timedelta(hours=2)
    operations.edit_run(run=run, details=type(details)(**{**vars(details), "started_at": later}), at=noon)
    run.refresh_from_db()
    assert run.started_at == later
    assert minutes(run) == before
    assert run.stages.first().starts_at == later
    assert run.summary["energy_wh"] == pytest.approx(213)


def test_a_log_read_twice_is_kept_once(record):
    run = record(counter=((0, 0), (31, 213)))
    log = [NewReading(minute * 60, wh, origin="file") for minute, wh in ((5, 56), (10, 105))]
    assert operations.import_readings(run=run, readings=log) == 2
    assert operations.import_readings(run=run, readings=log) == 0
    assert Reading.objects.filter(run=run).count() == 4


def test_the_next_stage_ends_the_one_before(record):
    run = record(stages=((0, "brown"),), running=True)
    operations.mark_next_stage(run=run, stage=StageStart(600, "come_up"))
    assert [stage.kind for stage in run.stages.all()] == ["brown", "come_up"]
    run.refresh_from_db()
    assert run.summary["stages"][0]["end_s"] == 600


def test_a_flagged_run_counts_only_with_a_reason(flagged_run):
    assert len(flagged_run.flags) == 1
    assert "fell" in flagged_run.flags[0]
    assert not queries.does_count(flagged_run)
    with pytest.raises(operations.NeedsReason):
        operations.judge_run(run=flagged_run, verdict="counts")
    with pytest.raises(operations.NeedsReason):
        operations.judge_run(run=flagged_run, verdict="accepted", reason="  ")
    operations.judge_run(run=flagged_run, verdict="accepted", reason="I reset it at minute 11.")
    assert queries.does_count(flagged_run)


def test_better_gear_words_change_the_figures(run, meter):
    before = run.summary["uncertainty_wh"]
    meter.accuracy_pct = 5
    operations.save_gear(gear=meter)
    run.refresh_from_db()
    assert run.summary["uncertainty_wh"] > before


def test_gear_in_use_stays(run, meter):
    with pytest.raises(ProtectedError):
        operations.remove_gear(gear=meter)
