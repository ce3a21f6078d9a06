"""From measured runs to one calibrated balance, or the reason why there is none."""

import pytest

from energy.domain.facts import StageEnergy
from energy.domain.heat_model import CookedOnce, heat_model
from energy.domain.heat_need import HeatBalance, HeatedFood, HeatNeed

WATER = HeatedFood("water", 1500, 4.19, 1500)
NEED = HeatNeed(
    food_wh=1500 * 4.19 * 80 / 3600,
    vessel_wh=10,
    food_g=1500,
    vessel_g=900,
    start_c=20,
    vessel_start_c=20,
    end_c=100,
    foods=(WATER,),
)


def stage(kind, energy_wh, span_s=600):
    return StageEnergy(kind, "", energy_wh, span_s, energy_wh * 3600 / span_s, None, 1.0, False)


def cooked(need=NEED, **more):
    given = {"altitude_m": 0, "pressure_kpa": 0, "ambient_c": 20, "start_noted": True, **more}
    return CookedOnce(HeatBalance(need, measured_wh=190), **given)


def test_phi_is_what_was_measured_over_what_food_and_pot_took():
    model = heat_model([cooked()], [stage("come_up", 190), stage("hold", 30)])
    assert model.until == 1
    assert model.phi == pytest.approx(190 / NEED.needed_wh)
    assert model.food_j_per_k == pytest.approx(1500 * 4.19)
    assert model.vessel_j_per_k == pytest.approx(10 * 3600 / 80)
    assert model.boils


@pytest.mark.parametrize(("measured_wh", "words"), [(60, "less than that cannot be"), (600, "went elsewhere")])
def test_a_share_that_cannot_be_believed_offers_only_plain_proportion(measured_wh, words):
    model = heat_model([cooked()], [stage("come_up", measured_wh)])
    assert not model.usable
    assert words in model.why_not


def test_what_was_held_on_the_way_is_no_plain_heating():
    assert "held, baked or reduced" in heat_model([cooked()], [stage("hold", 50), stage("come_up", 190)]).why_not


def test_browning_and_preheating_count_as_heating():
    assert heat_model([cooked()], [stage("preheat", 20), stage("brown", 70), stage("come_up", 100)]).until == 3


def test_dry_heat_says_its_own_reason():
    assert heat_model([cooked(HeatNeed(why_not="Dry heat."))], [stage("bake", 300)]).why_not == "Dry heat."
    assert "no heat to compare" in heat_model([], [stage("bake", 300)]).why_not


def test_the_methods_own_temperature_does_not_boil():
    from dataclasses import replace

    assert not heat_model([cooked(replace(NEED, end_c=85))], [stage("come_up", 190)]).boils
