"""A run's figures: counter first, watts and charge as fallbacks, stages cut out of them, what looks wrong."""

import json
import random
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.gear.domain.sources import path_efficiency
from energy.runs.domain.metering import Limits, MeterSpec, RunSummary, Sample, StageSpan, summarise
from energy.runs.domain.rhythm import Came
from kitchen.domain import record
from kitchen.domain.remark import remark

MINUTES = [0, 5, 10, 12, 21, 26, 31]
COUNTER = [0, 56, 105, 118, 213, 213, 213]
READ = [Sample(60.0 * minute, wh) for minute, wh in zip(MINUTES, COUNTER, strict=True)]
STAGES = [
    StageSpan("brown", "", 0, 600, attended=True),
    StageSpan("come_up", "", 600, 1260),
    StageSpan("release", "", 1260, 1560),
    StageSpan("rest", "", 1560, 1860),
]
METER = MeterSpec(1, 2)


def flagged(run: RunSummary, code: str, **values: float | str) -> bool:
    """Whether a run has a flag of a code, with these values among its own."""
    return any(flag.code == code and values.items() <= flag.values.items() for flag in run.flags)


def test_minutes_are_told_apart():
    run = summarise(READ, STAGES, METER)
    assert (run.cooking_s, run.attended_s, run.total_s) == (1260, 600, 1860)


def test_hold_under_pressure_is_cooking_although_nothing_is_drawn():
    run = summarise([Sample(0, 0), Sample(600, 100), Sample(1200, 100)], [StageSpan("hold", "", 0, 1200)], METER)
    assert run.cooking_s == 1200


def test_a_clean_run_has_no_flags_and_says_how():
    run = summarise(READ, STAGES, METER, limits=Limits(rated_w=700, source_w=1000))
    assert run.flags == ()
    assert run.notes == (remark("by_counter"),)


def test_the_record_travels_as_json_and_comes_back():
    run = summarise(READ, STAGES, METER)
    assert record.read(RunSummary, json.loads(json.dumps(record.write(run)))) == run


def test_the_peak_without_watts_is_what_the_counter_proves_and_says_so():
    run = summarise(READ, STAGES, METER)
    assert run.peak_w == pytest.approx((56 - 1) * 12)
    assert not run.peak_seen


def test_a_small_climb_in_a_short_time_tells_no_power():
    run = summarise([Sample(0, 0), Sample(1, 1), Sample(600, 100)], [], METER)
    assert run.peak_w == pytest.approx(98 * 3600 / 599)


def test_watts_show_the_peak_although_the_counter_gives_the_energy():
    run = summarise([*READ, Sample(120, None, 690), Sample(700, None, 702), Sample(1300, None, 0)], STAGES, METER)
    assert (run.method, run.peak_w, run.peak_seen) == ("counter", 702, True)
    assert [stage.peak_w for stage in run.stages] == [690, 702, 0, None]


def test_a_mark_without_a_reading_near_it_makes_the_cut_unsure():
    between = [StageSpan("brown", "", 0, 540), StageSpan("come_up", "", 540, 1860)]
    run = summarise(READ, between, METER)
    step_wh = 105 - 56
    assert run.stages[0].split_wh == pytest.approx(step_wh / 12**0.5)
    assert run.stages[0].energy_wh == pytest.approx(56 + 49 * 240 / 300)
    near = summarise(READ, [StageSpan("brown", "", 0, 597), StageSpan("come_up", "", 597, 1860)], METER)
    assert near.stages[0].split_wh == 0


def test_the_whole_is_surer_than_the_sum_of_unsure_cuts():
    run = summarise(READ, [StageSpan("brown", "", 0, 540), StageSpan("come_up", "", 540, 1860)], METER)
    assert run.parts["marks"] == 0
    assert run.uncertainty_wh < sum(stage.uncertainty_wh for stage in run.stages)


