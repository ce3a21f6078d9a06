"""Another cook by the three ends: more food, colder, higher, in batches, turned down, and three descriptions of one cook."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from energy.estimates.domain.accounts import accounts
from energy.estimates.domain.circumstances import Circumstances
from energy.estimates.domain.estimating import estimate
from energy.estimates.domain.turning_down import turned_down
from energy.facts import SizeFacts
from energy.heat.balance_facts import CookedAtPower, HeatModel
from energy.heat.climbing import Way, climb_s
from tests.energy.estimates.domain.cooks import facts, stage

HELD = (stage("come_up", 222, 20), stage("hold", 60, 20))


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
    return facts(heat=replace(model, **changes))


def test_as_measured_nothing_changes():
    same, balance = estimate(balanced(), 6)
    assert (same.standing, same.energy_wh, same.uncertainty_wh, balance) == ("measured", 236, 7, None)


def test_twice_the_food_takes_the_pot_once():
    cook = balanced()
    double, balance = estimate(cook, 12)
    model = cook.heat
    assert 236 + model.food_wh < double.energy_wh < 2 * 236
    assert (double.how, balance.k, double.at_least) == ("balance", 2, False)
    assert double.low_wh < double.energy_wh < double.high_wh
    assert sum(one.energy_wh for one in double.stages) == pytest.approx(double.energy_wh)


def test_food_that_was_kept_as_fixed_beyond_all_of_it_never_takes_less():
    cook = balanced(fixed_j_per_k=2100 * 3.9)
    energies = [estimate(cook, servings)[0].energy_wh for servings in (6, 12, 60, 200)]
    assert energies == pytest.approx([236] * 4)
    assert turned_down(cook, 30.0, 350, Circumstances())[0].energy.low > 0


def test_the_stages_add_up_and_heat_at_the_measured_power():
    double, _ = estimate(balanced(), 12)
    before, after = facts().stages, double.stages
    then_w, now_w = (
        sum(one.energy_wh for one in heating) / sum(one.span_s for one in heating) for heating in (before[:2], after[:2])
    )
    assert now_w == pytest.approx(then_w, rel=0.02)
    assert [one.span_s for one in after[2:]] == [one.span_s for one in before[2:]]


def test_a_later_batch_finds_the_pot_hot():
    cook = balanced()
    one, two, cold = (estimate(cook, servings, batches=n)[0] for servings, n in ((6, 1), (12, 2), (18, 3)))
    assert one.energy_wh < two.energy_wh < 2 * one.energy_wh
    assert 3 * one.energy_wh - cold.energy_wh == pytest.approx(2 * (2 * one.energy_wh - two.energy_wh), rel=0.05)
    assert two.ladder[-1][1] == pytest.approx(two.energy_wh)


def test_cold_food_takes_more_and_melting_ice_much_more():
    cook = balanced()
    cold, frost, icy = (estimate(cook, 6, other=Circumstances(food_start_c=start))[0].energy_wh for start in (5, 0, -0.01))
    assert 236 < cold < frost < icy
    melting_wh = 1.5 * 334 / 3.6
    assert 0.9 * melting_wh < icy - frost < 1.5 * melting_wh


def test_under_pressure_the_minutes_grow_with_the_altitude_and_not_with_the_food():
    pressed = balanced(pressure_kpa=70, end_c=115.4)
    high, balance = estimate(pressed, 12, other=Circumstances(altitude_m=1524))
    assert balance.minutes_factor == pytest.approx(1.15, abs=0.001)
    assert high.stages[2].span_s == pytest.approx(480 * balance.minutes_factor)


def test_higher_up_an_open_pot_holds_longer_by_nobody_knows_how_much():
    high, balance = estimate(balanced(), 6, other=Circumstances(altitude_m=2000))
    assert (high.at_least, high.far.code, balance.longer) == (True, "holds_longer", True)
    assert high.stages[2].span_s == 480
    assert (high.cooking_s, high.total_s) == (28 * 60, 38 * 60)
    double, balance = estimate(balanced(), 12, other=Circumstances(altitude_m=2000))
    assert sum(one.span_s for one in double.stages[:2]) == pytest.approx(balance.made.climb.middle)
    low, _ = estimate(balanced(), 12, other=Circumstances(altitude_m=600))
    assert (low.at_least, low.far) == (False, "")


def test_without_a_marked_come_up_it_holds_longer_higher_up_too():
    cook = replace(balanced(until=0, heating_w=800.0), stages=(stage("hold", 236, 28),))
    high, balance = estimate(cook, 6, other=Circumstances(altitude_m=2000))
    assert (high.at_least, high.far.code, balance.longer) == (True, "holds_longer", True)
    assert turned_down(cook, 1.0, 400, Circumstances(altitude_m=2000))[0].energy.high is None
    sealed = replace(cook, heat=replace(cook.heat, pressure_kpa=70, end_c=115.4))
    pressed, balance = estimate(sealed, 6, other=Circumstances(altitude_m=2438))
    longer_s = (balance.minutes_factor - 1) * balance.cook.ends[0].hold_s
    assert longer_s > 120
    assert pressed.total_s - sealed.total_s == pytest.approx(longer_s, abs=60)


def test_where_no_balance_is_known_it_is_plain_proportion_and_says_why():
    plain, balance = estimate(facts(heat=HeatModel(why_not="Dry heat.")), 12)
    assert (balance, plain.how, plain.why, plain.energy_wh) == (None, "proportion", "Dry heat.", 458)


def test_two_measured_sizes_give_the_line_between_them():
    sized = replace(balanced(), sizes=(SizeFacts(3, 150, 6, 1), SizeFacts(6, 236, 7, 3)))
    nine, balance = estimate(sized, 9)
    assert (nine.how, nine.energy_wh) == ("sizes", pytest.approx(322))
    assert nine.uncertainty_wh == pytest.approx((nine.high_wh - nine.low_wh) / 2), "half of the range, as of every estimate"
    assert nine.stages[0].energy_wh > 0
    assert sum(stage.energy_wh for stage in nine.stages) == pytest.approx(322)
    assert balance is not None


def test_the_line_through_sizes_is_less_sure_of_more_food_and_never_below_its_heat():
    sized = replace(balanced(), sizes=(SizeFacts(3, 150, 6, 1), SizeFacts(6, 236, 7, 3)))
    half, twice = (estimate(sized, servings)[0] for servings in (4, 24))
    assert twice.high_wh - twice.energy_wh > 14 * twice.energy_wh / 236
    assert 14 <= half.high_wh - half.energy_wh < 16
    wide = replace(sized, next_high_wh=400.0)
    made, balance = estimate(wide, 12)
    assert (made.how, made.low_wh) == ("sizes", balance.food_now_wh)
    flat = replace(balanced(), sizes=(SizeFacts(3, 230, 6, 1), SizeFacts(6, 236, 7, 3)))
    made, balance = estimate(flat, 12)
    assert (made.how, made.energy_wh > balance.food_now_wh > flat.sizes[1].energy_wh) == ("balance", True)


def test_beyond_the_sizes_no_line_says_that_it_gets_there():
    slow = balanced(until=1)
    slow = replace(slow, stages=(stage("come_up", 700, 300), stage("hold", 140, 60)), energy_wh=840.0, total_s=21_600.0)
    sized = replace(slow, sizes=(SizeFacts(3, 500, 20, 1), SizeFacts(6, 840, 30, 1)))
    made = {servings: estimate(sized, servings) for servings in (5, 12)}
    assert not made[5][1].gets_there
    assert not made[12][1].gets_there
    assert [(one.how, one.at_least) for one, _ in made.values()] == [("sizes", False), ("balance", True)]


def test_an_estimate_never_looks_as_sure_as_a_measurement():
    for servings in (1, 5, 7, 12, 40):
        made, _ = estimate(balanced(), servings)
        assert made.uncertainty_wh / made.energy_wh > 7 / 236


def test_food_that_is_not_in_the_balance_widens_the_range():
    assert estimate(balanced(left_out=("noodles",)), 12)[0].uncertainty_wh > estimate(balanced(), 12)[0].uncertainty_wh


@pytest.mark.parametrize(
    ("code", "other"),
    [
        ("food_start", Circumstances(food_start_c=4)),
        ("air", Circumstances(ambient_c=-5)),
        ("height", Circumstances(altitude_m=900)),
    ],
)
def test_what_was_assumed_widens_the_range_of_another_day(code, other):
    noted, assumed = (replace(balanced(assumed=codes, until=1), stages=HELD) for codes in ((), (code,)))
    assert estimate(assumed, 6, other=other)[0].uncertainty_wh > estimate(noted, 6, other=other)[0].uncertainty_wh


def test_each_account_multiplies_out():
    for other in (Circumstances(), Circumstances(4, -5, 2000), Circumstances(food_start_c=-18)):
        _, balance = estimate(balanced(), 9, other=other)
        made = accounts(balance.cook, balance.asked, balance.made.ends)
        assert made
        for one in made:
            assert (one.taken_wh + one.lost_wh + one.steamed_wh) / one.reaches == pytest.approx(one.heating_wh)
            assert one.steamed_wh >= 0


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
    assert made.low_wh >= servings / 6 * cook.heat.food_wh - 1e-6


@given(st.integers(1, 60), st.integers(1, 5), st.floats(-20, 40), st.floats(0, 5000))
def test_every_figure_is_a_number(servings, batches, cold, height):
    made, balance = estimate(balanced(), servings, batches=batches, other=Circumstances(cold, cold, height))
    assert all(
        math.isfinite(x) and x >= 0 for x in (made.energy_wh, made.uncertainty_wh, made.low_wh, made.high_wh, made.total_s)
    )
    assert made.low_wh <= made.energy_wh <= made.high_wh
    assert all(math.isfinite(part.low_wh) and math.isfinite(part.high_wh) for part in balance.made.parts)


def test_turned_down_it_gets_there_may_not_or_does_not():
    cook = balanced()
    usual = estimate(cook, 12)[0]
    (half,) = turned_down(cook, 2.0, 350, Circumstances())
    assert (half.answer, half.energy.high > usual.high_wh * 0.9) == ("yes", True)
    assert turned_down(cook, 1.0, 90, Circumstances())[0].answer == "may_not"
    assert turned_down(facts(heat=HeatModel(why_not="Dry heat.")), 1.0, 350, Circumstances())[0].answer == "unknown"


def test_a_cook_that_may_not_get_there_is_not_said_to_be_sooner_ready():
    """Ten kilograms in eight hours at 350 W; in the frost no end of it gets there."""
    weak = balanced(until=1, food_j_per_k=10_000 * 3.9)
    weak = replace(weak, energy_wh=2860.0, cooking_s=29_400.0, total_s=29_400.0, ladder=((0, 0), (29_400, 2860)))
    marked = replace(weak, stages=(stage("come_up", 2660, 453), stage("hold", 200, 37)))
    frost = Circumstances(ambient_c=-20)
    for servings, least_s in ((6, 29_400), (12, 29_400), (3, 2220 + 453 * 30)):
        made, balance = estimate(marked, servings, other=frost)
        assert (balance.gets_there, made.at_least) == (False, True)
        assert made.total_s >= least_s
    unmarked = replace(weak, heat=replace(weak.heat, until=0, heating_w=355.0), stages=())
    made, balance = estimate(unmarked, 6, other=frost)
    assert (balance.gets_there, made.total_s >= 29_400) == (False, True)


def test_turned_down_to_between_its_mean_and_its_peak_it_may_be_slower():
    """A cooker that ticks may stay on for longer when it draws less, or be on as long as before: both are in the range."""
    ticking = replace(balanced(), peak_w=1000.0)
    (full,), (capped,) = (turned_down(ticking, 2.0, power_w, Circumstances()) for power_w in (1000, 800))
    assert turned_down(ticking, 2.0, 1200, Circumstances()) == (full,)
    assert capped.climb.low == full.climb.low
    assert capped.climb.high > 1.2 * full.climb.high
    assert capped.energy.high > full.energy.high
    steady = replace(balanced(), peak_w=666.0)
    assert turned_down(steady, 2.0, 700, Circumstances()) == (full,)


def test_turned_down_each_batch_is_told_and_the_later_ones_find_the_pot_hot():
    first, second, third = turned_down(balanced(), 2.0, 350, Circumstances(), batches=3)
    assert second == third
    assert second.energy.middle < first.energy.middle


def test_two_measured_powers_bound_what_lies_between():
    """A pot that loses 1.6 W/K, measured at 900 and at 350 W; at 600 W its own climb lies in a range narrower than from one."""

    def taken(power_w):
        heat_s = climb_s(Way(8550, 20, 20, 99.97, 99.97), 0.9 * power_w, 1.6)
        return power_w * heat_s / 3600, heat_s

    held_wh, held_s = 1.6 * 79.97 / 0.9 * 1200 / 3600, 1200.0
    strong, weak = (CookedAtPower(*taken(power_w), held_wh, held_s, 1) for power_w in (900.0, 350.0))
    alone = replace(
        balanced(until=1), stages=(stage("come_up", strong.heat_wh, strong.heat_s / 60), stage("hold", held_wh, held_s / 60))
    )
    both = replace(alone, heat=replace(alone.heat, powers=(strong, weak)))
    (one,), (two,) = (turned_down(cook, 1.0, 600.0, Circumstances()) for cook in (alone, both))
    true_wh = taken(600.0)[0] + held_wh
    assert two.energy.low < true_wh < two.energy.high
    assert two.energy.high - two.energy.low < 1.02 * (one.energy.high - one.energy.low)
    assert abs(two.energy.middle - true_wh) <= abs(one.energy.middle - true_wh)


def test_three_descriptions_of_one_cook_overlap_and_each_holds_the_truth():
    """The heater brings 0.87 in, the pot loses 1.4 W/K; the cook is described in full, with fields empty, and without marks."""
    food, vessel, reaches, loss, power_w, hold_s = 7800.0, 750.0, 0.87, 1.4, 650.0, 1500.0

    def truth(times, start_c, air_c):
        way = Way(times * food + vessel, start_c, air_c, 99.97, 99.97)
        heat_s = climb_s(way, reaches * power_w, loss)
        return heat_s, power_w * heat_s / 3600, loss * (99.97 - air_c) / reaches * hold_s / 3600

    heat_s, heat_wh, hold_wh = truth(1, 14.0, 21.0)
    stages = (stage("come_up", heat_wh, heat_s / 60), stage("hold", hold_wh, hold_s / 60))
    energy_wh, total_s = heat_wh + hold_wh, heat_s + hold_s
    figures = {"energy_wh": energy_wh, "total_s": total_s, "ladder": ((0, 0), (total_s, energy_wh)), "peak_w": power_w}
    noted = HeatModel(
        until=1, food_j_per_k=food, vessel_j_per_k=vessel, water_g=1500, food_start_c=14, vessel_start_c=14, ambient_c=21,
        end_c=99.97, start_noted=True,
    )  # fmt: skip
    empty = replace(
        noted, food_start_c=12, vessel_start_c=18, ambient_c=18, start_noted=False, assumed=("food_start", "air", "height")
    )
    unmarked = replace(noted, until=0, heating_w=power_w)
    told = [
        facts(heat=noted, stages=stages, **figures),
        facts(heat=empty, stages=stages, **figures),
        facts(heat=unmarked, stages=(stage("hold", energy_wh, total_s / 60),), **figures),
        facts(heat=unmarked, stages=(), **figures),
    ]
    for servings in (3, 9, 15):
        made = [estimate(one, servings)[0] for one in told]
        true_wh = sum(truth(servings / 6, 14.0, 21.0)[1:])
        assert [one.how for one in made] == ["balance"] * 4
        assert all(one.low_wh <= true_wh <= one.high_wh for one in made)
        assert max(one.low_wh for one in made) < min(one.high_wh for one in made)


@given(
    servings=st.integers(1, 120),
    batches=st.integers(1, 5),
    air_c=st.floats(-25, 35),
    altitude_m=st.sampled_from([None, 0.0, 1200.0, 3500.0]),
    until=st.sampled_from([0, 2]),
)
def test_whatever_is_asked_batches_stages_and_ladder_come_to_the_same_total(servings, batches, air_c, altitude_m, until):
    cook = balanced(until=until, heating_w=0.0 if until else 690.0)
    made, balance = estimate(cook, servings, batches=batches, other=Circumstances(None, air_c, altitude_m))
    assert len(made.each_batch) == batches
    assert sum(stage.energy_wh for stage in made.stages) == pytest.approx(made.energy_wh)
    assert sum(stage.span_s for stage in made.stages) == pytest.approx(made.total_s)
    assert made.ladder[-1] == pytest.approx((made.total_s, made.energy_wh))
    assert all(before[0] <= after[0] + 1e-6 and before[1] <= after[1] + 1e-6 for before, after in pairwise(made.ladder))
    assert made.low_wh <= made.energy_wh <= made.high_wh
    if balance is not None:
        assert balance.batches == batches
