"""Recording, correcting and judging runs."""

import datetime
import uuid
from fractions import Fraction

import pytest
from django.db import IntegrityError, connection, transaction
from django.db.models import ProtectedError
from django.test.utils import CaptureQueriesContext

from energy.gear.operations import remove_gear, save_gear
from energy.models import Reading, Run
from energy.runs.domain.samples import Sample
from energy.runs.operations.judging import NeedsReason, judge_run
from energy.runs.operations.recording import (
    SentBefore,
    add_reading,
    correct_reading,
    edit_run,
    finish_run,
    mark_next_stage,
    put_back_reading,
    record_run,
    remove_reading,
)
from energy.runs.operations.summing import refresh_summary
from energy.runs.operations.typed import StageStart, TypedRows
from energy.runs.queries.runs import does_count, run_summary
from kitchen.models import Food


def minutes(run):
    return [(reading.at - run.started_at).total_seconds() / 60 for reading in run.readings.all()]


def test_a_recorded_run_has_its_figures(run):
    assert run.summary["method"] == "counter"
    assert run.summary["energy_wh"] == pytest.approx(213)
    assert [stage["energy_wh"] for stage in run.summary["stages"]] == pytest.approx([105, 108, 0])
    assert run.summary["stages"][0]["mean_w"] == pytest.approx(630)
    assert run.flags == []
    assert does_count(run)


def test_recording_locks_the_revision_once(record, revision, noon):
    record()
    revision.refresh_from_db()
    assert revision.locked_at == noon
    record(later=1)
    revision.refresh_from_db()
    assert revision.locked_at == noon


def test_nothing_is_half_recorded(details, owner, noon):
    bad = [Sample(0, 0), Sample(60)]
    with pytest.raises(IntegrityError), transaction.atomic():
        record_run(details=details, rows=TypedRows(bad), operator=owner, at=noon)
    assert not Run.objects.exists()
    details.revision.refresh_from_db()
    assert details.revision.locked_at is None


def test_stages_know_who_usually_stands_there(run):
    assert [stage.attended for stage in run.stages.all()] == [True, False, False]


def test_a_running_run_ends_when_it_is_finished(record, noon):
    run = record(running=True)
    assert run.ended_at is None
    finish_run(run=run, ended_at=noon + datetime.timedelta(minutes=20))
    assert run.ended_at == noon + datetime.timedelta(minutes=31), "never before the last reading"


def test_a_reading_after_the_end_makes_the_run_longer(run):
    add_reading(run=run, reading=Sample(40 * 60, 215))
    run.refresh_from_db()
    assert (run.ended_at - run.started_at).total_seconds() == 2400
    assert run.summary["energy_wh"] == pytest.approx(215)


def test_a_removed_reading_can_be_put_back_once(run, noon):
    reading = run.readings.get(energy_wh=105)
    removed = remove_reading(reading=reading, at=noon)
    run.refresh_from_db()
    assert 10 not in minutes(run)
    assert run.summary["stages"][0]["split_wh"] > 0, "the mark now falls between two readings"
    for _ in range(2):
        put_back_reading(run=run, removed=removed)
    assert minutes(run).count(10) == 1
    run.refresh_from_db()
    assert run.summary["stages"][0]["energy_wh"] == pytest.approx(105)


def test_a_correction_works_the_figures_out_again(run):
    correct_reading(reading=run.readings.get(at=run.started_at), now=Sample(0, 3))
    run.refresh_from_db()
    assert run.summary["energy_wh"] == pytest.approx(210)


def test_a_new_start_moves_everything_along(run, details, noon):
    before = minutes(run)
    later = noon + datetime.timedelta(hours=2)
    edit_run(run=run, details=type(details)(**{**vars(details), "started_at": later}), at=noon)
    run.refresh_from_db()
    assert run.started_at == later
    assert minutes(run) == before
    assert run.stages.first().starts_at == later
    assert run.summary["energy_wh"] == pytest.approx(213)


def test_the_next_stage_ends_the_one_before(record, noon):
    run = record(stages=((0, "brown"),), running=True)
    mark_next_stage(run=run, stage=StageStart(600, "come_up"), at=noon)
    assert [stage.kind for stage in run.stages.all()] == ["brown", "come_up"]
    run.refresh_from_db()
    assert run.summary["stages"][0]["end_s"] == 600