def test_a_falling_counter_is_a_reset_and_reported():
    run = summarise([Sample(0, 10), Sample(600, 115), Sample(900, 13), Sample(1260, 108)], [], METER)
    assert run.energy_wh == 105 + 13 + 95
    assert run.resets == 1
    assert flagged(run, "counter_fell", before_wh=115, after_wh=13)
    assert run.parts["display"] > summarise(READ, [], METER).parts["display"]


def test_readings_before_and_after_the_stages_do_not_count_and_are_told():
    run = summarise([Sample(-300, 0), *[Sample(s.at_s, s.energy_wh + 7) for s in READ], Sample(2400, 230)], STAGES, METER)
    assert run.energy_wh == pytest.approx(213)
    assert remark("readings_outside", readings=2, energy_wh=17) in run.notes


def test_a_late_first_reading_is_at_least():
    run = summarise(READ[1:], STAGES, METER)
    assert flagged(run, "start_unread", unread_s=300, energy_wh=157)


def test_an_early_last_reading_is_at_least_unless_the_rest_draws_nothing():
    assert summarise(READ[:5], STAGES, METER).flags == ()
    assert flagged(summarise(READ[:4], STAGES, METER), "end_unread", unread_s=540)
    assert summarise([*READ[:4], Sample(721, None, 0)], STAGES, METER).flags == ()


def test_too_little_says_what_is_missing():
    for samples in ([], READ[:1], [Sample(0, None, 600)], [Sample(0, charge_pct=90)]):
        run = summarise(samples, STAGES, METER)
        assert (run.method, run.known, run.energy_wh) == ("none", False, 0)
        assert flagged(run, "too_few_readings")
        assert run.cooking_s == 1260


def test_charge_alone_needs_a_capacity():
    fall = [Sample(0, charge_pct=100), Sample(1860, charge_pct=62)]
    assert flagged(summarise(fall, STAGES, METER), "only_charge")
    run = summarise(fall, STAGES, METER, capacity_wh=768)
    assert run.energy_wh == pytest.approx(291.84)
    assert (run.place, run.charge_fall_pct) == ("battery", 38)


def test_charge_beside_a_counter_gives_the_path():
    run = summarise([*READ, Sample(0, charge_pct=100), Sample(1860, charge_pct=62)], STAGES, METER, capacity_wh=768)
    assert run.method == "counter"
    assert run.charge_fall_pct is not None
    assert round(path_efficiency(run.energy_wh, run.uncertainty_wh, run.charge_fall_pct, 768).value, 3) == 0.730


def test_a_battery_that_charges_while_cooking_is_flagged():
    run = summarise([*READ, *(Sample(60 * m, charge_pct=c) for m, c in ((0, 80), (10, 75), (20, 78)))], STAGES, METER)
    assert flagged(run, "charge_rose", rise_pct=3)


@pytest.mark.parametrize(("held", "energy_wh"), [(True, 700 * 600 / 3600), (False, 700 * 600 / 3600 / 2)])
def test_watts_are_held_or_run_straight(held, energy_wh):
    run = summarise([Sample(0, None, 700), Sample(600, None, 0)], [], METER, came=Came(held))
    assert run.energy_wh == pytest.approx(energy_wh)


def test_a_held_value_lasts_to_the_end_of_the_last_stage():
    run = summarise([Sample(0, None, 200), Sample(300, None, 100)], [StageSpan("hold", "", 0, 900)], METER, came=Came(True))
    assert run.energy_wh == pytest.approx((200 * 300 + 100 * 600) / 3600)
    assert run.flags == ()


def test_typed_watts_alone_are_a_guess_and_flagged():
    run = summarise([Sample(60 * minute, None, 600) for minute in (0, 4, 11, 12, 20)], [], METER)
    assert flagged(run, "rare_watts")


