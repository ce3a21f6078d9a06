"""Runs into facts: only like with like, averages with their interval, stages that add up to the total."""

import json
import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from statistics import variance

import pytest

from energy.estimates.domain.combine import combine_runs
from energy.estimates.domain.from_facts import repeats_of
from energy.estimates.domain.repeats import UsualSpread
from energy.facts import ApplianceFacts, EnergyFacts
from energy.gear.domain.sources import INVERTER_SPREAD
from energy.runs.domain.metering import MeterSpec, Sample, StageSpan, summarise
from kitchen.domain import record
from kitchen.domain.remark import remark
from tests.energy.estimates.domain.cooks import HOOK_UP, POT, STATION, TARIFF, measured_run

THREE = [measured_run(105, 213, day=1), measured_run(98, 206, day=2), measured_run(103, 218, day=3)]


def test_no_run_that_counts_makes_no_facts():
    assert combine_runs([]) is None
    assert combine_runs([replace(THREE[0], counts=False)]) is None


def test_one_run_is_less_sure_than_its_meter():
    facts = combine_runs(THREE[:1])
    assert (facts.energy_wh, facts.counted_runs) == (213, 1)
    assert facts.uncertainty_wh == pytest.approx(math.hypot(2.447 * 0.055 * 213, THREE[0].summary.uncertainty_wh))
    assert facts.next_high_wh - 213 == pytest.approx(math.hypot(2.447 * 0.055 * 213 * 2**0.5, THREE[0].summary.uncertainty_wh))
    assert [s.energy_wh for s in facts.stages] == [105, 108, 0]


def test_three_runs_are_averaged_with_their_interval():
    facts = combine_runs(THREE, tariff=TARIFF)
    assert facts.energy_wh == pytest.approx(637 / 3)
    spread = math.sqrt((6 * (0.055 * 637 / 3) ** 2 + 2 * variance([213, 206, 218])) / 8)
    parts = THREE[0].summary.parts
    meter = 2 * math.hypot(parts["accuracy"] * 637 / 639, math.hypot(parts["display"], parts["marks"]) / 3**0.5)
    assert facts.uncertainty_wh == pytest.approx(math.hypot(2.306 * spread / 3**0.5, meter), rel=1e-4)
    assert facts.next_high_wh - facts.energy_wh == pytest.approx(math.hypot(2.306 * spread * (4 / 3) ** 0.5, meter), rel=1e-4)
    assert sum(s.energy_wh for s in facts.stages) == pytest.approx(facts.energy_wh)
    assert (facts.cooking_s, facts.attended_s, facts.total_s) == (1260, 600, 1860)
    assert facts.counted_runs == 3
    assert facts.tariff == TARIFF


def test_a_second_run_narrows_what_one_left_open_and_no_number_of_them_what_the_meter_does():
    one = combine_runs(THREE[:1])
    many = [replace(THREE[0], day=datetime(2026, 9, 1, tzinfo=UTC) + timedelta(day)) for day in range(40)]
    assert combine_runs(THREE[:2]).uncertainty_wh < one.uncertainty_wh
    assert combine_runs(many).uncertainty_wh > 2 * THREE[0].summary.parts["accuracy"]


def test_the_ladder_of_the_run_nearest_the_mean_meets_the_mean_stages():
    facts = combine_runs(THREE)
    corners = dict(facts.ladder)
    assert corners[600] == pytest.approx(facts.stages[0].energy_wh)
    assert facts.ladder[-1] == pytest.approx((1860, facts.energy_wh))


def test_spans_are_averaged_and_the_mean_power_follows():
    facts = combine_runs([measured_run(105, 213), measured_run(105, 213, day=2, brown_min=12)])
    assert facts.stages[0].span_s == 660
    assert facts.stages[0].mean_w == pytest.approx(105 * 3600 / 660)


def test_another_number_of_servings_is_listed_but_not_averaged():
    facts = combine_runs([*THREE, measured_run(200, 400, day=4, servings=12)], servings=6)
    assert (facts.servings, facts.counted_runs) == (6, 3)
    assert facts.runs[3].verdict_reason == remark("for_other_servings", servings=12, figures=6)
    assert not facts.runs[3].counts


def test_the_recipes_own_servings_win_over_more_runs():
    facts = combine_runs([*THREE, measured_run(200, 400, day=4, servings=12)], servings=12)
    assert (facts.servings, facts.energy_wh) == (12, 400)


def test_another_appliance_is_listed_but_not_averaged():
    plate = ApplianceFacts("the plate", "induction_plate", 1800)
    facts = combine_runs([*THREE, measured_run(120, 260, day=4, appliance=plate)])
    assert (facts.appliance, facts.counted_runs) == (POT, 3)
    assert facts.runs[3].verdict_reason == remark("on_another_appliance", name="the pot")


def test_a_run_with_too_little_read_never_counts():
    empty = replace(THREE[0], summary=replace(THREE[0].summary, method="none", energy_wh=0.0))
    facts = combine_runs([THREE[0], empty])
    assert (facts.energy_wh, facts.counted_runs) == (213, 1)
    assert facts.runs[1].verdict_reason == remark("too_little_read")


def test_a_run_with_other_stages_counts_with_its_total_only():
    facts = combine_runs([*THREE[:2], measured_run(100, 230, day=3, flat=True)])
    assert [s.kind for s in facts.stages] == ["brown", "come_up", "rest"]
    assert facts.energy_wh == pytest.approx((213 + 206 + 230) / 3)
    assert sum(s.energy_wh for s in facts.stages) == pytest.approx(facts.energy_wh)


