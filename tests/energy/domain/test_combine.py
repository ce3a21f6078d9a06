"""Runs into facts: only like with like, averages with their interval, stages that add up to the total."""

import json
import math
from dataclasses import replace
from statistics import stdev

import pytest

from energy.domain.combine import EFFICIENCY_SPREAD, combine_runs
from energy.domain.facts import ApplianceFacts, EnergyFacts
from kitchen.domain import record
from tests.energy.domain.cooks import HOOK_UP, POT, TARIFF, measured_run

THREE = [measured_run(105, 213, day=1), measured_run(98, 206, day=2), measured_run(103, 218, day=3)]


def test_no_run_that_counts_makes_no_facts():
    assert combine_runs([]) is None
    assert combine_runs([replace(THREE[0], counts=False)]) is None


def test_one_run_is_as_sure_as_its_meter():
    facts = combine_runs(THREE[:1])
    assert (facts.energy_wh, facts.counted_runs) == (213, 1)
    assert facts.uncertainty_wh == THREE[0].summary.uncertainty_wh
    assert (facts.next_low_wh, facts.next_high_wh) == (213 - facts.uncertainty_wh, 213 + facts.uncertainty_wh)
    assert [s.energy_wh for s in facts.stages] == [105, 108, 0]


def test_three_runs_are_averaged_with_their_interval():
    facts = combine_runs(THREE, tariff=TARIFF)
    spread = stdev([213, 206, 218])
    assert facts.energy_wh == pytest.approx(637 / 3)
    assert facts.uncertainty_wh == pytest.approx(4.303 * spread / 3**0.5)
    assert facts.next_high_wh - facts.energy_wh == pytest.approx(4.303 * spread * (4 / 3) ** 0.5)
    assert sum(s.energy_wh for s in facts.stages) == pytest.approx(facts.energy_wh)
    assert (facts.cooking_s, facts.attended_s, facts.total_s) == (1260, 600, 1860)
    assert facts.counted_runs == 3
    assert facts.tariff == TARIFF


def test_runs_that_repeat_exactly_are_no_surer_than_the_meter():
    facts = combine_runs([THREE[0], replace(THREE[0], day=THREE[1].day)])
    assert facts.uncertainty_wh == pytest.approx(THREE[0].summary.uncertainty_wh)


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
    assert facts.runs[3].verdict_reason == "Cooked for 12; the figures are for 6."
    assert not facts.runs[3].counts


def test_the_recipes_own_servings_win_over_more_runs():
    facts = combine_runs([*THREE, measured_run(200, 400, day=4, servings=12)], servings=12)
    assert (facts.servings, facts.energy_wh) == (12, 400)


def test_another_appliance_is_listed_but_not_averaged():
    plate = ApplianceFacts("the plate", "induction_plate", 1800)
    facts = combine_runs([*THREE, measured_run(120, 260, day=4, appliance=plate)])
    assert (facts.appliance, facts.counted_runs) == (POT, 3)
    assert facts.runs[3].verdict_reason == "Cooked on another appliance than the pot."


def test_a_run_with_too_little_read_never_counts():
    empty = replace(THREE[0], summary=replace(THREE[0].summary, method="none", energy_wh=0.0))
    facts = combine_runs([THREE[0], empty])
    assert (facts.energy_wh, facts.counted_runs) == (213, 1)
    assert facts.runs[1].verdict_reason == "Too little was read."


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
    assert any("inverter of 88" in words for words in facts.runs[0].notes)
    assert facts.runs[0].flags == (), "worked out is not wrong"


def test_an_inverter_that_nobody_measured_makes_the_socket_less_sure():
    run = measured_run(105, 250, place="battery")
    facts = combine_runs([run])
    inverter_wh = 2 * facts.energy_wh * EFFICIENCY_SPREAD / 0.88 / 3**0.5
    assert facts.uncertainty_wh == pytest.approx(math.hypot(run.summary.uncertainty_wh * 0.88, inverter_wh))
    assert facts.uncertainty_wh / facts.energy_wh > run.summary.uncertainty_wh / run.summary.energy_wh


def test_the_peak_goes_through_the_inverter_too():
    run = measured_run(105, 250, place="battery")
    shown = replace(run, summary=replace(run.summary, peak_w=800.0, peak_seen=True))
    assert combine_runs([shown]).peak_w == pytest.approx((800 - 9) * 0.88)


def test_a_run_on_another_cooker_says_so_and_not_why_it_was_accepted():
    elsewhere = replace(measured_run(105, 213, appliance=replace(POT, name="Small pot")), verdict_reason="The display hung.")
    facts = combine_runs([*THREE, elsewhere])
    assert [run.verdict_reason for run in facts.runs if not run.counts] == ["Cooked on another appliance than the pot."]


def test_a_run_left_out_without_a_word_still_says_that_it_was():
    facts = combine_runs([*THREE, measured_run(105, 213, counts=False)])
    assert facts.runs[-1].verdict_reason == "Left out by the cook."


def test_on_the_mains_both_places_are_the_same():
    assert combine_runs([measured_run(105, 213, place="battery", source=HOOK_UP)]).energy_wh == 213


def test_facts_travel_as_json():
    facts = combine_runs(THREE, tariff=TARIFF)
    assert record.read(EnergyFacts, json.loads(json.dumps(record.write(facts)))) == facts