def test_a_gap_in_a_sampled_log_is_flagged_and_lowers_coverage():
    log = [Sample(float(at_s), None, 500.0) for at_s in [*range(0, 600, 5), *range(1080, 1500, 5)]]
    run = summarise(log, [], METER)
    assert flagged(run, "hole", span_s=485, counted_wh=pytest.approx(67.4, abs=0.1))
    assert run.coverage is not None
    assert run.coverage.covered == pytest.approx(1 - 485 / 1495, abs=0.001)
    assert (run.coverage.longest_gap_s, run.coverage.interval_s) == (485, 5)


def cycling(interval_s: int) -> list[Sample]:
    return [Sample(float(at_s), None, 1500.0 if at_s % 70 < 23 else 0.0) for at_s in range(0, 1801, interval_s)]


def test_a_cycling_load_in_a_coarse_log_is_flagged():
    assert flagged(summarise(cycling(30), [], METER), "coarse_log", interval_s=30)
    fine = summarise(cycling(5), [StageSpan("hold", "", 0, 1800)], METER)
    assert fine.flags == ()
    assert fine.stages[0].cycling
    assert fine.parts["edges"] > 0


def test_a_holding_stage_with_a_low_mean_cycles_as_far_as_the_counter_tells():
    read = [Sample(0, 0), Sample(600, 110), Sample(1500, 140)]
    run = summarise(read, [StageSpan("come_up", "", 0, 600), StageSpan("hold", "", 600, 1500)], METER)
    assert [stage.cycling for stage in run.stages] == [False, True]


def both(factor: float) -> list[Sample]:
    log = [Sample(float(at_s), None, 700.0 * factor) for at_s in range(0, 1201, 5)]
    return [*log, Sample(0, 0), Sample(600, 117), Sample(1200, 233)]


def test_counter_and_watts_check_each_other():
    run = summarise(both(1.0), [], METER)
    assert run.cross_check is not None
    assert run.cross_check.agrees
    assert "watts_agree" in [note.code for note in run.notes]
    wrong = summarise(both(1.3), [], METER)
    assert wrong.energy_wh == 233
    assert flagged(wrong, "counter_against_watts", counter_wh=233)


def test_a_few_typed_watts_do_not_question_the_counter():
    run = summarise([*READ, Sample(60, None, 690), Sample(1800, None, 0)], STAGES, METER)
    assert run.cross_check is None
    assert run.flags == ()


def test_more_than_the_appliance_can_draw_is_flagged():
    typo = [*READ[:2], Sample(600, 501), *READ[2:][1:]]
    assert flagged(summarise(typo, STAGES, METER, limits=Limits(rated_w=700)), "above_rated", rated_w=700)
    watts = [Sample(0, None, 1500), Sample(600, None, 1500)]
    assert flagged(summarise(watts, [], METER, came=Came(True), limits=Limits(rated_w=1000)), "peak_above_rated", rated_w=1000)


def test_a_coarse_display_does_not_accuse_the_appliance():
    read = [Sample(0, 0), Sample(30, 10), Sample(600, 110)]
    assert summarise(read, [], MeterSpec(10, 1), limits=Limits(rated_w=700)).flags == ()


def test_a_peak_above_the_source_is_flagged():
    run = summarise([*READ, Sample(60, None, 690)], STAGES, METER, limits=Limits(source_name="the small station", source_w=600))
    assert flagged(run, "peak_above_source", name="the small station", limit_w=600)


def test_a_meter_on_the_battery_is_not_held_against_the_socket():
    run = summarise(READ, STAGES, MeterSpec(1, 2, "battery"), limits=Limits(rated_w=500, source_w=500))
    assert run.place == "battery"
    assert run.flags == ()


def test_stages_that_run_backward_are_flagged_and_break_nothing():
    run = summarise(READ, [StageSpan("brown", "", 600, 0), StageSpan("hold", "", 600, 1860)], METER)
    assert flagged(run, "stage_backward", stage=1)
    assert run.stages[0].energy_wh == 0
    assert all(stage.span_s >= 0 for stage in run.stages)


def test_a_run_without_stages_counts_as_cooking():
    run = summarise(READ, [], METER)
    assert (run.energy_wh, run.cooking_s, run.stages) == (213, 1860, ())


