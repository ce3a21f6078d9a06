"""The energy by the time it boils, beside the heat that food and pot took."""

import pytest

from energy.heat.in_the_pot import LeftOut
from energy.heat.need import HeatNeed
from energy.runs.domain.metering import Limits, MeterSpec, Sample, StageSpan, summarise
from kitchen.domain.remark import remark

READ = [Sample(60 * minute, wh) for minute, wh in ((0, 0), (10, 105), (21, 213), (40, 260))]
STAGES = [StageSpan("brown", "", 0, 600), StageSpan("come_up", "", 600, 1260), StageSpan("hold", "", 1260, 2400)]
SQUASH = LeftOut("squash", "It has no amount.", unsure=True)


def cook(needed_wh=170.0, *, samples=READ, stages=STAGES, left=(), meter=None, **more):
    need = HeatNeed(food_wh=needed_wh, left_out=left, **more)
    return summarise(samples, stages, meter or MeterSpec(1, 1), limits=Limits(heat=need))


def codes(remarks):
    return [one.code for one in remarks]


def test_energy_up_to_the_end_of_the_come_up():
    run = cook()
    assert (run.heat.measured_wh, run.heat.until, run.heat.exact) == (213, "come_up", True)
    assert run.heat.efficiency == pytest.approx(170 / 213)
    assert run.flags == ()
    assert len(run.notes) == 1


def test_more_heat_than_energy_is_flagged():
    assert cook(230).flags == (remark("heat_above_energy", needed_wh=230, measured_wh=213),)
    assert codes(cook(200).flags) == ["hardly_lost"]


def test_little_heat_is_a_note_and_no_flag():
    run = cook(100)
    assert run.flags == ()
    assert run.notes[-1] == remark("much_lost", share_pct=100 / 213 * 100)


def test_what_is_left_out_can_only_say_too_much():
    assert codes(cook(230, left=(SQUASH,)).flags) == ["more_heat_above_energy"]
    assert cook(200, left=(SQUASH,)).flags == (remark("even_less_lost", share_pct=200 / 213 * 100),)
    little = cook(100, left=(SQUASH,))
    assert little.flags == ()
    assert len(little.notes) == 1


def test_a_stage_cut_far_from_any_reading_does_not_blame_the_meter():
    # Only the ends were read: linear in between, the come-up would seem to get 137 Wh of the 213 that it took.
    ends = [READ[0], READ[-1]]
    run = cook(170, samples=ends)
    assert run.heat.at_most
    assert run.heat.measured_wh == 260
    assert run.flags == ()
    assert codes(cook(270, samples=ends).flags) == ["heat_above_energy"]
    assert len(cook(100, samples=ends).notes) == 1, "the true share may be larger"


def test_a_hold_on_the_way_loses_heat_by_design():
    twice = [StageSpan("come_up", "", 0, 600), StageSpan("hold", "", 600, 900), StageSpan("come_up", "", 900, 1260)]
    run = cook(100, stages=twice)
    assert run.heat.measured_wh == 213
    assert not run.heat.only_heats
    assert "much_lost" not in codes(run.notes)


def test_a_cook_that_only_holds_is_held_against_its_first_hold():
    holds = [StageSpan("hold", "", 0, 1260), StageSpan("hold", "", 1260, 2400)]
    run = cook(230, stages=holds)
    assert (run.heat.until, run.heat.measured_wh) == ("hold", 213)
    assert codes(run.flags) == ["heat_above_energy"]


def test_without_a_need_or_with_a_reason_there_is_no_check():
    assert summarise(READ, STAGES, MeterSpec()).heat is None
    run = cook(500, why_not="Dry heat.")
    assert run.flags == ()
    assert run.heat.need.why_not == "Dry heat."
    unmarked = cook(500, stages=[])
    assert (unmarked.heat.efficiency, unmarked.heat.until, unmarked.flags) == (None, "", ())


def test_watts_are_cut_where_the_stage_ends():
    watts = [Sample(at_s, None, 600 if at_s < 1260 else 0) for at_s in range(0, 2401, 10)]
    run = cook(170, samples=watts)
    assert not run.heat.at_most
    assert run.heat.measured_wh == pytest.approx(210, abs=1)
