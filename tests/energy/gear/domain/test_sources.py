"""Sources: verdicts with a margin, and arguments out of range refused by name."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.gear.domain import recovery, sources
from kitchen.domain.remark import remark


@pytest.mark.parametrize(
    ("steady_w", "word"), [(100, "runs"), (899, "runs"), (900, "tight"), (1000, "tight"), (1001, "no"), (None, "unknown")]
)
def test_no_pass_without_a_margin(steady_w, word):
    assert sources.will_it_run(steady_w, 1000).word == word


def test_surge_covers_only_a_brief_peak():
    assert sources.will_it_run(700, 1000, peak_w=1400, surge_w=2000).word == "tight"
    assert sources.will_it_run(700, 1000, peak_w=2100, surge_w=2000).word == "no"
    assert sources.will_it_run(1400, 1000, surge_w=2000).word == "no"


def test_above_the_rating_the_share_is_above_all_of_it():
    assert sources.will_it_run(1200, 1000).share_pct == 120


def test_an_unknown_rating_says_what_is_missing():
    verdict = sources.will_it_run(500, None, name="the shed")
    assert (verdict.said, verdict.name) == (remark("rating_unknown"), "the shed")
    assert sources.will_it_run(None, 1000).said == remark("watts_unread")


@pytest.mark.parametrize(
    ("call", "named"),
    [
        (lambda: sources.draw_from_battery_wh(-1, 1, inverter_efficiency=0.9, idle_w=1), "load_wh"),
        (lambda: sources.draw_from_battery_wh(1, -1, inverter_efficiency=0.9, idle_w=1), "span_s"),
        (lambda: sources.draw_from_battery_wh(1, 1, inverter_efficiency=0, idle_w=1), "inverter_efficiency"),
        (lambda: sources.draw_from_battery_wh(1, 1, inverter_efficiency=1.1, idle_w=1), "inverter_efficiency"),
        (lambda: sources.draw_from_battery_wh(1, 1, inverter_efficiency=0.9, idle_w=-1), "idle_w"),
        (lambda: sources.draw_from_battery_wh(float("nan"), 1, inverter_efficiency=0.9, idle_w=1), "load_wh"),
        (lambda: sources.share_of_charge(1, 0), "capacity_wh"),
        (lambda: sources.meals_per_charge(0, 100), "battery_wh"),
        (lambda: sources.meals_per_charge(10, 100, 100), "reserve_pct"),
        (lambda: sources.path_efficiency(213, 5, 0, 768), "fall_pct"),
        (lambda: sources.hook_up_w(0, 10), "volts"),
        (lambda: recovery.panel_wh_per_day(100, -1), "sun_hours"),
    ],
)
def test_out_of_range_is_refused_by_name(call, named):
    with pytest.raises(ValueError, match=named):
        call()


@given(st.floats(0, 5000), st.floats(0, 50_000), st.floats(0.3, 1), st.floats(0, 100))
def test_to_the_battery_and_back(load_wh, span_s, efficiency, idle_w):
    there = sources.draw_from_battery_wh(load_wh, span_s, inverter_efficiency=efficiency, idle_w=idle_w)
    back = sources.load_from_battery_wh(there, span_s, inverter_efficiency=efficiency, idle_w=idle_w)
    assert there >= load_wh
    assert back == pytest.approx(load_wh, abs=1e-6)


@given(st.floats(1, 2000), st.floats(50, 5000), st.floats(0, 90))
def test_meals_fit_into_the_charge(battery_wh, capacity_wh, reserve_pct):
    meals = sources.meals_per_charge(battery_wh, capacity_wh, reserve_pct)
    usable_wh = capacity_wh * (1 - reserve_pct / 100)
    assert meals * battery_wh <= usable_wh * (1 + 1e-6)
    assert (meals + 1) * battery_wh > usable_wh * (1 - 1e-6)


@given(st.floats(0, 10))
def test_a_coarser_charge_display_makes_the_path_less_sure(step_pct):
    sharp = sources.path_efficiency(213, 5, 38, 768, step_pct)
    dull = sources.path_efficiency(213, 5, 38, 768, step_pct + 1)
    assert dull.uncertainty > sharp.uncertainty
    assert dull.value == sharp.value


def test_the_share_is_that_of_the_peak_while_the_source_gives_it_all_the_time():
    assert sources.will_it_run(687, 1000, peak_w=701, surge_w=2000).share_pct == pytest.approx(70.1)