def test_the_ladder_keeps_every_corner_and_every_mark_is_on_the_climb():
    run = summarise([Sample(s.at_s + 3000, s.energy_wh) for s in READ], [StageSpan("bake", "", 3000, 4860)], METER)
    assert run.ladder == ((0, 0), (300, 56), (600, 105), (720, 118), (1260, 213), (1860, 213))


def test_a_long_log_has_a_short_ladder():
    rng = random.Random(1)
    log, total = [], 0.0
    for at_s in range(0, 20_000, 5):
        total += rng.random()
        log.append(Sample(float(at_s), round(total, 3)))
    run = summarise(log, [], METER)
    assert len(run.ladder) <= 200
    assert run.ladder[0] == (0, 0)
    assert run.ladder[-1][1] == pytest.approx(run.energy_wh, abs=1e-3)


@pytest.mark.parametrize(
    "bad",
    [
        {"energy_wh": -1},
        {"power_w": -5},
        {"charge_pct": 101},
        {"charge_pct": -1},
        {"power_w": float("nan")},
        {"energy_wh": float("inf")},
    ],
)
def test_a_reading_that_no_display_can_show_is_refused_in_words(bad):
    with pytest.raises(ValueError, match=r"counter|cooker|charge|plain number"):
        Sample(0, **bad)


climbing = st.lists(
    st.tuples(st.integers(0, 7200), st.floats(0, 5000, allow_nan=False).map(lambda wh: round(wh, 1))), min_size=2, max_size=30
)


@given(climbing, st.randoms(use_true_random=False))
def test_the_order_of_arrival_never_matters(readings, rng):
    samples = [Sample(float(at_s), wh) for at_s, wh in readings]
    shuffled = samples[:]
    rng.shuffle(shuffled)
    assert summarise(samples, [], METER) == summarise(shuffled, [], METER)


@given(climbing, st.lists(st.integers(0, 7200), max_size=6))
def test_energy_adds_up_over_any_cut(readings, cuts):
    samples = [Sample(float(at_s), wh) for at_s, wh in readings]
    marks = sorted({0, 7200, *cuts})
    stages = [StageSpan("bake", "", float(a), float(b)) for a, b in pairwise(marks)]
    run = summarise(samples, stages, METER)
    assert sum(stage.energy_wh for stage in run.stages) == pytest.approx(run.energy_wh, abs=1e-6)


@given(
    st.lists(st.tuples(st.integers(0, 3600), st.floats(0, 3000)), min_size=2, max_size=40), st.integers(0, 3600), st.booleans()
)
def test_watts_add_up_over_any_cut_too(readings, cut, held):
    samples = [Sample(float(at_s), None, power) for at_s, power in readings]
    stages = [StageSpan("bake", "", 0.0, float(cut)), StageSpan("bake", "", float(cut), 3600.0)]
    run = summarise(samples, stages, METER, came=Came(held))
    assert sum(stage.energy_wh for stage in run.stages) == pytest.approx(run.energy_wh, abs=1e-6)


@given(climbing)
def test_resets_never_make_energy_negative(readings):
    run = summarise([Sample(float(at_s), wh) for at_s, wh in readings], [], METER)
    assert run.energy_wh >= 0
    assert all(after[1] >= before[1] for before, after in pairwise(run.ladder))
    assert all(after[0] >= before[0] for before, after in pairwise(run.ladder))


@given(climbing, st.floats(0.001, 100), st.floats(1.01, 10))
def test_a_coarser_display_is_never_surer(readings, resolution_wh, times):
    samples = [Sample(float(at_s), wh) for at_s, wh in readings]
    fine = summarise(samples, [], MeterSpec(resolution_wh, 1))
    coarse = summarise(samples, [], MeterSpec(resolution_wh * times, 1))
    assert coarse.energy_wh == fine.energy_wh
    assert coarse.uncertainty_wh > fine.uncertainty_wh
