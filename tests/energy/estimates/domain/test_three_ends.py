"""Three ends: each explains the climb that was measured, none takes more than holding allows, and the truth lies among them."""

import math
from dataclasses import replace

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from energy.estimates.domain.three_ends import MOST_STEAM_KG_PER_S, MeanCook, three_ends
from energy.heat.climbing import LATENT_J_PER_KG, climb_s
from tests.energy.estimates.domain.kitchens import OPEN_POT, PRESSED, cooked, cooks


@given(cooks())
def test_each_end_explains_the_climb_unless_it_was_too_slow_or_too_fast(cook):
    if cook is None:
        return
    for end in three_ends(cook):
        taken_s = climb_s(cook.way, end.reaches * cook.power_w, end.loss_w_per_k, end.steam_kg_per_s)
        if end.loss_w_per_k > 1e-9 or end.steam_kg_per_s > 1e-9:
            assert taken_s == pytest.approx(cook.heat_s, rel=1e-3) or end.loss_w_per_k == pytest.approx(
                cook.most_loss(end.reaches)
            )
        else:
            assert taken_s >= cook.heat_s * 0.995


@given(cooks())
def test_no_end_loses_more_than_holding_allows_or_steams_more_than_can_be(cook):
    if cook is None:
        return
    for end in three_ends(cook):
        assert 0 <= end.loss_w_per_k <= cook.most_loss(end.reaches) + 1e-6
        assert 0 <= end.steam_kg_per_s <= MOST_STEAM_KG_PER_S
        if not cook.sealed and end.steam_kg_per_s > 0:
            steamed = end.steam_kg_per_s * LATENT_J_PER_KG / (cook.end_c - cook.ambient_c)
            assert end.loss_w_per_k + steamed <= cook.most_loss(end.reaches) + 1e-6
        assert 0 < end.reaches < 1
        assert all(math.isfinite(figure) for figure in (end.loss_w_per_k, end.steam_kg_per_s, end.hold_wh))


def test_nothing_is_known_of_a_cook_that_does_not_warm_or_draws_nothing():
    for bad in ({"end_c": 15.0}, {"end_c": 20.0}, {"heat_wh": 0.0}, {"heat_s": 0.0}, {"heat_wh": math.nan}, {"hold_s": math.inf}):
        assert three_ends(replace(OPEN_POT, **bad)) == ()


def test_holding_of_less_than_five_minutes_bounds_nothing():
    brief = replace(PRESSED, hold_s=299.0)
    assert three_ends(brief)[1].loss_w_per_k > three_ends(PRESSED)[1].loss_w_per_k
    assert three_ends(brief) == three_ends(replace(PRESSED, hold_s=299.0, sealed=False))


def test_a_cook_faster_than_any_heater_has_no_loss():
    quick = three_ends(replace(OPEN_POT, heat_wh=250.0))
    assert [(end.loss_w_per_k, end.steam_kg_per_s) for end in quick] == [(0, 0)] * 3


@given(st.floats(0.76, 0.9), st.floats(0.3, 2.5), st.floats(1.05, 4))
def test_without_marks_the_truth_lies_between_all_holding_and_all_heating(reaches, loss, longer):
    cook = cooked(replace(OPEN_POT, hold_s=1200.0 * longer), 1200.0, reaches, loss, 0.0)
    one = replace(
        cook, heat_wh=cook.heat_wh + cook.hold_wh, heat_s=cook.heat_s + cook.hold_s, hold_wh=0.0, hold_s=0.0, heating_w=1200.0
    )
    short, long, _ = three_ends(one)
    assert short.heat_wh <= cook.heat_wh + 1e-6
    assert long.heat_wh >= short.heat_wh
    assert (short.heat_wh + short.hold_wh, long.heat_wh + long.hold_wh) == (
        pytest.approx(one.heat_wh),
        pytest.approx(one.heat_wh),
    )
    assert long.loss_w_per_k >= 0


def test_without_marks_more_than_the_watts_give_is_not_known():
    assert three_ends(replace(OPEN_POT, heating_w=372 * 4 - 1)) == ()


@given(*[st.floats(allow_nan=True, allow_infinity=True)] * 6, st.booleans(), st.booleans())
@example(1.0, 0.0, 0.0, 1.2151498771891704e154, 1.0, 0.0, False, False)
def test_nonsense_gives_no_nonsense(food, start_c, ambient_c, heat_wh, heat_s, hold_wh, held, sealed):
    cook = MeanCook(food, 900, start_c, ambient_c, 100, 100, heat_wh, heat_s, hold_wh, 1800, 0.74, 0.92, held, sealed)
    for end in three_ends(cook):
        assert all(math.isfinite(figure) for figure in (end.reaches, end.loss_w_per_k, end.steam_kg_per_s))
