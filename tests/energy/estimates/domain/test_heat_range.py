"""The range: both worked examples, ends in order, never below the food's own heat, and what it says of getting there."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.estimates.domain.heat_range import Doubt, heat_range, repeats_share
from tests.energy.estimates.domain.kitchens import HALF_POWER, IN_FROST, OPEN_POT, PRESSED, again, cooked, cooks, doubts_of

THREE_RUNS = repeats_share(3, 0.04)


def ranged(cook, asked):
    """Return the range of what is asked, from three runs with everything noted."""
    return heat_range([cook], asked, doubts_of(cook, asked), THREE_RUNS)


def moved(made):
    """Return the standard uncertainties below and above."""
    others = [part for part in made.parts if part.code != "repeats"]
    return math.hypot(*(part.low_wh for part in others)) / 2, math.hypot(*(part.high_wh for part in others)) / 2


def test_the_open_pot_at_half_of_its_power():
    made = heat_range([OPEN_POT], HALF_POWER, doubts_of(OPEN_POT, HALF_POWER), THREE_RUNS)
    assert moved(made) == (pytest.approx(5.576, abs=5e-4), pytest.approx(6.031, abs=5e-4))
    figures = (made.energy.low, made.energy.middle, made.energy.high)
    assert figures == pytest.approx((430.69, 500.40, 576.82), abs=0.005)
    assert made.answer == "yes"


def test_the_pressure_cooker_in_the_frost():
    """The air is said anew, so it is another unknown there; 3 kPa are 0.53 K, on both days."""
    doubts = doubts_of(PRESSED, IN_FROST, air_there_c=1.5, gauge_c=0.53)
    made = heat_range([PRESSED], IN_FROST, doubts, THREE_RUNS)
    assert moved(made) == (pytest.approx(8.533, abs=5e-4), pytest.approx(5.829, abs=5e-4))
    figures = (made.energy.low, made.energy.middle, made.energy.high)
    assert figures == pytest.approx((392.32, 466.87, 534.68), abs=0.005)
    assert made.answer == "yes"


@given(cooks(), st.floats(0.2, 4), st.floats(0.05, 1.2), st.floats(-5, 30), st.floats(-20, 35))
def test_the_range_is_in_order_finite_and_never_below_the_foods_own_heat(cook, times, power, start_c, ambient_c):
    if cook is None:
        return
    asked = again(
        cook, food_j_per_k=cook.food_j_per_k * times, power_share=power, start_c=min(start_c, cook.end_c), ambient_c=ambient_c
    )
    made = heat_range([cook], asked, doubts_of(cook, asked), repeats_share(1, None))
    for spread in (made.energy, made.climb):
        assert math.isfinite(spread.low)
        assert spread.low >= 0
        assert (spread.middle is None) == (spread.high is None)
        if spread.middle is not None and spread.high is not None:
            assert spread.low <= spread.middle <= spread.high < math.inf
    assert made.energy.low >= asked.least_wh
    assert made.answer in ("yes", "may_not", "no")
    assert made.answer != "yes" or made.energy.high is not None


@given(cooks(), st.floats(1, 3), st.floats(0, 15))
def test_more_food_and_a_colder_start_never_take_less(cook, times, colder):
    if cook is None:
        return
    usual = ranged(cook, again(cook)).energy.middle
    for more in (again(cook, food_j_per_k=cook.food_j_per_k * times), again(cook, start_c=cook.start_c - colder)):
        asked = ranged(cook, more).energy.middle
        assert usual is None or asked is None or asked >= usual - 1e-9


@given(cooks())
def test_an_estimate_is_never_as_sure_as_the_measured_mean(cook):
    if cook is None:
        return
    made = ranged(cook, again(cook)).energy
    if made.high is not None and made.low > again(cook).least_wh:
        assert made.high - made.low > THREE_RUNS.of_next * (cook.heat_wh + cook.hold_wh)


@given(cooks(), st.floats(0.05, 1))
def test_turned_down_it_never_takes_less_than_at_its_power(cook, power):
    if cook is None:
        return
    full, less = ranged(cook, again(cook)), ranged(cook, again(cook, power_share=power))
    assert less.answer == "no" or less.energy.low >= full.energy.low or all(math.isinf(end.heat_s) for end in less.ends)


def test_turned_down_ever_further_it_may_not_and_then_surely_does_not_get_there():
    pot = cooked(replace(OPEN_POT, hold_s=1800.0), 1500.0, 0.9, 2.0, 0.0)
    answers = [ranged(pot, again(pot, power_share=share)).answer for share in (1, 0.5, 0.15, 0.01)]
    assert answers[0] == answers[1] == "yes"
    assert answers[2] == "may_not"
    assert answers[3] == "may_not"
    lossy = replace(pot, heat_wh=2.5 * pot.heat_wh, heat_s=2.5 * pot.heat_s, hold_wh=400.0)
    assert ranged(lossy, again(lossy, power_share=0.05)).answer == "no"


def test_a_cook_of_a_third_of_the_power_is_not_said_to_take_three_times_as_much():
    """1,500 W, then 540 W, where the heater's loss and not the air's is what is unaccounted for."""
    pot = cooked(replace(OPEN_POT, food_j_per_k=6500.0, hold_s=900.0), 1500.0, 0.80, 0.9, 0.0)
    truth = cooked(replace(OPEN_POT, food_j_per_k=6500.0, hold_s=900.0), 540.0, 0.80, 0.9, 0.0)
    made = ranged(pot, again(pot, power_share=0.36))
    assert made.answer == "yes"
    assert made.energy.low < truth.heat_wh + truth.hold_wh < made.energy.high < 1.5 * (truth.heat_wh + truth.hold_wh)


def test_the_less_alike_the_other_cook_is_the_more_a_mean_that_is_off_matters():
    """A little more energy is, at the same power, all of it proportion; at half of it, another split between heater and air."""
    shares = []
    for power in (1.0, 0.7, 0.5):
        made = ranged(OPEN_POT, again(OPEN_POT, power_share=power))
        off = [part.high_wh for part in made.parts if part.code == "repeats"][-1]
        shares.append(off / max(end.energy_wh for end in made.ends))
    assert shares[0] == pytest.approx(THREE_RUNS.of_mean, rel=0.02)
    assert shares[0] < shares[1] < shares[2]


def test_what_one_noisy_cook_leaves_open_is_no_surely_not():
    """Of a pot that was hardly held five runs that agree say "no" where one run alone says that it may not."""
    brief = replace(OPEN_POT, hold_s=200.0, hold_wh=12.0, heat_wh=450.0, heat_s=1080.0)

    def least_share(repeats):
        asked = (again(brief, power_share=0.01 * step) for step in range(1, 60))
        made = (heat_range([brief], one, doubts_of(brief, one), repeats).answer for one in asked)
        return sum(answer == "no" for answer in made)

    assert 0 < least_share(repeats_share(1, None)) < least_share(repeats_share(5, 0.005))


def test_how_a_fuller_pot_loses_is_open_only_for_another_amount():
    for times, told in ((1.0, False), (0.5, True), (2.0, True)):
        asked = again(OPEN_POT, food_j_per_k=times * OPEN_POT.food_j_per_k)
        assert ("loss_of_amount" in [part.code for part in ranged(OPEN_POT, asked).parts]) is told


def test_what_is_not_known_says_so():
    assert heat_range([replace(OPEN_POT, heat_wh=0.0)], HALF_POWER, [], THREE_RUNS).answer == "unknown"
    off = Doubt("start", (("start_c", 90.0),))
    assert heat_range([OPEN_POT], HALF_POWER, [off], THREE_RUNS).answer == "unknown"


@pytest.mark.parametrize(("n", "spread"), [(1, None), (2, 0.02), (5, 0.04), (20, 0.05)])
def test_repeats_narrow_with_more_runs(n, spread):
    few, more = repeats_share(n, spread), repeats_share(n + 5, spread)
    assert few.of_next > more.of_next > more.of_one > more.of_mean > 0
