"""Another cook by the calibrated heat balance: more food, colder, higher, in batches."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from energy.domain.circumstances import Circumstances
from energy.domain.estimating import estimate
from energy.domain.facts import SizeFacts
from energy.domain.heat_facts import HeatModel
from tests.energy.domain.cooks import facts


def balanced(**changes):
    """An invented cook whose 222 Wh up to the boil are 1.2 times the heat of 2 kg of food in a pot of 1.5 kg."""
    model = HeatModel(
        until=2,
        food_j_per_k=2000 * 3.9,
        vessel_j_per_k=1500 * 0.5,
        food_start_c=20,
        vessel_start_c=20,
        ambient_c=20,
        end_c=99.97,
        water_g=1500,
        start_noted=True,
    )
    model = replace(model, phi=222 / model.needed_wh, **changes)
    return facts(heat=model)


def test_as_measured_nothing_changes():
    same, balance = estimate(balanced(), 6)
    assert (same.standing, same.energy_wh, same.uncertainty_wh, balance) == ("measured", 236, 7, None)


def test_twice_the_food_takes_the_pot_once():
    cook = balanced()
    double, balance = estimate(cook, 12)
    model = cook.heat
    assert double.energy_wh == pytest.approx(14 + model.phi * (2 * model.food_wh + model.vessel_wh))
    assert double.how == "balance"
    assert [stage.energy_wh for stage in double.stages[2:]] == [14, 0]
    assert balance.k == 2


def test_minutes_follow_at_the_measured_mean_power():
    double, _ = estimate(balanced(), 12)
    before = facts().stages
    assert [stage.mean_w for stage in double.stages[:2]] == pytest.approx([stage.mean_w for stage in before[:2]])
    assert [stage.span_s for stage in double.stages[2:]] == [stage.span_s for stage in before[2:]]


def test_a_later_batch_finds_the_pot_hot():
    cook = balanced()
    two, _ = estimate(cook, 12, batches=2)
    model = cook.heat
    assert two.energy_wh == pytest.approx(28 + model.phi * (2 * model.food_wh + model.vessel_wh))
    assert two.uncertainty_wh > 0
    assert two.ladder[-1][1] == pytest.approx(two.energy_wh)


def test_cold_food_takes_more_and_melting_ice_much_more():
    cook = balanced()
    cold = estimate(cook, 6, other=Circumstances(food_start_c=5))[0].energy_wh
    icy = estimate(cook, 6, other=Circumstances(food_start_c=-0.01))[0].energy_wh
    frost = estimate(cook, 6, other=Circumstances(food_start_c=0))[0].energy_wh
    assert 236 < cold < frost < icy
    melting_wh = 1.5 * 333.6 / 3.6
    assert 0.9 * melting_wh < icy - frost < cook.heat.phi * melting_wh


def test_under_pressure_the_minutes_grow_with_the_altitude_and_not_with_the_food():
    pressed = balanced(pressure_kpa=70, end_c=115.4)
    high, balance = estimate(pressed, 12, other=Circumstances(altitude_m=1524))
    assert balance.minutes_factor == pytest.approx(1.15, abs=0.001)
    assert high.stages[2].span_s == pytest.approx(480 * balance.minutes_factor)


def test_where_no_balance_is_known_it_is_plain_proportion_and_says_why():
    plain, balance = estimate(facts(heat=HeatModel(why_not="Dry heat.")), 12)
    assert (balance, plain.how, plain.why, plain.energy_wh) == (None, "proportion", "Dry heat.", 458)


def test_two_measured_sizes_give_the_line_between_them():
    sized = replace(balanced(), sizes=(SizeFacts(3, 150, 6, 1), SizeFacts(6, 236, 7, 3)))
    nine, balance = estimate(sized, 9)
    assert (nine.how, nine.energy_wh) == ("sizes", pytest.approx(322))
    assert nine.stages[0].energy_wh > 0
    assert sum(stage.energy_wh for stage in nine.stages) == pytest.approx(322)
    assert balance is not None


def test_an_estimate_never_looks_as_sure_as_a_measurement():
    for servings in (1, 5, 7, 12, 40):
        made, _ = estimate(balanced(), servings)
        assert made.uncertainty_wh / made.energy_wh >= 7 / 236 * 0.999 or made.uncertainty_wh >= 7


def test_food_that_is_not_in_the_balance_widens_the_range():
    assert estimate(balanced(left_out=("noodles",)), 12)[0].uncertainty_wh > estimate(balanced(), 12)[0].uncertainty_wh


@given(st.integers(1, 60), st.integers(1, 60))
def test_more_food_never_takes_less(one, other):
    assume(one < other)
    assert estimate(balanced(), one)[0].energy_wh <= estimate(balanced(), other)[0].energy_wh + 1e-9


@given(st.floats(-20, 60), st.floats(-20, 60))
def test_warmer_food_never_takes_more(one, other):
    assume(one < other)
    cold, warm = (estimate(balanced(), 6, other=Circumstances(food_start_c=start))[0].energy_wh for start in (one, other))
    assert cold >= warm - 1e-9


@given(st.integers(2, 60), st.integers(2, 6))
def test_batches_never_cost_less_than_the_heat_of_their_food(servings, batches):
    cook = balanced()
    made, _ = estimate(cook, servings, batches=batches)
    assert made.energy_wh >= cook.heat.phi * servings / 6 * cook.heat.food_wh


@given(st.integers(1, 60), st.integers(1, 5), st.floats(-20, 40), st.floats(0, 5000))
def test_every_figure_is_a_number(servings, batches, cold, height):
    made, balance = estimate(balanced(), servings, batches=batches, other=Circumstances(cold, cold, height))
    assert all(
        math.isfinite(x) and x >= 0 for x in (made.energy_wh, made.uncertainty_wh, made.low_wh, made.high_wh, made.total_s)
    )
    assert made.low_wh <= made.energy_wh <= made.high_wh
    assert all(share.half_wh >= 0 for share in balance.shares)