def test_a_flagged_run_counts_only_with_a_reason(flagged_run):
    assert len(flagged_run.flags) == 1
    assert flagged_run.flags[0]["code"] == "counter_fell"
    assert not does_count(flagged_run)
    with pytest.raises(NeedsReason):
        judge_run(run=flagged_run, verdict="counts")
    with pytest.raises(NeedsReason):
        judge_run(run=flagged_run, verdict="accepted", reason="  ")
    judge_run(run=flagged_run, verdict="accepted", reason="I reset it at minute 11.")
    assert does_count(flagged_run)


def test_better_gear_words_change_the_figures(run, meter):
    before = run.summary["uncertainty_wh"]
    meter.accuracy_pct = 5
    save_gear(gear=meter)
    run.refresh_from_db()
    assert run.summary["uncertainty_wh"] > before


def test_gear_in_use_stays(run, meter):
    with pytest.raises(ProtectedError):
        remove_gear(gear=meter)


class TestSentTwice:
    """A double tap, or a phone that sends again what it was not sure of."""

    KEY = uuid.UUID("5f0c8a52-3d7e-4f4b-9a51-6a8f7f3b2c10")

    def test_a_reading_sent_again_is_kept_once(self, run):
        for _ in range(2):
            kept = add_reading(run=run, reading=Sample(40 * 60, 215), key=self.KEY)
            assert kept.pk == self.KEY
        assert run.readings.count() == 8

    def test_now_is_later_when_it_is_sent_again(self, run):
        for seconds in (2400, 2401, 9000):
            add_reading(run=run, reading=Sample(seconds, 215), key=self.KEY, moment_given=False)
        assert run.readings.count() == 8
        assert 40 in minutes(run)

    @pytest.mark.parametrize("other", [Sample(2400, 216), Sample(2460, 215), Sample(2400, 215, 690)])
    def test_another_reading_under_the_same_key_is_refused_in_words(self, run, other):
        add_reading(run=run, reading=Sample(2400, 215), key=self.KEY)
        with pytest.raises(SentBefore, match="said something else") as refused:
            add_reading(run=run, reading=other, key=self.KEY)
        assert refused.value.run == run
        assert run.readings.count() == 8
        assert run.readings.get(pk=self.KEY).energy_wh == 215

    def test_a_key_of_another_run_is_refused(self, run, record):
        other = record(later=1)
        add_reading(run=other, reading=Sample(2400, 215), key=self.KEY)
        with pytest.raises(SentBefore):
            add_reading(run=run, reading=Sample(2400, 215), key=self.KEY)
        assert run.readings.count() == 7

    def record(self, details, owner, noon, *readings, **more):
        read = [Sample(minute * 60, wh) for minute, wh in readings]
        stages = more.pop("stages", [StageStart(0, "brown")])
        return record_run(details=details, rows=TypedRows(read, stages), operator=owner, once=self.KEY, at=noon, **more)

    def test_a_cook_sent_again_is_kept_once(self, details, owner, noon):
        first = self.record(details, owner, noon, (0, 0), (31, 213))
        again = self.record(details, owner, noon + datetime.timedelta(minutes=5), (0, 0), (31, 213))
        assert again == first
        assert (Run.objects.count(), Reading.objects.count()) == (1, 2)

    def test_a_cook_that_went_on_since_is_still_the_same(self, details, owner, noon):
        first = self.record(details, owner, noon, (0, 0), running=True)
        add_reading(run=first, reading=Sample(600, 105))
        mark_next_stage(run=first, stage=StageStart(600, "come_up"), at=noon)
        assert self.record(details, owner, noon, (0, 0), running=True) == first

    def test_another_cook_under_the_same_name_is_refused(self, details, owner, noon):
        first = self.record(details, owner, noon, (0, 0), (31, 213))
        more = type(details)(**{**vars(details), "servings": 6})
        for other, readings, stages in (
            (more, ((0, 0), (31, 213)), [StageStart(0, "brown")]),
            (details, ((0, 0), (31, 214)), [StageStart(0, "brown")]),
            (details, ((0, 0), (31, 213)), [StageStart(0, "bake")]),
        ):
            with pytest.raises(SentBefore) as refused:
                self.record(other, owner, noon, *readings, stages=stages)
            assert refused.value.run == first
        assert Run.objects.count() == 1

    def test_forms_without_a_name_keep_every_cook(self, record):
        record()
        record()
        assert Run.objects.filter(once=None).count() == 2

    def test_a_stage_tapped_twice_begins_once(self, record, noon):
        run = record(stages=((0, "brown"),), running=True)
        for at_s in (600, 601.5):
            mark_next_stage(run=run, stage=StageStart(at_s, "come_up"), at=noon)
        mark_next_stage(run=run, stage=StageStart(900, "come_up"), at=noon)
        assert [(stage.starts_at - run.started_at).total_seconds() for stage in run.stages.all()] == [0, 600, 900]


