"""Another cook at the ends: it is the measured one again where nothing differs, and takes more for more and from colder."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.estimates.domain.foretelling import foretold, need
from tests.energy.estimates.domain.kitchens import HALF_POWER, IN_FROST, OPEN_POT, PRESSED, again, cooks


@given(cooks())
def test_the_same_cook_again_takes_the_same(cook):
    if cook is None or cook.lossless > 0.97:
        return
    for one in foretold([cook], again(cook)):
        assert one.energy_wh == pytest.approx(cook.heat_wh + cook.hold_wh, rel=2e-3) or cook.bounded


@given(cooks(), st.floats(1, 3), st.floats(0, 15))
def test_more_food_and_a_colder_start_never_take_less(cook, times, colder):
    if cook is None:
        return
    for more in (again(cook, food_j_per_k=cook.food_j_per_k * times), again(cook, start_c=cook.start_c - colder)):
        pairs = zip(foretold([cook], again(cook)), foretold([cook], more), strict=True)
        assert all(two.energy_wh >= one.energy_wh - 1e-9 for one, two in pairs)


def test_the_worked_examples():
    """Both of the rules' own examples: an open pot at half of its power, a pressure cooker in the frost."""
    assert [one.energy_wh for one in foretold([OPEN_POT], HALF_POWER)] == pytest.approx([482.00, 518.80, 518.80], abs=0.005)
    assert [one.energy_wh for one in foretold([PRESSED], IN_FROST)] == pytest.approx([456.87, 476.51, 476.87], abs=0.005)
    assert need([OPEN_POT], HALF_POWER).most_w == pytest.approx(234.0, abs=0.05)
    asked = need([PRESSED], IN_FROST)
    assert (asked.least_w, asked.most_w) == (pytest.approx(23.6, abs=0.05), pytest.approx(322.4, abs=0.05))


def test_what_is_hot_already_needs_no_climb():
    assert [one.heat_wh for one in foretold([OPEN_POT], again(OPEN_POT, start_c=100.0))] == [0, 0, 0]


def test_frozen_food_takes_its_ice():
    thawed, frozen = again(OPEN_POT, start_c=0.0), again(OPEN_POT, start_c=-18.0, frozen_g=2800.0, frozen_water=0.8)
    for one, two in zip(foretold([OPEN_POT], thawed), foretold([OPEN_POT], frozen), strict=True):
        assert two.heat_wh - one.heat_wh > 2800 * 0.8 * 334 / 3600
        assert math.isfinite(two.energy_wh)


def test_holding_is_never_more_than_the_power_gives():
    weak = again(OPEN_POT, power_share=0.1, start_c=100.0)
    assert all(one.hold_wh <= 0.1 * OPEN_POT.power_w * 0.5 + 1e-9 for one in foretold([OPEN_POT], weak))


def test_two_powers_meet_each_cook_and_lie_between():
    weak = replace(OPEN_POT, heat_wh=420.0, heat_s=420 * 3600 / 600)
    both = [OPEN_POT, weak]
    for cook in both:
        same = again(OPEN_POT, power_share=cook.power_w / OPEN_POT.power_w)
        assert foretold(both, same) == foretold([cook], again(cook))
    between = foretold(both, again(OPEN_POT, power_share=0.6))
    for one, strong, slow in zip(between, foretold([OPEN_POT], again(OPEN_POT)), foretold([weak], again(weak)), strict=True):
        assert strong.energy_wh - 1e-9 <= one.energy_wh <= slow.energy_wh + 1e-9


def test_an_end_that_never_gets_there_is_infinite():
    assert foretold([OPEN_POT], again(OPEN_POT, power_share=0.1))[1].energy_wh == math.inf
