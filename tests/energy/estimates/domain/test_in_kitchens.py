"""Estimates in simulated kitchens, a seeded excerpt of ``tests.measure.estimates``: the truth lies in the range."""

import math

import numpy as np
import pytest
from scipy.integrate import solve_ivp

from tests.measure.estimates import kitchens
from tests.measure.estimates.foretold import cases
from tests.measure.estimates.rows import ROWS, scored

EXCERPT = {row.name: row for row in ROWS if row.name in ("food 1.5-3", "frost", "fields empty", "no marks", "power 50 %")}


@pytest.mark.parametrize("name", EXCERPT)
def test_the_truth_lies_in_the_range(name):
    """87 of 100 at least, where 2,000 cases reach 93 to 97; so few cases scatter by 2.5 of 100, and their scores by more."""
    made = scored(EXCERPT[name], cases(EXCERPT[name], 60, seed=7))
    assert made.covered >= 0.87
    assert made.ratio <= 3
    assert made.false_no <= 0.02
    assert made.failed_yes <= 0.03
    assert abs(made.bias) < 0.08


def test_the_simulated_climb_is_scipys():
    """The two bodies of the simulation by scipy's solver; a solver of its own only to take many cases at once."""
    rng = np.random.default_rng(3)
    pots = kitchens.draw_pots(rng, 6)
    ones = np.ones(6)
    day = kitchens.Day(ones, 12 * ones, 18 * ones, 200 * ones, ones, ones < 0)
    end_c, steams_c = kitchens.boils_c(day.height_m, pots.gauge_kpa), kitchens.boils_c(day.height_m, 0 * ones)
    ours = kitchens.climbed_s(pots, day, pots.power_w, end_c, steams_c)
    for one in range(6):
        mine = pots.of(np.array([one]))
        food = mine.food_g * mine.food_heat
        fixed = [
            (mine.power_w - mine.own_w) * mine.share, food, mine.vessel, mine.contact, mine.loss, mine.steam, 18 * np.ones(1),
            end_c[one : one + 1], steams_c[one : one + 1], np.zeros(1),
        ]  # fmt: skip

        def rate(_, state, fixed=fixed):
            return np.concatenate(kitchens.rates(fixed, state[:1], state[1:]))

        def there(_, state, goal=(food * end_c[one])[0]):
            return state[0] - goal

        there.terminal = True
        solved = solve_ivp(rate, (0, 36_000), [(food * 12)[0], 18.0], events=there, max_step=20, rtol=1e-7)
        took_s = solved.t_events[0][0] if len(solved.t_events[0]) else math.inf
        assert ours[one] == pytest.approx(took_s, rel=2e-3)
