"""A meal from the socket to the battery, to the wall, to its price; with the reader's own kit."""

from decimal import Decimal
from fractions import Fraction

import pytest

from energy.estimates.domain.drawn import Meals
from energy.estimates.domain.meal import meal_energy
from energy.facts import SourceFacts
from energy.tariffs.domain.prices import electricity_cost
from kitchen.domain.remark import remark
from tests.energy.estimates.domain.cooks import HOOK_UP, facts

BATTERY_WH = 236 / 0.88 + 9 * 38 / 60


def test_from_the_source_it_was_measured_on():
    meal = meal_energy(facts(), 6, {})
    assert (meal.estimate.standing, meal.estimate.energy_wh, meal.per_serving_wh) == ("measured", 236, pytest.approx(236 / 6))
    assert meal.draw.battery_wh.value == pytest.approx(BATTERY_WH)
    assert meal.draw.share_pct.value == pytest.approx(BATTERY_WH / 10.24)
    assert (meal.draw.meals.fewest, meal.draw.meals.most) == (3, 3)
    assert meal.draw.wall_wh.value == pytest.approx(BATTERY_WH / 0.9)
    assert (meal.draw.supply.verdict.word, round(meal.draw.supply.verdict.share_pct)) == ("runs", 69)


def test_the_price_is_exact():
    meal = meal_energy(facts(source=HOOK_UP, energy_wh=213.0), 6, {"price_per_kwh": Decimal("0.20")})
    assert (meal.price_per_kwh, electricity_cost(meal.draw.wall_wh.value, meal.price_per_kwh)) == (
        Fraction("0.20"),
        Fraction("0.0426"),
    )


def test_the_readers_price_wins_and_zero_is_a_price():
    assert meal_energy(facts(), 6, {"price_per_kwh": Decimal(0)}).price_per_kwh == 0
    assert meal_energy(facts(), 6, {"price_per_kwh": None}).price_per_kwh == Fraction("0.31")


def test_no_price_is_no_cost_and_not_zero():
    meal = meal_energy(facts(tariff=None), 6, {}, currency="CHF")
    assert (meal.price_per_kwh, meal.currency) == (None, "CHF")


def test_a_hook_up_has_no_battery():
    meal = meal_energy(facts(source=HOOK_UP), 6, {})
    assert (meal.draw.battery_wh, meal.draw.share_pct, meal.draw.meals, meal.draw.wall_wh.value) == (None, None, None, 236)
    assert meal.draw.supply.verdict.share_pct == pytest.approx(50)


def test_the_readers_own_battery_is_assumed_in_words():
    meal = meal_energy(facts(), 6, {"battery_wh": 512, "inverter_w": 600})
    own_wh = 236 / 0.88 + 10 * 38 / 60
    assert (meal.draw.supply.own, meal.draw.supply.name) == (True, remark("your_battery"))
    assert meal.draw.battery_wh.value == pytest.approx(own_wh)
    assert meal.draw.share_pct.value == pytest.approx(own_wh / 5.12)
    assert (meal.draw.meals.fewest, meal.draw.meals.most) == (1, 1)
    assert meal.draw.supply.verdict.word == "no"
    assumed = meal.draw.supply.notes[-1]
    assert (assumed.code, assumed.values["inverter_pct"], assumed.values["idle_w"]) == ("your_battery_assumed", 88, 10)


def test_an_own_battery_without_an_inverter_gives_no_verdict():
    assert meal_energy(facts(), 6, {"battery_wh": 512}).draw.supply.verdict.word == "unknown"


def test_an_own_inverter_alone_is_judged_on_the_measured_source():
    meal = meal_energy(facts(), 6, {"inverter_w": 700})
    assert (meal.draw.supply.own, meal.draw.supply.capacity_wh, meal.draw.supply.verdict.word) == (False, 1024, "tight")


@pytest.mark.parametrize("kit", [{"battery_wh": 0}, {"battery_wh": None, "inverter_w": ""}, {"battery_wh": -5}])
def test_nothing_given_is_nothing_changed(kit):
    assert meal_energy(facts(), 6, kit) == meal_energy(facts(), 6, {})


def test_an_unseen_peak_is_judged_by_the_rated_power():
    meal = meal_energy(facts(peak_w=672.0, peak_seen=False), 6, {})
    assert meal.facts.peak_w == 672
    assert (meal.draw.supply.verdict.word, meal.draw.supply.verdict.share_pct) == ("tight", 100)
    assert meal.draw.supply.notes[0] == remark("rating_for_peak", rated_w=1000)


def test_too_small_a_battery_cooks_no_whole_meal():
    meal = meal_energy(facts(), 6, {"battery_wh": 200})
    assert meal.draw.share_pct.low > 100
    assert (meal.draw.meals.fewest, meal.draw.meals.most) == (0, 0)


def test_an_estimate_takes_the_whole_road():
    meal = meal_energy(facts(), 12, {})
    assert (meal.estimate.standing, meal.estimate.energy_wh, meal.facts.peak_w) == ("estimated", 458, 690)
    assert meal.draw.battery_wh.value == pytest.approx(458 / 0.88 + 9 * 58 / 60)
    assert meal.estimate.how == "proportion"


def test_a_source_without_a_rating_gives_no_verdict():
    meal = meal_energy(facts(source=SourceFacts("a wall", "mains")), 6, {})
    assert meal.draw.supply.verdict.word == "unknown"
    assert meal.draw.supply.verdict.name == "a wall"


def test_the_uncertainty_says_which_numbers_of_meals_are_open():
    sure = meal_energy(facts(), 6, {})
    assert sure.draw.meals == Meals(3, 3)
    unsure = meal_energy(facts(uncertainty_wh=60.0), 6, {})
    assert unsure.draw.meals == Meals(2, 4)


def test_a_readers_price_is_in_the_pages_currency():
    own = {"price_per_kwh": Decimal("0.20")}
    assert meal_energy(facts(), 6, own, currency="USD").currency == "USD"
    assert meal_energy(facts(), 6, own).currency == "EUR"
    assert meal_energy(facts(), 6, {}, currency="USD").currency == "EUR"
