"""Repeats: an interval that more runs narrow, never below what the meter leaves."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.domain.repeats import average, t_95

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
