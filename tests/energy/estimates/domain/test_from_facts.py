"""From an edition's facts to what the three ends ask: stages split, temperatures blended, doubts by how they were noted."""

from dataclasses import replace

import pytest

from energy.estimates.domain.circumstances import Circumstances, conditions
from energy.estimates.domain.doubts import NOTED_C
from energy.estimates.domain.from_facts import (
    INVERTER_PCT,
    START_FROM_AIR_C,
    mean_cook,
    other_cook,
    repeats_of,
    split_of,
    unsure,
)
from energy.estimates.domain.heat_range import repeats_share
from energy.heat.empty_fields import AIR, TAP
from tests.energy.estimates.domain.cooks import facts, stage
from tests.energy.estimates.domain.test_estimating import balanced


def test_stages_up_to_the_boil_heat_and_later_ones_hold():
    cook = balanced()
    made = mean_cook(cook, cook.heat)
    assert (made.heat_wh, made.hold_wh, made.heat_s, made.hold_s) == (222, 14, 1200, 480)
    assert (made.reaches_low, made.reaches_high, made.held, made.sealed, made.heating_w) == (0.80, 0.97, True, False, None)


@pytest.mark.parametrize("kinds", [("hold",), ("brown", "hold", "rest"), ("sear", "keep_warm")])
def test_without_a_come_up_what_heats_or_holds_is_one(kinds):
    held = balanced(until=0, heating_w=800.0)
    cook = replace(held, stages=tuple(stage(kind, 60, 10) for kind in kinds))
    made, split = mean_cook(cook, cook.heat), split_of(cook, cook.heat)
    assert (made.heat_wh, made.hold_wh, made.heating_w) == (60 * len(split.heating), 0, 800)
    assert [kinds[number] for number in split.heating] == [kind for kind in kinds if kind not in ("rest", "keep_warm")]


def test_without_stages_all_of_it_is_one():
    cook = replace(balanced(until=0, heating_w=800.0), stages=())
    made = mean_cook(cook, cook.heat)
    assert (made.heat_wh, made.heat_s, made.hold_s) == (cook.energy_wh, cook.total_s, 0)


def test_food_and_vessel_start_as_one_and_a_hot_vessel_takes_nothing():
    model = replace(balanced().heat, food_start_c=5.0, vessel_start_c=20.0)
    now = conditions(model, Circumstances())
    asked = other_cook(model, 2.0, now)
    whole = 2 * model.food_j_per_k + model.vessel_j_per_k
    assert asked.start_c == pytest.approx((2 * model.food_j_per_k * 5 + model.vessel_j_per_k * 20) / whole)
    hot = other_cook(model, 2.0, now, hot_vessel=True)
    assert hot.way.lossless_j == pytest.approx(2 * model.food_j_per_k * (now.end_c - 5))


def test_doubts_follow_how_it_was_noted():
    cook = balanced()
    noted = unsure(cook, cook.heat, Circumstances())
    assert (noted.start_c, noted.start_there_c, noted.air_there_c) == (NOTED_C, None, None)
    said = unsure(cook, cook.heat, Circumstances(food_start_c=4, ambient_c=-5, altitude_m=2000))
    assert (said.start_there_c, said.air_there_c, said.height_there) == (NOTED_C, NOTED_C, True)
    from_air = replace(cook.heat, start_noted=False)
    assert unsure(cook, from_air, Circumstances()).start_c == START_FROM_AIR_C
    empty = replace(from_air, assumed=("food_start", "air", "height"))
    assumed = unsure(cook, empty, Circumstances())
    assert (assumed.start_c, assumed.air_c, assumed.height_c < 0) == (TAP.u, AIR.u, True)


def test_facts_from_before_it_was_kept_are_not_read_as_if_all_was_noted():
    cook = balanced(pressure_kpa=70, end_c=115.4)
    noted, unkept = (unsure(cook, replace(cook.heat, phi=phi), Circumstances()) for phi in (0.0, 1.2))
    assert (unkept.start_c, unkept.air_c, unkept.height_c < 0) == (NOTED_C, AIR.u, True)
    assert unkept.gauge_c > 2 * noted.gauge_c


def test_a_meter_on_the_battery_leaves_the_inverter_open():
    cook = facts(heat=balanced().heat, meter=replace(facts().meter, place="battery"))
    assert unsure(cook, cook.heat, Circumstances()).class_pct == pytest.approx((2**2 + INVERTER_PCT**2) ** 0.5)


def test_repeats_come_from_the_runs_that_count():
    assert repeats_of(facts()) == repeats_share(1, None)