def test_a_run_measured_at_the_battery_is_brought_to_the_socket():
    facts = combine_runs([measured_run(105, 250, place="battery")])
    idle_wh = 9 * 1860 / 3600
    assert facts.energy_wh == pytest.approx((250 - idle_wh) * 0.88)
    assert sum(s.energy_wh for s in facts.stages) == pytest.approx(facts.energy_wh, abs=9 * 600 / 3600)
    assert facts.runs[0].notes == (remark("brought_to_socket", efficiency_pct=88, spread_pct=INVERTER_SPREAD * 100, idle_w=9),)
    assert facts.runs[0].flags == (), "worked out is not wrong"


def test_an_inverter_that_nobody_measured_makes_the_socket_less_sure():
    run = measured_run(105, 250, place="battery")
    facts = combine_runs([run])
    inverter_wh = 2 * facts.energy_wh * INVERTER_SPREAD / 0.88 / 3**0.5
    meters = math.hypot(run.summary.uncertainty_wh * 0.88, inverter_wh)
    assert facts.uncertainty_wh == pytest.approx(math.hypot(2.447 * 0.055 * facts.energy_wh, meters))
    assert facts.uncertainty_wh / facts.energy_wh > run.summary.uncertainty_wh / run.summary.energy_wh


def test_the_peak_goes_through_the_inverter_too():
    run = measured_run(105, 250, place="battery")
    shown = replace(run, summary=replace(run.summary, peak_w=800.0, peak_seen=True))
    assert combine_runs([shown]).peak_w == pytest.approx((800 - 9) * 0.88)


def test_a_run_on_another_cooker_says_so_and_not_why_it_was_accepted():
    elsewhere = replace(measured_run(105, 213, appliance=replace(POT, name="Small pot")), verdict_reason="The display hung.")
    facts = combine_runs([*THREE, elsewhere])
    assert [run.verdict_reason for run in facts.runs if not run.counts] == [remark("on_another_appliance", name="the pot")]


def test_a_run_left_out_without_a_word_still_says_that_it_was():
    facts = combine_runs([*THREE, measured_run(105, 213, counts=False)])
    assert facts.runs[-1].verdict_reason == remark("left_out_by_cook")


def test_on_the_mains_both_places_are_the_same():
    assert combine_runs([measured_run(105, 213, place="battery", source=HOOK_UP)]).energy_wh == 213


def test_facts_travel_as_json():
    facts = combine_runs(THREE, tariff=TARIFF)
    assert record.read(EnergyFacts, json.loads(json.dumps(record.write(facts)))) == facts


def read_on_its_charge(fall_pct, *, source=STATION):
    """A cook for six of which nothing but the fall of the battery's charge was read."""
    run = measured_run(105, 213, source=source)
    read = [Sample(0, charge_pct=90), Sample(1860, charge_pct=90 - fall_pct)]
    return replace(run, summary=summarise(read, [StageSpan("come_up", "", 0, 1860)], MeterSpec(1, 0), capacity_wh=1024))


def at_both_ends(fall_pct, **more):
    run = measured_run(105, 213, **more)
    return replace(run, summary=replace(run.summary, charge_fall_pct=fall_pct))


def test_a_label_that_nobody_checked_makes_a_fall_of_the_charge_less_sure():
    facts = combine_runs([read_on_its_charge(25.0)])
    assert facts.energy_wh == pytest.approx((256 - 9 * 31 / 60) * 0.88)
    display = 2 * 4.18 * 0.88
    inverter = 2 * facts.energy_wh * 0.035 / 0.88 / 3**0.5
    label = 2 * 256 * 0.88 * 0.05 / 3**0.5
    repeats = 2.447 * 0.055 * facts.energy_wh
    assert facts.uncertainty_wh == pytest.approx(math.hypot(repeats, display, inverter, label), rel=0.01)


def test_what_one_per_cent_gives_needs_no_label():
    known = replace(STATION, wh_per_pct=8.0, wh_per_pct_uncertainty=0.2)
    facts = combine_runs([read_on_its_charge(25.0, source=known)])
    assert facts.energy_wh == pytest.approx(25 * 8.0 - 0.88 * 9 * 31 / 60)
    assert facts.uncertainty_wh < combine_runs([read_on_its_charge(25.0)]).uncertainty_wh


def test_cooks_read_at_both_ends_show_what_one_per_cent_gives():
    given = combine_runs([at_both_ends(25.0), at_both_ends(26.0)]).source
    assert given.wh_per_pct == pytest.approx((213 + 0.88 * 9 * 31 / 60) / 25.5, rel=0.005)
    assert 0 < given.wh_per_pct_uncertainty < 0.05 * given.wh_per_pct


def test_a_fall_of_a_few_steps_shows_less_than_the_label():
    assert combine_runs([at_both_ends(3.0)]).source == STATION
    assert combine_runs([at_both_ends(5.0)]).source == STATION
    sure = replace(STATION, wh_per_pct=8.4, wh_per_pct_uncertainty=0.01)
    assert combine_runs([at_both_ends(25.0, source=sure)]).source == sure


def test_where_there_is_no_inverter_its_doubt_makes_no_cook_surer_than_the_label():
    """A fall of 13 steps is known within 6.6 %: less sure than a label (5.8 %), surer than one behind an inverter (7.4 %)."""
    direct = replace(STATION, inverter_efficiency=1.0, idle_w=0.0)
    assert combine_runs([at_both_ends(13.0, source=direct)]).source == direct
    assert combine_runs([at_both_ends(13.0)]).source.wh_per_pct is not None


def test_how_much_cooks_differ_here_goes_into_every_estimate():
    wide, narrow = (combine_runs(THREE[:1], usual=UsualSpread(share, 6.0)) for share in (0.12, 0.02))
    assert wide.usual_spread == (0.12, 6.0)
    assert repeats_of(wide).of_next > 3 * repeats_of(narrow).of_next