class TestTheHeatBalance:
    """The heat of the recipe's food beside the energy, worked out whenever the run's figures are."""

    @pytest.fixture
    def pot(self, revision, appliance):
        """Of 1 kg of water in 1 kg of aluminium, for the revision's four servings."""
        water = Food.objects.create(name="water", water_g=99.9, ash_g=0.1)
        part = revision.parts.get()
        part.lines.all().delete()
        part.lines.create(position=0, text="1 kg water", low=Fraction(1), high=Fraction(1), unit="kg", name="water", food=water)
        appliance.vessel_kg, appliance.vessel_material = 1, "aluminium"
        appliance.save()
        return part

    def heat(self, run):
        run.refresh_from_db()
        return run_summary(run).heat

    def test_a_plausible_run_is_not_flagged(self, pot, record):
        run = record(ambient_c=10, food_start_c=12, servings=6)
        heat = self.heat(run)
        assert heat.need.food_g == pytest.approx(1500), "one and a half times the revision's servings"
        assert heat.measured_wh == pytest.approx(213)
        assert heat.efficiency == pytest.approx((1.5 * 4.19 * 88 + 0.9 * 90) / 3.6 / 213, rel=0.005)
        assert run.flags == []

    def test_too_much_heat_is_flagged_and_a_correction_takes_the_flag_away(self, pot, record, details, noon):
        run = record(ambient_c=10, food_start_c=12, servings=9)
        assert [flag["code"] for flag in run.flags] == ["heat_above_energy"]
        assert not does_count(run)
        fewer = type(details)(**{**vars(details), "ambient_c": 10, "food_start_c": 12, "servings": 6})
        edit_run(run=run, details=fewer, at=noon)
        run.refresh_from_db()
        assert run.flags == []

    def test_little_heat_is_a_note(self, pot, record):
        run = record(ambient_c=10, food_start_c=60)
        assert run.flags == []
        assert "much_lost" in [note["code"] for note in run.summary["notes"]]

    def test_a_line_that_is_not_known_makes_it_at_least(self, pot, record):
        pot.lines.create(position=1, text="300 g lentils")
        run = record(ambient_c=10, food_start_c=60)
        assert self.heat(run).need.at_least
        assert "much_lost" not in [note["code"] for note in run.summary["notes"]]

    def test_a_pot_that_is_better_known_changes_it(self, pot, record, appliance):
        run = record(ambient_c=10, food_start_c=12)
        before = self.heat(run).need.vessel_wh
        appliance.vessel_kg = 2
        save_gear(gear=appliance)
        assert self.heat(run).need.vessel_wh == pytest.approx(2 * before)

    def test_it_waits_until_the_run_is_finished(self, pot, record, noon):
        run = record(ambient_c=10, food_start_c=12, servings=9, running=True)
        assert run.flags == []
        assert self.heat(run) is None
        finish_run(run=run, ended_at=noon)
        assert self.heat(run).efficiency > 1

    def test_nothing_noted_has_defaults_that_convict_no_measurement(self, pot, record):
        run = record(servings=9)
        assert self.heat(run).need.assumed == ("food_start", "air", "height")
        assert "heat_above_energy" not in [flag["code"] for flag in run.flags]

    def test_ten_more_lines_and_steps_cost_no_more_queries(self, pot, record, revision):
        counts = []
        for more in (1, 11):
            for position in range(len(counts) * 10 + 1, more + 1):
                pot.lines.create(position=position, text="1 kg water", food=pot.lines.first().food)
                revision.steps.create(position=position + 10, text="Stir.")
            with CaptureQueriesContext(connection) as seen:
                refresh_summary(run=Run.objects.get(pk=record(ambient_c=10, later=len(counts)).pk))
            counts.append(len(seen))
        assert counts[0] == counts[1]
