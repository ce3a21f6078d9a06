"""A cooker turned down: the losses out of the measured climb, and the climb at another power."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from energy.domain.circumstances import Circumstances
from energy.domain.heat import CannotGetThere, heat_up_s
from energy.domain.heat_facts import HeatModel
from energy.domain.weaker import NoLossFits, climb_at, holding_at_w, loss_w_per_k, measured_loss
from tests.energy.domain.cooks import facts

POT = HeatModel(phi=1.1, food_j_per_k=7800, vessel_j_per_k=750, food_start_c=15, vessel_start_c=15, ambient_c=15, end_c=99.97)


@given(st.floats(0, 4), st.floats(450, 2000))
def test_the_loss_that_made_a_climb_is_found_again(loss, power_w):
    span_s = heat_up_s(99.97, heat_j_per_k=8550, power_w=power_w, start_c=15, ambient_c=15, loss_w_per_k=loss)
    assert loss_w_per_k(POT, power_w=power_w, span_s=span_s) == pytest.approx(loss, abs=1e-6)


def test_faster_than_without_any_loss_has_no_answer():
    with pytest.raises(NoLossFits, match="faster than 500"):
        loss_w_per_k(POT, power_w=500, span_s=600)


def test_a_plate_that_cannot_boil_that_pot_says_where_it_stops():
    with pytest.raises(CannotGetThere, match="stops at"):
        climb_at(POT, 150, loss=2)


@given(st.floats(250, 1500), st.floats(1.01, 3))
def test_less_power_takes_longer_and_more_energy(power_w, more):
    slow, fast = climb_at(POT, power_w, loss=2), climb_at(POT, power_w * more, loss=2)
    assert slow.span_s > fast.span_s
    assert slow.energy_wh >= fast.energy_wh - 1e-9


def test_colder_air_can_stop_it():
    assert climb_at(POT, 200, loss=2).span_s > 0
    with pytest.raises(CannotGetThere):
        climb_at(POT, 200, loss=2, other=Circumstances(ambient_c=-5))


def test_holding_is_the_loss_at_the_top():
    assert holding_at_w(2, 100, 15) == pytest.approx(170)


def test_a_cook_without_a_balance_has_no_loss():
    with pytest.raises(NoLossFits, match="Dry"):
        measured_loss(facts(heat=HeatModel(why_not="Dry heat.")))
