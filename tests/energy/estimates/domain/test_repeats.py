"""Repeats: an interval that more runs narrow, never below what the meter leaves."""

import math
import random
from statistics import median

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.estimates.domain.repeats import FIRST_SPREAD, average, t_95, usual_spread

runs = st.lists(st.floats(50, 500), min_size=2, max_size=40)


@given(runs, st.floats(0, 50))
def test_the_next_run_is_less_sure_than_the_mean(values, meter_u):
    repeats = average(values, meter_u)
    assert repeats.half_next >= repeats.half_interval >= meter_u
    assert 0 <= repeats.next_low <= repeats.mean <= repeats.next_high


@given(runs, st.randoms(use_true_random=False))
def test_the_order_of_runs_does_not_matter(values, rng):
    shuffled = values[:]
    rng.shuffle(shuffled)
    assert average(shuffled, 1).mean == pytest.approx(average(values, 1).mean)
    assert average(shuffled, 1).half_interval == pytest.approx(average(values, 1).half_interval)


def test_t_narrows_with_more_runs():
    values = [t_95(degrees) for degrees in range(1, 150)]
    assert values == sorted(values, reverse=True)


def test_words():
    assert average([206], 5).words == "one run"
    assert average([206, 207], 5).words == "2 runs"


def test_nothing_to_average_is_refused():
    with pytest.raises(ValueError, match="at least one run"):
        average([], 1)
    with pytest.raises(ValueError, match="two runs"):
        t_95(0)


@pytest.mark.parametrize("n", range(1, 7))
def test_the_stated_interval_holds_the_mean_and_the_next_cook(n):
    """Spreads drawn lognormally around 5 % times or over 1.8, and a fixed 8 %; the meter's class is the same in all runs."""
    draws = random.Random(n)

    def held(spread_of, rounds=1500):
        mean = next_one = 0
        for _ in range(rounds):
            spread, wrong = spread_of(), 1 + draws.uniform(-0.02, 0.02)
            repeats = average([draws.gauss(200, 200 * spread) * wrong for _ in range(n)], 2 * 0.02 * 200 / 3**0.5)
            mean += abs(repeats.mean - 200) <= repeats.half_interval
            next_one += repeats.next_low <= draws.gauss(200, 200 * spread) <= repeats.next_high
        return mean / rounds, next_one / rounds

    assert all(0.93 <= share <= 0.97 for share in held(lambda: 0.05 * draws.lognormvariate(0, math.log(1.8))))
    assert all(share >= 0.88 for share in held(lambda: 0.08))


def test_measuring_once_more_narrows_the_usual_interval():
    draws = random.Random(2)
    cooks = [[draws.gauss(200, 200 * 0.05 * draws.lognormvariate(0, math.log(1.8))) for _ in range(6)] for _ in range(500)]
    usual = [median(average(row[:n], 4).half_interval for row in cooks) for n in range(1, 7)]
    assert usual == sorted(usual, reverse=True)


def test_a_recipe_of_one_cook_says_nothing_about_what_is_usual():
    assert usual_spread([[200.0], [], [150.0]]) == FIRST_SPREAD
    assert usual_spread([[200, 200], [150, 150], [90, 95]]) == FIRST_SPREAD
    wild = usual_spread([[200, 201], [150, 250], [90, 91], [300, 600]])
    assert wild.degrees < 6
    assert math.isfinite(average([100], 2, usual=wild).half_interval)
