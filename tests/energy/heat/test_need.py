"""The heat that a recipe's food and pot must have taken."""

import json
from fractions import Fraction

import pytest

from energy.heat.heating import needed_heat_wh, vessel_heat_wh
from energy.heat.in_the_pot import LeftOut
from energy.heat.need import HeatBalance, HeatNeed, Pot, Surroundings, heat_need
from energy.heat.specific_heat import Composition, mean_specific_heat_kj, rough_specific_heat_kj
from energy.heat.water import boiling_point_c
from kitchen.domain import record
from kitchen.domain.facts import StepFacts
from kitchen.domain.remark import remark
from tests.energy.heat.pots import LENTILS, METHOD, line

POT = Pot("pressure_cooker", 1100, "aluminium", 70)
COLD = Surroundings(food_start_c=12, ambient_c=6, altitude_m=420)
FOOD = (line("1 kg water", 1000), line("300 g lentils", 300, LENTILS))
WET = ("brown", "come_up", "hold")


def need_of(lines=FOOD, steps=METHOD, *, k=Fraction(1), pot=POT, around=COLD, stages=WET):
    return heat_need(lines, steps, k=k, pot=pot, around=around, stages=stages)


def test_food_and_pot_from_their_starts_to_the_boil_under_pressure():
    need = need_of()
    end_c = boiling_point_c(420, 70)
    water = 1.0 * mean_specific_heat_kj(Composition(99.9, ash=0.1), 12, end_c)
    lentils = 0.3 * mean_specific_heat_kj(LENTILS, 12, end_c)
    assert need.end_c == pytest.approx(114.5, abs=0.05)
    assert need.food_wh == pytest.approx((water + lentils) * (end_c - 12) / 3.6)
    assert need.vessel_wh == pytest.approx(1.1 * 0.90 * (end_c - 6) / 3.6)
    assert need.needed_wh == need.food_wh + need.vessel_wh
    assert (need.food_g, need.vessel_g, need.start_c, need.vessel_start_c) == (1300, 1100, 12, 6)
    assert not need.at_least


def test_twice_the_servings_take_twice_the_heat_in_the_same_pot():
    one, two = need_of(), need_of(k=Fraction(2))
    assert two.food_wh == pytest.approx(2 * one.food_wh)
    assert two.vessel_wh == one.vessel_wh


@pytest.mark.parametrize(
    ("pot", "stages"),
    [
        (POT, ("brown", "come_up")),
        (Pot("induction_plate", 1100, "aluminium", 70), WET),
    ],
)
def test_without_pressure_it_boils_as_in_the_open(pot, stages):
    assert need_of(pot=pot, stages=stages).end_c == pytest.approx(boiling_point_c(420))


def test_the_method_may_stop_below_the_boil_but_never_above_it():
    assert need_of(steps=(StepFacts("Warm it.", "come_up", temp_c=70),)).end_c == 70
    assert need_of(steps=(StepFacts("Hot.", "hold", temp_c=200),)).end_c == pytest.approx(114.5, abs=0.05)
    assert need_of(steps=(StepFacts("Brown.", "brown", temp_c=60),)).end_c == pytest.approx(114.5, abs=0.05)


def test_without_the_foods_temperature_it_starts_like_the_air():
    need = need_of(around=Surroundings(None, 6, 420))
    assert (need.start_c, need.vessel_start_c) == (6, 6)
    assert (need.assumed, need.guessed) == ((), False)


def test_empty_fields_have_their_defaults_and_are_told():
    alone = need_of(around=Surroundings(12, None, 420))
    assert (alone.start_c, alone.vessel_start_c, alone.assumed, alone.guessed) == (12, 18, ("air",), False)
    bare = need_of(around=Surroundings(), pot=Pot("pressure_cooker", 1100, "aluminium"))
    assert (bare.start_c, bare.vessel_start_c, bare.guessed) == (12, 18, True)
    assert bare.assumed == ("food_start", "air", "gauge_pressure", "height")
    assert bare.end_c == pytest.approx(boiling_point_c(0, 70))


