"""What a reader asks under a recipe, in sentences."""

from dataclasses import replace
from decimal import Decimal

from energy.domain.answers import beside_another, putting_it_back, turned_down
from energy.domain.meal import meal_energy
from tests.energy.domain.cooks import facts
from tests.energy.domain.test_estimating import balanced


def plain(text):
    return text.replace("\u00a0", " ")


def test_a_panel_gives_three_quarters_of_its_rating():
    kit = {"panel_w": 200.0}
    meal = meal_energy(facts(), 6, kit)
    said = plain(putting_it_back(facts(), meal, kit)[0])
    assert said.startswith("Your 200 W panel puts it back in about 1 h 50 min") or "full sun" in said
    assert "75 %" in said


def test_nothing_is_put_back_where_nothing_is_known():
    assert putting_it_back(facts(), meal_energy(facts(), 6, {}), {}) == ()


def test_turned_down_far_enough_it_never_boils():
    kit = {"inverter_w": 100.0}
    cook = balanced()
    assert "cannot get there" in turned_down(cook, meal_energy(cook, 6, kit), kit)


def test_turned_down_a_little_it_takes_longer():
    kit = {"inverter_w": 600.0}
    cook = balanced()
    assert "comes to the boil in" in turned_down(cook, meal_energy(cook, 6, kit), kit)


def test_without_a_balance_nothing_is_said_of_turning_down():
    kit = {"inverter_w": 600.0}
    assert turned_down(facts(), meal_energy(facts(), 6, kit), kit) == ""
    why = replace(facts(), heat=replace(balanced().heat, why_not="Dry heat."))
    assert "Dry heat." in turned_down(why, meal_energy(why, 6, kit), kit)


def test_a_second_cooker_is_asked_for():
    assert beside_another(facts(), {}) == ""
    assert "make" in beside_another(facts(), {"beside_w": 300.0})


def test_the_sources_own_panel_charger_and_wear_are_told_where_the_reader_has_none():
    sunny = replace(facts().source, panel_w=200.0, charge_w=100.0, wear_per_kwh=Decimal("0.30"))
    cook = replace(facts(), source=sunny)
    said = [plain(words) for words in putting_it_back(cook, meal_energy(cook, 6, {}), {})]
    assert said[0].startswith("Its 200 W panel")
    assert "wear" in said[1]
    assert "0.08" in said[1]
    assert said[2].startswith("Its 100 W charger")
