"""Other servings: heating stages in proportion, the rest unchanged, never as sure as a measurement."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.estimates.domain.proportion import in_proportion
from kitchen.domain.remark import remark
from tests.energy.estimates.domain.cooks import facts


def test_at_the_measured_servings_nothing_changes():
    same = in_proportion(facts(), 6)
    assert (same.standing, same.energy_wh, same.uncertainty_wh) == ("measured", 236, 7)
    assert (same.low_wh, same.high_wh, same.ladder) == (222, 250, facts().ladder)


def test_heating_stages_scale_and_the_others_stay():
    double = in_proportion(facts(), 12)
    assert double.standing == "estimated"
    assert [s.energy_wh for s in double.stages] == [196, 248, 14, 0]
    assert double.energy_wh == 236 + 98 + 124


def test_minutes_follow_at_the_measured_mean_power():
    double = in_proportion(facts(), 12)
    assert [s.span_s / 60 for s in double.stages] == [18, 22, 8, 10]
    assert [s.mean_w for s in double.stages] == [s.mean_w for s in facts().stages]
    assert (double.cooking_s / 60, double.attended_s / 60, double.total_s / 60) == (28 + 20, 9 + 9, 38 + 20)


def test_the_range_holds_a_fifth_of_the_change():
    double = in_proportion(facts(), 12)
    assert double.uncertainty_wh == pytest.approx(((14 * 458 / 236) ** 2 + (0.2 * 222) ** 2) ** 0.5)
    assert (double.low_wh, double.high_wh) == pytest.approx((458 - double.uncertainty_wh, 458 + double.uncertainty_wh))
    assert double.high_wh - double.energy_wh >= double.uncertainty_wh


def test_the_ladder_climbs_to_the_estimate():
    double = in_proportion(facts(), 12)
    assert double.ladder[-1] == pytest.approx((double.total_s, double.energy_wh))


@pytest.mark.parametrize(("servings", "far"), [(15, False), (16, True), (3, False), (2, True), (500, True)])
def test_far_from_what_was_measured_is_said(servings, far):
    estimate = in_proportion(facts(), servings)
    assert estimate.far == (remark("far_from_measured", servings=6) if far else "")


def test_far_away_the_range_is_twice_as_wide_of_the_change():
    far = in_proportion(facts(uncertainty_wh=0.0, next_low_wh=236.0, next_high_wh=236.0), 18)
    assert far.uncertainty_wh == pytest.approx(0.4 * 444)


def test_far_away_the_stages_are_as_unsure_as_the_whole():
    far = in_proportion(facts(uncertainty_wh=0.0), 18)
    brown = far.stages[0]
    assert brown.uncertainty_wh >= 0.4 * 2 * facts().stages[0].energy_wh


def test_a_cook_marked_as_one_long_hold_still_takes_more_for_more():
    held = facts(stages=(replace(facts().stages[2], energy_wh=236.0, span_s=2280.0, mean_w=372.0),), cooking_s=2280.0)
    double = in_proportion(held, 12)
    assert (double.energy_wh, double.total_s, double.cooking_s) == (472, 2 * 2280, 2 * 2280)
    assert double.uncertainty_wh > held.uncertainty_wh


def test_keeping_warm_for_longer_is_no_cooking():
    warm = facts(stages=(replace(facts().stages[2], kind="keep_warm", energy_wh=236.0, mean_w=372.0),))
    assert in_proportion(warm, 12).cooking_s == warm.cooking_s


def test_without_stages_everything_scales():
    bare = in_proportion(facts(stages=()), 12)
    assert (bare.energy_wh, bare.total_s, bare.cooking_s) == (472, 2 * 38 * 60, 2 * 28 * 60)
    assert bare.ladder[-1] == (2 * 2280, 472)


@pytest.mark.parametrize("servings", [0, -1])
def test_no_servings_are_refused(servings):
    with pytest.raises(ValueError, match="one serving"):
        in_proportion(facts(), servings)


@given(st.integers(1, 500))
def test_an_estimate_never_looks_as_sure_as_a_measurement(servings):
    estimate = in_proportion(facts(), servings)
    assert 0 <= estimate.low_wh <= estimate.energy_wh <= estimate.high_wh
    if servings != 6:
        assert estimate.uncertainty_wh > 7
        assert estimate.uncertainty_wh / estimate.energy_wh > 7 / 236


@given(st.integers(1, 499))
def test_more_servings_never_take_less(servings):
    assert in_proportion(facts(), servings + 1).energy_wh >= in_proportion(facts(), servings).energy_wh