def test_a_cook_without_marked_stages_boils_by_its_method_or_its_lid():
    assert need_of(stages=(), steps=METHOD, pot=Pot("induction_plate", 1100, "aluminium")).needed_wh > 0
    assert need_of(stages=(), steps=(), pot=Pot("rice_cooker", 1100, "aluminium")).needed_wh > 0
    assert need_of(stages=("sear",)).needed_wh > 0


@pytest.mark.parametrize(
    ("more", "code"),
    [
        ({"around": Surroundings(100, 20, 2000), "stages": ("come_up",)}, "starts_hot"),
        ({"stages": ("preheat", "brown")}, "no_stage_boils"),
        ({"stages": (), "steps": (), "pot": Pot("induction_plate", 900, "steel")}, "no_stage_boils"),
        ({"pot": Pot("oven", 900, "glass")}, "dry_heat"),
        ({"pot": Pot("griddle", 900, "aluminium")}, "dry_heat"),
        ({"pot": Pot("air_fryer")}, "dry_heat"),
        ({"lines": ()}, "nothing_weighed"),
        ({"lines": (line("some lentils"),)}, "nothing_weighed"),
    ],
)
def test_no_heat_where_it_cannot_be_said_and_why(more, code):
    need = need_of(**more)
    assert need.why_not.code == code
    assert need.needed_wh == 0
    assert HeatBalance(need, 100).efficiency is None


def test_what_is_left_out_makes_it_at_least():
    need = need_of((*FOOD, line("some squash")))
    assert need.at_least
    assert need.food_wh == need_of().food_wh
    assert not need_of((*FOOD, line("salt, to taste", to_taste=True))).at_least


@pytest.mark.parametrize("pot", [Pot("kettle"), Pot("kettle", 500), Pot("kettle", None, "steel"), Pot("kettle", 500, "wood")])
def test_a_pot_that_is_not_known_is_left_out_and_said(pot):
    need = need_of(pot=pot)
    assert need.vessel_wh == need.vessel_g == 0
    assert [left.name for left in need.left_out if left.unsure] == [remark("the_pot")]


def test_what_is_frozen_counts_from_zero_and_is_said():
    need = need_of(around=Surroundings(-10, -10, 0))
    assert need.start_c == 0
    assert need.vessel_start_c == -10
    assert need.left_out[-1].why == remark("melting_uncounted")
    assert need.at_least


def test_a_composition_with_gaps_is_rough_from_its_water():
    need = need_of((line("1 kg soup", 1000, Composition(80)),), stages=("come_up",))
    assert need.rough == ("soup",)
    assert need.food_wh == pytest.approx(rough_specific_heat_kj(80) * (need.end_c - 12) / 3.6)
    assert need_of().rough == ()


def test_no_food_takes_less_than_nothing():
    assert needed_heat_wh([], 100) == 0
    assert vessel_heat_wh(0, "copper", 20, 100) == 0


def test_a_balance_travels_as_json_and_comes_back():
    need = need_of((*FOOD, line("some squash")))
    balance = HeatBalance(need, 200.0, "come_up", at_most=True, only_heats=True)
    assert record.read(HeatBalance, json.loads(json.dumps(record.write(balance)))) == balance


def test_a_share_is_exact_only_when_nothing_is_open():
    whole = HeatNeed(food_wh=80)
    assert HeatBalance(whole, 100, "come_up", only_heats=True).exact
    assert HeatBalance(whole, 100, "come_up", only_heats=True).efficiency == pytest.approx(0.8)
    assert not HeatBalance(whole, 100, "come_up", only_heats=False).exact
    assert not HeatBalance(whole, 100, "come_up", only_heats=True, at_most=True).exact
    open_need = HeatNeed(food_wh=80, left_out=(LeftOut("squash", "?", unsure=True),))
    assert not HeatBalance(open_need, 100, "come_up", only_heats=True).exact
    assert HeatBalance(whole, 0, "come_up").efficiency is None
