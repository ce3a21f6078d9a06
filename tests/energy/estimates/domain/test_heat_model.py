"""From measured runs to one heat balance, or the reason why there is none."""

from dataclasses import replace

import pytest

from energy.estimates.domain.heat_model import CookedOnce, heat_model
from energy.facts import StageEnergy
from energy.heat.need import HeatBalance, HeatedFood, HeatNeed
from kitchen.domain.remark import remark

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


def test_the_heat_of_food_and_pot_is_kept():
    model = heat_model([cooked()], [stage("come_up", 190), stage("hold", 30)])
    assert (model.until, model.heating_w) == (1, 0)
    assert model.food_j_per_k == pytest.approx(1500 * 4.19)
    assert model.vessel_j_per_k == pytest.approx(10 * 3600 / 80)
    assert model.boils


def test_less_than_food_and_pot_take_is_not_believed_and_much_more_is():
    model = heat_model([cooked()], [stage("come_up", 60)])
    assert (model.why_not.code, model.why_not.values["measured_wh"]) == ("less_than_needed", 60)
    assert heat_model([cooked()], [stage("come_up", 900)]).usable


@pytest.mark.parametrize("kinds", [["hold", "come_up"], ["hold"], ["brown", "hold", "rest"], []])
def test_without_a_marked_come_up_the_heaters_watts_are_asked(kinds):
    model = heat_model([cooked()], [stage(kind, 90) for kind in kinds], heating_w=900)
    assert (model.until, model.heating_w) == (0, 900)
    assert heat_model([cooked()], [stage(kind, 90) for kind in kinds]).why_not == remark("heater_unknown")


def test_what_was_assumed_is_kept():
    assert heat_model([cooked(replace(NEED, assumed=("air",)))], [stage("come_up", 190)]).assumed == ("air",)


def test_what_does_not_grow_with_the_servings_is_the_mean_of_the_runs_too():
    """The newest run boiled twice the water that does not grow; it alone would be more than the mean of all the food."""
    little, much = (
        replace(
            NEED,
            food_wh=grams * 4.19 * 80 / 3600,
            vessel_wh=vessel_wh,
            foods=(HeatedFood("water", grams, 4.19, grams, fixed=True),),
        )
        for grams, vessel_wh in ((1000, 8), (2000, 12))
    )
    model = heat_model([cooked(little), cooked(much)], [stage("come_up", 190)])
    assert model.fixed_j_per_k == pytest.approx(model.food_j_per_k) == pytest.approx(1500 * 4.19)
    assert model.vessel_j_per_k == pytest.approx(10 * 3600 / 80)
    assert model.water_g == 1500
    unlisted = heat_model([cooked(little), cooked(replace(little, foods=(), vessel_g=0, vessel_wh=0))], [stage("come_up", 190)])
    assert (unlisted.fixed_j_per_k, unlisted.water_g) == (pytest.approx(1000 * 4.19), 1000)
    assert unlisted.vessel_j_per_k == pytest.approx(8 * 3600 / 80)


def test_browning_and_preheating_count_as_heating():
    assert heat_model([cooked()], [stage("preheat", 20), stage("brown", 70), stage("come_up", 100)]).until == 3


def test_dry_heat_says_its_own_reason():
    assert heat_model([cooked(HeatNeed(why_not="Dry heat."))], [stage("bake", 300)]).why_not == "Dry heat."
    assert heat_model([], [stage("bake", 300)]).why_not == remark("never_boils")


def test_the_methods_own_temperature_does_not_boil():
    assert not heat_model([cooked(replace(NEED, end_c=85))], [stage("come_up", 190)]).boils
